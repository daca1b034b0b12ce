"""Weighted least squares under conservation laws, for any model of readings.

The laws are built into the model: it says what every reading would show for a state that obeys them, so the state that
fits the readings best is the reconciled one. For a linear model this is the classical data reconciliation (Kuehn &
Davidson 1961; VDI 2048 part 1; Narasimhan & Jordache 2000): the same adjustments, variances, global test and
measurement test. A nonlinear model is brought there by Gauss-Newton steps.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from journal.numerics.arrays import Matrix, Vector
from journal.numerics.slopes import jacobian

#: A reading whose adjustment has less than this share of the reading's own variance is bound by nothing else.
LEAST_REDUNDANCY = 1e-9
#: A reading that is to have no weight is given this many times its uncertainty.
ZERO_WEIGHT = 1e4
_MOST_STEPS = 25
_SETTLED = 1e-9


class Freed(NamedTuple):
    """What one thing would have to be if it were free, with its standard deviation, and the sum of squares that would be left."""

    value: float
    sd: float
    chi_square: float


@dataclass(frozen=True)
class Fit:
    """The reconciled state, and how the readings stand to it.

    `state`, n, and `covariance`, n × n, of the unknowns; of the m readings, a value each, `sd` as they claim, `predicted`,
    `residuals` (recorded less reconciled), `redundancy` (0: nothing else speaks of it, 1: everything else together knows it
    exactly) and `measurement_test` (its statistic: adjustment over its standard deviation; 0 where nothing is
    redundant); `slopes`, m × n: derivatives of the readings by the unknowns. `chi_square` is the sum of squared residuals
    over their standard deviations.
    """

    state: Vector
    covariance: Matrix
    sd: Vector
    predicted: Vector
    slopes: Matrix
    residuals: Vector
    redundancy: Vector
    measurement_test: Vector
    chi_square: float
    degrees_of_freedom: int

    def without(self, row: int) -> Freed | None:
        """One reading left out: what it would have to show, in closed form; None where nothing else speaks of it.

        Leaving a reading out lessens the information by a matrix of rank one, so that the inverse need not be taken again
        (J. Sherman & W. J. Morrison, Ann. Math. Stat. 21 (1950) 124). Exact where the model is straight from here to there.
        """
        redundancy = float(self.redundancy[row])
        if redundancy <= LEAST_REDUNDANCY:
            return None
        residual, sd = float(self.residuals[row]), float(self.sd[row])
        value = float(self.predicted[row]) + residual - residual / redundancy
        left = self.chi_square - (residual / sd) ** 2 / redundancy
        return Freed(value, sd * ((1.0 - redundancy) / redundancy) ** 0.5, max(left, 0.0))

    def with_unknown(self, column: Vector) -> Freed | None:
        """One more unknown that moves the m readings by `column`, m, and is 0 here: what it would be; None where nothing says.

        In closed form, by the inverse of a bordered matrix; exact where the model is straight from here to there.
        """
        scaled = column / self.sd
        own = self._unexplained(scaled)
        information = float(scaled @ own)
        if information <= LEAST_REDUNDANCY * float(scaled @ scaled):
            return None
        pull = float(own @ (self.residuals / self.sd))
        left = self.chi_square - pull**2 / information
        return Freed(pull / information, information**-0.5, max(left, 0.0))

    def chi_square_of(self, residuals: Vector) -> float:
        """The sum of squares that other residuals, m, would leave once the unknowns have taken their part of them."""
        scaled = residuals / self.sd
        return float(scaled @ self._unexplained(scaled))

    def _unexplained(self, scaled: Vector) -> Vector:
        """What of m scaled readings no state explains."""
        slopes = self.slopes / self.sd[:, None]
        unexplained: Vector = scaled - slopes @ (self.covariance @ (slopes.T @ scaled))
        return unexplained


class NoSolution(Exception):  # noqa: N818  # an outcome, said as such to the caller
    """The readings are so far apart that no state could be found."""


def fit(predict: Callable[[Vector], Vector], start: Vector, recorded: Vector, sd: Vector) -> Fit:
    """The state that readings (values and standard uncertainties, all above 0) support best.

    `predict` maps n unknowns to what the m readings would show, and n × k to m × k; m ≥ n, and the unknowns must be determined, by wide
    expectations if by nothing else. Raises NoSolution where the steps lead nowhere.
    """
    try:
        return _iterate(predict, start.astype(float), recorded, sd)
    except (ArithmeticError, ValueError) as error:
        raise NoSolution("the readings are of no wort that there could be") from error


def _iterate(predict: Callable[[Vector], Vector], state: Vector, recorded: Vector, sd: Vector) -> Fit:
    shown = predict(state)
    best = float(np.sum(((recorded - shown) / sd) ** 2))
    for _ in range(_MOST_STEPS):
        slopes = jacobian(predict, state)
        scaled = slopes / sd[:, None]
        step = np.linalg.lstsq(scaled, (recorded - shown) / sd, rcond=None)[0]
        state, shown, now = _halve_step(predict, state, step, recorded, sd, best)
        settled = best - now <= _SETTLED * (1.0 + now)
        best = now
        if settled:
            break
    return _describe(predict, state, shown, recorded, sd)


def _halve_step(
    predict: Callable[[Vector], Vector], state: Vector, step: Vector, recorded: Vector, sd: Vector, before: float
) -> tuple[Vector, Vector, float]:
    """The state after a step, halved until it betters the fit; the old state where no step does."""
    for _ in range(12):
        try:
            moved = state + step
            shown = predict(moved)
            chi_square = float(np.sum(((recorded - shown) / sd) ** 2))
            if np.isfinite(chi_square) and chi_square <= before * (1 + 1e-12):
                return moved, shown, chi_square
        except (ArithmeticError, ValueError):
            pass
        step = step / 2
    return state, predict(state), before


def _describe(predict: Callable[[Vector], Vector], state: Vector, shown: Vector, recorded: Vector, sd: Vector) -> Fit:
    slopes = jacobian(predict, state)
    scaled = slopes / sd[:, None]
    try:
        covariance = np.linalg.inv(scaled.T @ scaled)
    except np.linalg.LinAlgError as error:
        raise NoSolution("the unknowns are not determined") from error
    if not np.all(np.isfinite(covariance)):
        raise NoSolution("the unknowns are not determined")
    residuals = recorded - shown
    redundancy = np.clip(1.0 - np.sum((scaled @ covariance) * scaled, axis=1), 0.0, 1.0)
    bound = redundancy > LEAST_REDUNDANCY
    tests = np.zeros(len(sd))
    tests[bound] = np.abs(residuals[bound]) / (sd[bound] * np.sqrt(redundancy[bound]))
    chi_square = float(np.sum((residuals / sd) ** 2))
    return Fit(
        state, covariance, sd, shown, slopes, residuals, redundancy, tests, chi_square, len(recorded) - len(state)
    )

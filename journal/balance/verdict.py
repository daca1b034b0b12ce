"""The verdict on one batch: does its balance close, and which readings are pulled how far."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np

from journal.balance.model import Solution
from journal.numerics import variances
from journal.numerics.distributions import chi_square_tail, ndtri

#: The global test rejects at this level; a balance between the two is strained.
BROKEN_AT = 0.01
STRAINED_AT = 0.05
#: A reading that the rest knows less than this share about is not checked by it.
CHECKED_FROM = 0.05
#: Suspects whose removal leaves sums of squares closer than this can't be told apart (one and a half to one, at best).
TOLD_APART = 2.0

CLOSES, STRAINED, BROKEN, TOO_FEW = "closes", "strained", "broken", "too few readings"


class Balanced(NamedTuple):
    """One reading after reconciliation.

    Recorded and balanced value, the latter's sd, the measurement test's statistic, and how far the rest checks it.
    `adjusted` is that statistic in the balance that `balanced` comes of: where the one suspect is left out, only what still
    doesn't fit is above the limit. The suspect keeps that of the whole balance.
    """

    path: str
    recorded: float
    balanced: float
    sd: float
    measurement_test: float
    redundancy: float
    adjusted: float


class Suspect(NamedTuple):
    """A reading, or something `expected` of the brewhouse, that is left out to restore the balance.

    `path` or `expected` names it; `needed` is what it would have had to be, with `needed_sd`, and `chi_square` the sum of
    squares that is left. `recorded_sd` is the standard uncertainty that it claims.
    """

    path: str
    expected: str
    recorded: float
    recorded_sd: float
    needed: float
    needed_sd: float
    chi_square: float

    @property
    def away_sd(self) -> float:
        """Standard deviation of the difference between what such a reading shows and what the rest needs."""
        return float(np.hypot(self.needed_sd, self.recorded_sd))


@dataclass(frozen=True)
class Verdict:
    """The balance of one batch: status, the global test, every reading, suspects likeliest first.

    `p_value` is the chance of a `chi_square` as large with its degrees of freedom, were every reading as good as it claims.

    `alike` says how many suspects, from the first, can't be told apart. `changed` is set where the readings agree once
    one thing expected of the brewhouse is given up: then it may have changed, nobody is accused, and the balance is
    strained. `measurement_test_limit` is the Šidák limit of the measurement test.
    """

    status: str
    chi_square: float
    degrees_of_freedom: int
    p_value: float
    readings: tuple[Balanced, ...]
    suspects: tuple[Suspect, ...]
    alike: int
    measurement_test_limit: float
    changed: Suspect | None = None


def measurement_test_limit(readings: int, alpha: float = BROKEN_AT) -> float:
    """The Šidák limit of the measurement test for a number of readings (two-sided, level `alpha` for all together)."""
    each = 1.0 - (1.0 - alpha) ** (1.0 / max(readings, 1))
    return ndtri(1.0 - each / 2.0)


def p_value(chi_square: float, degrees_of_freedom: int) -> float:
    """The chance of a sum of squares as large, were every reading as good as it claims."""
    return chi_square_tail(degrees_of_freedom, chi_square) if degrees_of_freedom > 0 else 1.0


#: Nothing that anything else checks.
NO_VERDICT = Verdict(TOO_FEW, 0.0, 0, 1.0, (), (), 0, 0.0)


def balanced_readings(whole: Solution, best: Solution, accused: str = "") -> tuple[Balanced, ...]:
    """Every reading.

    Its measurement test in the `whole` balance, its value in the `best` one (the whole, or that without what is `accused`).
    """
    sds = np.sqrt(variances(best.fit.slopes, best.fit.covariance))
    fit = whole.fit
    left = best.fit.measurement_test
    rows = zip(whole.model.equations, best.fit.predicted, sds, fit.measurement_test, left, fit.redundancy, strict=True)
    return tuple(
        Balanced(
            equation.path,
            equation.recorded,
            float(value),
            float(sd),
            float(test),
            float(redundancy),
            float(test if equation.path == accused else now),
        )
        for equation, value, sd, test, now, redundancy in rows
        if equation.path
    )


def judge(whole: Solution) -> Verdict:
    """The verdict by the global test, before anybody is accused."""
    fit = whole.fit
    of_readings = np.array([bool(equation.path) for equation in whole.model.equations])
    if np.all(fit.redundancy[of_readings] < CHECKED_FROM):
        return NO_VERDICT
    p = p_value(fit.chi_square, fit.degrees_of_freedom)
    status = BROKEN if p < BROKEN_AT else STRAINED if p < STRAINED_AT else CLOSES
    readings = balanced_readings(whole, whole)
    limit = measurement_test_limit(len(readings))
    return Verdict(status, fit.chi_square, fit.degrees_of_freedom, p, readings, (), 0, limit)


def accuse(verdict: Verdict, whole: Solution, suspects: tuple[Suspect, ...], best: Solution) -> Verdict:
    """A broken balance with its suspects; the readings as the `best` balance has them, that without the one that is clear."""
    return replace(
        verdict,
        readings=balanced_readings(whole, best, suspects[0].path if suspects else ""),
        suspects=suspects,
        alike=count_alike(suspects),
    )


def count_alike(suspects: tuple[Suspect, ...]) -> int:
    """How many suspects, from the first, can't be told apart."""
    return sum(suspect.chi_square < suspects[0].chi_square + TOLD_APART for suspect in suspects)


def take_as_change(verdict: Verdict, whole: Solution, changed: Suspect, without: Solution) -> Verdict:
    """A broken balance taken for a brewhouse that has changed: strained, no reading accused, and `without` what was expected."""
    readings = balanced_readings(whole, without)
    return replace(verdict, status=STRAINED, readings=readings, alike=0, changed=changed)

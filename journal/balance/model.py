"""One batch as a model of its readings, and the model solved.

A `BalanceModel` holds plain values: unknowns, what holds exactly, and an equation for each thing that is stated. What an equation
shows is a quantity by its name (`quantities.py`). `Solution` is the one place where a batch's equations stand beside the state
that fits them, residuals, slopes and covariance; whatever is asked of a balance later is read off it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any, NamedTuple

import numpy as np

from journal.balance.quantities import QUANTITIES, quantity_of
from journal.balance.vessels import BrewState, Facts, vessels
from journal.numerics import Matrix, Vector, jacobian, stacked
from journal.numerics.least_squares import ZERO_WEIGHT, Fit, fit

#: The unknown that only a mash that was recorded has: how much water the grain held.
_OF_THE_MASH = "water_held"
_ROWS = {name: row for row, name in enumerate(QUANTITIES)}


class Equation(NamedTuple):
    """One thing that is stated: of a quantity, `shows` by name, a value with its standard deviation.

    Somebody read it, and it stands in the entry at `path`; or it was to be expected, and `expected` is its name, mostly one
    of `Priors`; the other of the two is empty. `shared` are the errors that it shares with other readings: unknowns by name,
    in standard deviations, with what one of each makes of this reading. `recorded`, `sd` (its own, the shared ones apart) and
    those in the unit of the quantity.
    """

    path: str
    expected: str
    shows: str
    recorded: float
    sd: float
    shared: tuple[tuple[str, float], ...] = ()


@dataclass(frozen=True)
class BalanceModel:
    """n unknowns by name with a start value, m equations in order.

    `constants` are what holds exactly: a sparge that was none, sugars that nobody added.
    """

    unknowns: tuple[str, ...]
    start: Vector
    constants: dict[str, float]
    equations: tuple[Equation, ...]
    facts: Facts

    @property
    def mashed(self) -> bool:
        """Whether it begins with the mash; else the kettle stands alone."""
        return _OF_THE_MASH in self.unknowns

    def named(self, values: Vector) -> dict[str, float]:
        """Unknowns and constants by name; of k states, n × k, every unknown is an array of k."""
        by_name: dict[str, Any] = dict(zip(self.unknowns, values.tolist() if values.ndim == 1 else values, strict=True))
        return self.constants | by_name

    def at(self, values: Vector) -> tuple[dict[str, float], BrewState]:
        """Unknowns by name and vessels, for n unknowns or n × k."""
        u = self.named(values)
        return u, vessels(u, self.facts)

    def predict(self, values: Vector) -> Vector:
        """What each of the m equations would show for given unknowns: m, or of n × k unknowns m × k."""
        u, state = self.at(values)
        shown = []
        for equation in self.equations:
            value = quantity_of(equation.shows)(u, state)
            for name, part in equation.shared:
                value = value + part * u[name]
            shown.append(value)
        return _stack(shown, values)

    def values_of(self, names: Iterable[str], values: Vector) -> Vector:
        """Quantities by name for given unknowns: one each, or of n × k unknowns a row of k each."""
        u, state = self.at(values)
        return _stack([quantity_of(name)(u, state) for name in names], values)

    def with_zero_weight(self, row: int) -> BalanceModel:
        """The same with one equation that counts for nothing: the solution says what it would have shown."""
        equations = list(self.equations)
        equations[row] = equations[row]._replace(sd=equations[row].sd * ZERO_WEIGHT)
        return replace(self, equations=tuple(equations))

    def with_unknown(self, name: str, start: float, path: str, sd: float) -> BalanceModel:
        """The same with a constant that is one no more, stated as `start` at `path` with an `sd`."""
        return replace(
            self,
            unknowns=(*self.unknowns, name),
            start=np.append(self.start, start),
            constants={other: value for other, value in self.constants.items() if other != name},
            equations=(*self.equations, Equation(path, "", name, 0.0, sd)),
        )

    def slopes_by_constant(self, name: str, values: Vector) -> Vector:
        """How what the m equations show moves with something that is taken to be exact, n unknowns as they are."""
        exact = self.constants[name]

        def predict(moved: Vector) -> Vector:
            states = np.repeat(values[:, None], moved.shape[1], axis=1)
            return replace(self, constants=self.constants | {name: moved[0]}).predict(states)

        slopes: Vector = jacobian(predict, np.array([exact]))[:, 0]
        return slopes


def _stack(rows: Sequence[Any], values: Vector) -> Vector:
    """Numbers, or of n × k unknowns rows of k numbers; what hangs on no unknown is the same in every column."""
    return np.array(rows) if values.ndim == 1 else stacked(rows, values.shape[1])


@dataclass(frozen=True)
class Solution:
    """A model with the state that fits it best: `fit` has the equations' residuals, slopes and the covariance of the unknowns."""

    model: BalanceModel
    fit: Fit

    @cached_property
    def rises(self) -> Matrix:
        """Derivatives of the q QUANTITIES by the n unknowns, q × n."""
        return jacobian(lambda states: self.model.values_of(QUANTITIES, states), self.fit.state)

    def values(self, names: Iterable[str]) -> Vector:
        """Quantities by name."""
        return self.model.values_of(names, self.fit.state)

    @property
    def brew_size(self) -> float:
        """How much the full kettle held, L: what goes by the size of the brew goes by that."""
        return float(self.values(["kettle_volume"])[0])

    def slopes(self, names: Iterable[str]) -> Matrix:
        """Derivatives of q quantities by name by the n unknowns, q × n."""
        unknown = np.eye(len(self.model.unknowns))
        nothing = np.zeros(len(self.model.unknowns))
        rows = []
        for name in names:
            if name in _ROWS:
                rows.append(self.rises[_ROWS[name]])
            else:
                rows.append(unknown[self.model.unknowns.index(name)] if name in self.model.unknowns else nothing)
        return np.array(rows).reshape(len(rows), len(nothing))

    def row(self, *, path: str = "", expected: str = "") -> int | None:
        """The place of the equation of a reading or of an expectation; None where there is none."""
        rows = (i for i, e in enumerate(self.model.equations) if (e.path, e.expected) == (path, expected))
        return next(rows, None)


def solve(model: BalanceModel, start: Vector | None = None) -> Solution:
    """The state that fits a model best, sought from a `start`, n, that is near it if one is known.

    Raises NoSolution where there is none.
    """
    recorded = np.array([equation.recorded for equation in model.equations])
    sd = np.array([equation.sd for equation in model.equations])
    return Solution(model, fit(model.predict, model.start if start is None else start, recorded, sd))

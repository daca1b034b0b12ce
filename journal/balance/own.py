"""What one batch says by itself, without what its brewhouse led to expect: the numbers that a record is made of.

A reconciled value leans on what its brewhouse led to expect on that day, and so would hide a change from those who look for
one, or make one where the past was still being learnt. Here conversion and lautering are set free, and everything else is
expected as the record has it on the whole, the same for every batch; the balance is worked out once more, in one linear step
from where it stood. Everything is reckoned by the malt's sheet; the sheet's own error is left out of the uncertainties, for
all batches of one lot share it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from journal.balance.foresee import quantities
from journal.balance.model import Equation, Facts, Model, Quantity, looked_at, named, rinsed, vessels, water_in_mash
from journal.balance.priors import Priors, by_size
from journal.figures import BatchFigures
from journal.numerics import Estimate, Matrix, Vector, jacobian, variances
from journal.numerics.least_squares import Fit

#: An expectation set free: so wide, in its own unit, that it says nothing.
_FREE = 5.0
#: A value vaguer than this tells a record nothing.
_VAGUE = 0.06


@dataclass(frozen=True)
class OwnEstimates:
    """One batch's own values by figure, each with the uncertainty that is its own; and what explains part of them.

    `bed` is the lauter efficiency of a well-mixed bed for this grist and these volumes, `knockout_volume` L at 20 °C.
    """

    values: dict[str, Estimate]
    bed: float
    knockout_volume: float


@dataclass(frozen=True)
class LinearBalance:
    """A balance as plain numbers: what it takes to work it out again with other expectations.

    `potential` is the grist's by the sheet, kg; `recorded` names the figures that the entry's readings gave; `rises` are the
    derivatives of `quantities` by the unknowns, a row a quantity.
    """

    unknowns: tuple[str, ...]
    constants: dict[str, float]
    facts: Facts
    equations: tuple[Equation, ...]
    slopes: Matrix
    predicted: Vector
    state: Vector
    potential: float
    recorded: frozenset[str]
    rises: Matrix

    def named(self, values: Vector) -> dict[str, float]:
        """Unknowns and constants by name; of several states, a column each, every unknown is an array."""
        return named(self.constants, self.unknowns, values)


def linear_balance(model: Model, at: Fit, recorded: BatchFigures) -> LinearBalance | None:
    """What is kept of a balance; None where the mash was not recorded."""
    if "water_held" not in model.unknowns:
        return None
    potential = recorded["potential_extract"].value
    looks = quantities(potential)
    rises = jacobian(lambda states: _values(model, states, looks), at.state)
    return LinearBalance(
        model.unknowns,
        model.constants,
        model.facts,
        model.equations,
        at.slopes,
        at.predicted,
        at.state,
        potential,
        frozenset(recorded.results),
        rises,
    )


def _values(of: Model | LinearBalance, state: Vector, looks: Mapping[str, Quantity]) -> Vector:
    return looked_at(looks.values(), of.named(state), of.facts, state)


def _expected_anew(at: LinearBalance, usual: Priors, free: frozenset[str]) -> tuple[Vector, Matrix]:
    """State, n, and covariance, n × n, with the expectations of `usual` for its own, those in `free` saying nothing: one linear step."""
    recorded = np.array([equation.recorded for equation in at.equations])
    sd = np.array([equation.sd for equation in at.equations])
    for index, equation in enumerate(at.equations):
        name = equation.path.removeprefix("expected ")
        expected = getattr(usual, name, None) if equation.expectation else None
        if name in free and equation.expectation:
            sd[index] = max(_FREE, sd[index])
        elif expected is not None:
            recorded[index], sd[index] = expected.mean, expected.sd
    scaled = at.slopes / sd[:, None]
    covariance: Matrix = np.linalg.inv(scaled.T @ scaled)
    return at.state + covariance @ scaled.T @ ((recorded - at.predicted) / sd), covariance


def own_estimates(at: LinearBalance, usual: Priors) -> OwnEstimates:
    """What a balanced batch says by itself; `usual` is what is expected of any batch of the brewhouse."""
    looks = quantities(at.potential)
    usual = by_size(usual, vessels(at.named(at.state), at.facts).kettle.volume)
    freed, covariance = _expected_anew(at, usual, frozenset({"conversion", "shortfall", "boil_off", "kettle_loss"}))
    values, doubts = _values(at, freed, looks), variances(at.rises, covariance)
    # conversion can rest on the kettle too, as far as beds are alike
    leaning, leaning_covariance = _expected_anew(at, usual, frozenset({"conversion"}))
    said = {}
    for index, name in enumerate(looks):
        value, variance = values[index], doubts[index]
        if name == "conversion_efficiency":
            value = looks[name](at.named(leaning), vessels(at.named(leaning), at.facts))
            variance = at.rises[index] @ leaning_covariance @ at.rises[index]
        if name not in at.recorded and name not in {"conversion_efficiency", "mash_efficiency"}:
            continue
        if not name.endswith("efficiency") or variance**0.5 < _VAGUE:
            said[name] = Estimate(float(value), float(variance**0.5))
    by_name = at.named(freed)
    state = vessels(by_name, at.facts)
    behind = rinsed(1.0, state.left_water, *water_in_mash(by_name, at.facts), at.facts.run_offs)
    return OwnEstimates(said, 1.0 - behind, state.knockout.volume)

"""What was to be expected of a batch on the eve of brewing: the same model without its readings.

For this grist and these volumes, and what the brewhouse did before. Efficiencies are reckoned by the malt's sheet, for so were the
earlier ones: a sheet that is wrong is wrong for both. The interval is for the value that the pages will show beside it. A
reconciled value leans on the expectation by as much as its readings are vague, so it strays less than the truth does: by the
difference of the variances before and after the readings. A value as recorded strays by the reading's own error besides.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from journal.balance.equations import IN_VESSELS, build_model, look_of
from journal.balance.model import Model, Quantity, State
from journal.balance.priors import Priors
from journal.balance.verdict import solve
from journal.figures import BatchFigures
from journal.numerics import Vector, jacobian, variances
from journal.numerics.distributions import stdtrit
from journal.numerics.least_squares import Fit, NoSolution
from journal.reading import Batch
from journal.reading.known_readings import AT_STATIONS

LEVEL = 0.90
#: What is measured on the day, and so not known on its eve.
_ON_THE_DAY = frozenset(reading.path for reading in AT_STATIONS)
#: A reconciled value is never taken to stray by less than this share of what the truth does.
_LEAST_STRAYING = 0.3
#: Degrees of freedom beyond the batches learnt from: common practice counts for a few of them.
_COMMON_PRACTICE_COUNTS = 4


def _efficiency(u: dict[str, float], s: State, sheet: float) -> float:
    sugar = u["kettle_sugar"] * s.fermenter_share + u["fermenter_sugar"]
    return (s.fermenter.extract - sugar) / sheet


def quantities(sheet: float) -> dict[str, Quantity]:
    """What a state of the model comes to, by figure; efficiencies by the sheet's potential extract, kg."""
    return {
        "conversion_efficiency": lambda u, s: s.dissolved / sheet,
        "lauter_efficiency": lambda u, s: s.kettle.extract / s.dissolved,
        "mash_efficiency": lambda u, s: s.kettle.extract / sheet,
        "brewhouse_efficiency": lambda u, s: _efficiency(u, s, sheet),
        "boil_off": lambda u, s: u["boil_off"],
        **{reading.figure: look_of(reading) for reading in IN_VESSELS},
    }


class Foreseen(NamedTuple):
    """A figure as it was to be expected: `value`; `low` to `high` at LEVEL for the value shown; `sd` of the truth.

    `batches` is how many earlier batches of the brewhouse stand behind it.
    """

    value: float
    low: float
    high: float
    sd: float
    batches: int


def _values_and_variances(
    model: Model, state_at: Vector, covariance: Vector, looks: dict[str, Quantity]
) -> tuple[Vector, Vector]:
    """Quantities at a state, and their variances by its covariance."""
    slopes = jacobian(lambda states: model.values_of(looks.values(), states), state_at)
    return model.values_of(looks.values(), state_at), variances(slopes, covariance)


def foresee(
    batch: Batch, recorded: BatchFigures, priors: Priors, after: tuple[Model, Fit] | None
) -> dict[str, Foreseen]:
    """What was to be expected, by figure; nothing where grist or liquor is not known.

    `after` is the batch's own balance where it holds; without it the interval is for the values as recorded.
    """
    model = build_model(batch, recorded, priors, without=_ON_THE_DAY)
    if model is None or "water_held" not in model.unknowns:
        return {}
    looks = quantities(recorded["potential_extract"].value)
    try:
        ahead = solve(model)
        values, before = _values_and_variances(model, ahead.state, ahead.covariance, looks)
    except (NoSolution, ArithmeticError, ValueError):
        # a grist and liquor that make no wort at all
        return {}
    if after is not None and "water_held" in after[0].unknowns:
        left = _values_and_variances(after[0], after[1].state, after[1].covariance, looks)[1]
        straying = np.maximum(before - left, _LEAST_STRAYING**2 * before)
    else:
        errors = [recorded.results[name].sd if name in recorded.results else 0.0 for name in looks]
        straying = before + np.square(errors)
    batches = priors.conversion.batches
    reach = float(stdtrit(batches + _COMMON_PRACTICE_COUNTS, (1 + LEVEL) / 2))
    return {
        name: Foreseen(value, value - reach * spread, value + reach * spread, sd, batches)
        for name, value, spread, sd in zip(
            looks, values.tolist(), np.sqrt(straying).tolist(), np.sqrt(before).tolist(), strict=True
        )
    }

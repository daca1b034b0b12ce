"""What was to be expected of a batch on the eve of brewing: the same model without its readings.

For this grist and these volumes, and what the brewhouse did before. Efficiencies are reckoned by the malt's sheet, for so were the
earlier ones: a sheet that is wrong is wrong for both. The interval is for the value that the pages will show beside it. A
reconciled value leans on the expectation by as much as its readings are vague, so it strays less than the truth does: by the
difference of the variances before and after the readings. A value as recorded strays by the reading's own error besides.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from journal.balance.equations import IN_VESSELS, build_model
from journal.balance.model import Solution, solve
from journal.balance.priors import Priors
from journal.figures import BatchFigures
from journal.numerics import coverage_factor, variances
from journal.numerics.least_squares import NoSolution
from journal.reading import Batch
from journal.reading.known_readings import AT_STATIONS

#: What is measured on the day, and so not known on its eve.
ON_THE_DAY = frozenset(reading.path for reading in AT_STATIONS)
#: A reconciled value is never taken to stray by less than this share of what the truth does.
_LEAST_STRAYING = 0.3
#: Degrees of freedom beyond the batches learnt from: common practice counts for a few of them.
_COMMON_PRACTICE_COUNTS = 4


#: What is foreseen, by figure; efficiencies by the sheet's potential extract.
FORESEEN = (
    "conversion_efficiency",
    "lauter_efficiency",
    "mash_efficiency",
    "brewhouse_efficiency",
    "boil_off",
    *(reading.figure for reading in IN_VESSELS),
)


class Foreseen(NamedTuple):
    """A figure as it was to be expected: `value`; `low` to `high` at LEVEL for the value shown; `sd` of the truth.

    `batches` is how many earlier batches of the brewhouse stand behind it.
    """

    value: float
    low: float
    high: float
    sd: float
    batches: int


def solve_ahead(batch: Batch, recorded: BatchFigures, priors: Priors) -> Solution | None:
    """The batch as it was to be expected, without the day's readings; None where grist or liquor is not known, or make no
    wort.
    """
    model = build_model(batch, recorded, priors, without=ON_THE_DAY)
    if model is None or not model.mashed:
        return None
    try:
        ahead = solve(model)
        # a grist and liquor that make no wort at all have no slopes
        _ = ahead.rises
    except (NoSolution, ArithmeticError, ValueError):
        return None
    return ahead


def coverage_factor_of(priors: Priors) -> float:
    """How many standard deviations an interval at LEVEL reaches to each side, by what the expectations rest on."""
    return coverage_factor(priors.conversion.batches + _COMMON_PRACTICE_COUNTS)


def foresee(batch: Batch, recorded: BatchFigures, priors: Priors, after: Solution | None = None) -> dict[str, Foreseen]:
    """What was to be expected, by figure; nothing where grist or liquor is not known.

    `after` is the batch's own balance where it holds; without it the interval is for the values as recorded.
    """
    ahead = solve_ahead(batch, recorded, priors)
    if ahead is None:
        return {}
    values, before = ahead.values(FORESEEN), variances(ahead.slopes(FORESEEN), ahead.fit.covariance)
    if after is not None and after.model.mashed:
        left = variances(after.slopes(FORESEEN), after.fit.covariance)
        straying = np.maximum(before - left, _LEAST_STRAYING**2 * before)
    else:
        errors = [recorded.results[name].sd if name in recorded.results else 0.0 for name in FORESEEN]
        straying = before + np.square(errors)
    batches, factor = priors.conversion.batches, coverage_factor_of(priors)
    return {
        name: Foreseen(value, value - factor * spread, value + factor * spread, sd, batches)
        for name, value, spread, sd in zip(
            FORESEEN, values.tolist(), np.sqrt(straying).tolist(), np.sqrt(before).tolist(), strict=True
        )
    }

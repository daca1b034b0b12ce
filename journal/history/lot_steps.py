"""Steps of a record that its lots of malt don't explain.

A lot whose sheet is half a point off lifts all its batches together, and looks like a step to a test that takes batches for
independent. So a step has to stand out from what the lots before and after it could differ by as well; its interval is
widened by the same.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from itertools import pairwise
from math import fsum

from journal.history.change import LevelStep, find_steps

#: A step counts when it is this many standard errors large, lots included. With the level of `find_steps` that keeps
#: journals of forty batches in which nothing changed to under one in twelve that report a step in any of five figures.
STANDS_OUT = 2.6
#: Standard errors from the middle to each end of a 90 % interval, with some twenty degrees of freedom.
_REACH = 1.7


def lots_differ(before: Sequence[Mapping[str, float]], after: Sequence[Mapping[str, float]], lot_sd: float) -> float:
    """Standard deviation of the difference of two stretches' levels that their lots' shared errors make."""
    lots = {lot for shares in (*before, *after) for lot in shares}

    def mean_share(stretch: Sequence[Mapping[str, float]], lot: str) -> float:
        return fsum(shares.get(lot, 0.0) for shares in stretch) / len(stretch)

    return lot_sd * math.sqrt(fsum((mean_share(after, lot) - mean_share(before, lot)) ** 2 for lot in lots))


def steps_beyond_lots(
    values: Sequence[float], sds: Sequence[float], lots: Sequence[Mapping[str, float]], lot_sd: float
) -> tuple[LevelStep, ...]:
    """Where the level changed by more than lots could make it.

    `lots`: each batch's shares of its grist's extract; `lot_sd`: standard uncertainty of a lot's sheet as a fraction, 0 where lots
    don't matter.
    """
    found = find_steps(values, sds)
    bounds = [0, *(step.first for step in found), len(values)]
    kept = []
    for step, ((start, first), (_, end)) in zip(found, pairwise(pairwise(bounds)), strict=True):
        error = (step.high - step.low) / 2 / _REACH
        whole = math.hypot(error, lots_differ(lots[start:first], lots[first:end], lot_sd))
        if abs(step.change) >= STANDS_OUT * whole:
            reach = _REACH * whole
            kept.append(LevelStep(step.first, step.change, step.change - reach, step.change + reach, step.p_value))
    return tuple(kept)

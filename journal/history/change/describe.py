"""A slow drift told from a step: each makes the other's test ring, so they are weighed against one another."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import fsum

import numpy as np

from journal.frozen import dataclass
from journal.history.change.drift import Drift, find_drift
from journal.history.change.steps import LevelStep, steps_of
from journal.history.change.weigh import FEWEST_VALUES, Weighed, weigh

#: What each number that a description may choose costs it (H. Akaike, IEEE Trans. Autom. Control 19 (1974) 716).
_COST = 2.0


@dataclass(frozen=True)
class SeriesChange:
    """What changed in a series: steps, or a drift, or neither; never both."""

    steps: tuple[LevelStep, ...]
    drift: Drift | None


def describe_change(values: Sequence[float], sds: Sequence[float] | None = None) -> SeriesChange:
    """Whether a series stepped, drifted or did neither.

    Where both are found, the better description of the two stays: the logarithm of the sum of squares that it leaves of the
    bent values, and a cost for each number chosen. A line has a height and a slope. Steps have levels and places, and each
    place after the first counts three times, since a stair with freely chosen places follows any slope (Y. Ninomiya, Stat.
    Probab. Lett. 72 (2005) 237). A drift and a single step of the same size are not told apart surely in 40 values: with
    a change of 2.3 standard deviations about four steps in a hundred are called drifts, and four drifts in ten steps.

    `values`: finite numbers in order of date; fewer than eight show nothing.
    `sds`: standard deviation of each from its reading, >= 0, in the same unit; left out: all alike.
    """
    if len(values) < FEWEST_VALUES:
        return SeriesChange((), None)
    series = weigh(values, sds)
    steps = tuple(steps_of(series))
    drift = find_drift(values, sds)
    if not steps or drift is None:
        return SeriesChange(steps, drift)
    if _cost_of_steps(series, steps) <= _cost_of_line(series):
        return SeriesChange(steps, None)
    return SeriesChange((), drift)


def _cost_of_steps(series: Weighed, steps: Sequence[LevelStep]) -> float:
    levels, places = len(steps) + 1, 3 * len(steps) - 2
    bounds = [0, *(step.first for step in steps), len(series.values)]
    left = fsum(series.between(start, end).squares() for start, end in pairwise(bounds))
    return _cost(left, len(series.values), levels + places)


def _cost_of_line(series: Weighed) -> float:
    place = np.arange(len(series.values), dtype=float)
    centred = place - np.average(place, weights=series.weights)
    slope = (series.weights * centred) @ series.values / ((series.weights * centred) @ centred)
    left = Weighed(series.values - slope * centred, series.weights).squares()
    return _cost(left, len(series.values), 2)


def _cost(left: float, count: int, chosen: int) -> float:
    return float(count * np.log(max(left, np.finfo(float).tiny)) + _COST * chosen)

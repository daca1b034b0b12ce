"""A slow drift: a rise or fall from batch to batch that goes on through the whole series."""

from __future__ import annotations

import math
from collections.abc import Sequence
from math import fsum

import numpy as np

from journal.frozen import dataclass
from journal.history.change.weigh import FEWEST_VALUES, spread_between
from journal.numerics import Vector
from journal.numerics.distributions import coverage_factor, ndtr

#: The chance of a false alarm that is allowed.
FALSE_ALARMS = 0.01
#: Up to so many values without ties the chance is counted exactly; beyond, the normal curve is as good.
_EXACT_UP_TO = 30
#: A longer series is taken as several that interleave, each compared within itself: hardly less sure, and much quicker.
_LONGEST = 250


@dataclass(frozen=True)
class Drift:
    """A slow trend."""

    per_batch: float  # change from one batch to the next, in the unit of the values
    low: float  # lower end of the 90 % interval
    high: float  # its upper end
    p_value: float  # chance that scatter alone rises or falls so steadily


@dataclass(frozen=True)
class Trend:
    """Kendall's score of a series, with the slopes that it comes from."""

    score: float  # S: how far rises outweigh falls among all pairs of values
    variance: float  # of S, when the order means nothing
    per_batch: float  # the middle slope of all pairs (Theil and Sen)
    low: float  # lower end of its 90 % interval
    high: float  # upper end
    p_value: float  # two-sided


def find_drift(values: Sequence[float], sds: Sequence[float] | None = None) -> Drift | None:
    """A slow drift through the whole series, if there is one.

    A step makes a trend too, and values that follow their neighbours make one by chance; `describe_change` tells a
    drift from a step.

    `values`: finite numbers in order of date, one a batch; fewer than eight show nothing.
    `sds`: standard deviation of each from its reading, >= 0, in the same unit; left out: all alike.

    Out: the drift per batch with its 90 % interval, or None.
    """
    if len(values) < FEWEST_VALUES:
        return None
    found = trend(values, sds)
    return Drift(found.per_batch, found.low, found.high, found.p_value) if found.p_value <= FALSE_ALARMS else None


def trend(values: Sequence[float], sds: Sequence[float] | None = None) -> Trend:
    """Mann-Kendall test and Theil-Sen slope; with uneven readings each pair counts by both its weights.

    More than 250 values are taken as series that interleave (every second, every third ...), their scores added.

    `values`: at least three finite numbers, evenly spaced.
    `sds`: standard deviation of each from its reading, >= 0; left out: all alike, and the classical test.

    Sources: H. B. Mann, Econometrica 13 (1945) 245; M. G. Kendall, Rank Correlation Methods (1975); P. K. Sen, J. Am. Stat.
    Assoc. 63 (1968) 1379. The variance with weights follows from the same projection that gives Kendall's.

    >>> found = trend([5.0, 6.0, 11.0, 8.0, 10.0])
    >>> found.score, round(found.variance, 3), found.per_batch
    (6.0, 16.667, 1.125)
    """
    y = np.asarray(values, dtype=float)
    worth = _worth(y, sds)
    strands = -(-len(y) // _LONGEST)
    pairs = [_pairs(y[strand::strands], worth[strand::strands], strands) for strand in range(strands)]
    slopes, weights = np.concatenate([pair.slopes for pair in pairs]), np.concatenate([pair.weights for pair in pairs])
    score, variance = float(weights @ np.sign(slopes)), fsum(pair.variance for pair in pairs)
    reach = coverage_factor(math.inf) * variance**0.5
    middle, low, high = _quantiles(slopes, weights, (0.0, -reach, reach))
    plain = bool(np.all(slopes != 0) and np.all(worth == 1))
    p_value = _exact_chance(score, len(y)) if plain and len(y) <= _EXACT_UP_TO else _normal_chance(score, variance)
    return Trend(score, variance, middle, low, high, p_value)


@dataclass(frozen=True)
class _Pairs:
    slopes: Vector  # per batch
    weights: Vector
    variance: float  # of the score that they make


def _pairs(values: Vector, worth: Vector, spacing: int) -> _Pairs:
    """All pairs of a series whose values lie so many batches apart."""
    first, last = np.triu_indices(len(values), 1)
    slopes = (values[last] - values[first]) / ((last - first) * spacing)
    return _Pairs(slopes, worth[first] * worth[last], _variance(worth) * (1 - _lost_to_ties(values)))


def _worth(values: Vector, sds: Sequence[float] | None) -> Vector:
    """What each value counts for in a pair: one over its whole standard deviation, 1 on the average."""
    if sds is None:
        return np.ones(len(values))
    own = np.asarray(sds, dtype=float)
    total = np.hypot(own, spread_between(values, own))
    total = np.maximum(total, np.median(total) / 5)
    return np.ones(len(values)) if total.min() <= 0 else (1 / total) / np.mean(1 / total)


def _variance(worth: Vector) -> float:
    """Variance of the score: each pair by itself, and a third for each two pairs that share a value."""
    squares = worth**2
    pairs = (squares.sum() ** 2 - (squares**2).sum()) / 2
    running = np.cumsum(worth)
    earlier_less_later = (running - worth) - (running[-1] - running)
    shared = squares * earlier_less_later**2 - squares * (squares.sum() - squares)
    return float(pairs + shared.sum() / 3)


def _lost_to_ties(values: Vector) -> float:
    """The part of the variance that ties take away."""
    count = len(values)
    _, sizes = np.unique(values, return_counts=True)
    lost = (sizes * (sizes - 1) * (2 * sizes + 5)).sum()
    return float(lost / (count * (count - 1) * (2 * count + 5)))


def _quantiles(slopes: Vector, weights: Vector, scores: tuple[float, ...]) -> list[float]:
    """The slopes that, taken out of the values, would leave these scores."""
    order = np.argsort(slopes)
    running = np.cumsum(weights[order])
    below = running - weights[order] / 2
    return [float(np.interp((running[-1] + score) / 2, below, slopes[order])) for score in scores]


def _normal_chance(score: float, variance: float) -> float:
    """Two-sided chance of a score at least as far from nothing, which moves in steps of two."""
    return float(min(1.0, 2 * ndtr(-max(0.0, abs(score) - 1) / variance**0.5))) if variance > 0 else 1.0


def _exact_chance(score: float, count: int) -> float:
    """The same, counted over all orders of so many different values."""
    chances = np.ones(1)
    for placed in range(2, count + 1):
        chances = np.convolve(chances, np.full(placed, 1 / placed))
    fewest_rises = round((count * (count - 1) // 2 + abs(score)) / 2)
    return min(1.0, 2 * float(chances[fewest_rises:].sum()))

"""A series made fit for least squares: each value with its weight, and wild ones bent towards their neighbours."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from journal.frozen import dataclass
from journal.numerics import Vector
from journal.numerics.robust import NORMAL_MEDIAN, huber_weights

#: No change is looked for in fewer values.
FEWEST_VALUES = 8
#: A value further than so many standard deviations from the median of its neighbours is bent back to there.
BEND = 2.5
#: How many neighbours on each side make the local level: one step or a slow drift leaves it standing.
NEIGHBOURS = 3
#: No value is surer than a fifth of the usual standard deviation, whatever its reading claims.
_SUREST = 0.2
#: Equal numbers differ from their mean by far less than this part of them, real readings by far more.
_ROUNDING = 1e-12
#: Halvings that settle the spread between batches to seven digits.
_HALVINGS = 24


@dataclass(frozen=True)
class Weighed:
    """A series with wild values bent back, and what each value counts for."""

    values: Vector
    weights: Vector  # 1 / (sd of the reading squared + spread between batches squared), scaled to a mean of 1

    def between(self, start: int, end: int) -> Weighed:
        """One stretch."""
        return Weighed(self.values[start:end], self.weights[start:end])

    def mean(self) -> float:
        """The weighted mean."""
        return float(np.average(self.values, weights=self.weights))

    def squares(self) -> float:
        """The weighted sum of squares about the mean; nothing where only the rounding of equal values is left."""
        squares = float(self.weights @ (self.values - self.mean()) ** 2)
        rounding = (_ROUNDING * float(np.abs(self.values).max())) ** 2 * float(self.weights.sum())
        return squares if squares > rounding else 0.0


def weigh(values: Sequence[float], sds: Sequence[float] | None = None) -> Weighed:
    """Weigh a series and bend its wild values.

    The spread between batches comes from the differences of neighbours, so that a step counts in one of them only and
    a slow drift hardly at all. Scores bent at a fixed number of standard deviations: P. J. Huber, Robust estimation of a
    location parameter, Ann. Math. Stat. 35 (1964) 73.

    `values`: at least two finite numbers in order of date.
    `sds`: standard deviation of each from its reading, >= 0, in the same unit; left out: all alike.
    """
    y = np.asarray(values, dtype=float)
    own = np.zeros(len(y)) if sds is None else np.asarray(sds, dtype=float)
    total = np.sqrt(own**2 + spread_between(y, own) ** 2)
    usual = float(np.median(total))
    if usual <= 0:
        return Weighed(y, np.ones(len(y)))
    total = np.maximum(total, _SUREST * usual)
    level = running_median(y)
    away, weights = y - level, total**-2
    return Weighed(level + away * huber_weights(away / total, BEND), weights / weights.mean())


def spread_between(values: Vector, sds: Vector) -> float:
    """Standard deviation from batch to batch beyond what the readings explain, by the median of neighbours' differences.

    Where more than half of the neighbours are equal, as with rounded values, the mean difference stands in.
    """
    differences = np.abs(np.diff(values))
    readings = sds[1:] ** 2 + sds[:-1] ** 2
    typical = float(np.median(differences))
    if typical <= 0:
        return 0.0 if sds.any() else float(differences.mean()) / 1.128
    low, high = 0.0, (typical / NORMAL_MEDIAN) ** 2 / 2
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        scores = differences / np.sqrt(2 * middle + readings)
        low, high = (middle, high) if np.median(scores) > NORMAL_MEDIAN else (low, middle)
    return float(np.sqrt(high))


def running_median(values: Vector) -> Vector:
    """The median of each value and its neighbours, mirrored at the ends."""
    mirrored = np.pad(values, min(NEIGHBOURS, len(values) - 1), mode="reflect")
    windows = np.lib.stride_tricks.sliding_window_view(mirrored, len(mirrored) - len(values) + 1)
    return np.asarray(np.median(windows, axis=1), dtype=float)

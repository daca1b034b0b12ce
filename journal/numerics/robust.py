"""Values far from the rest held to the weight of ordinary ones: Huber's weights by iterated least squares.

Source: P. J. Huber, Robust estimation of a location parameter, Ann. Math. Stat. 35 (1964) 73; Robust Statistics (1981), 7.8.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

import numpy as np

from journal.numerics.arrays import Vector

T = TypeVar("T")

#: Huber's bend, in standard deviations, that is 95 % efficient on clean normal data (Huber 1964).
EFFICIENT = 1.345
#: A wider one for few values: 1.345 leaves a variance that is found with it too poorly known.
WIDE = 2.0
#: Median of the absolute value of a standard normal number, and what a median deviation is multiplied by to be a standard one.
NORMAL_MEDIAN = 0.6744897501960817
SD_BY_MEDIAN = 1.0 / NORMAL_MEDIAN


def huber_weights(away: Vector, bend: float | Vector) -> Vector:
    """Weights, 0 to 1, of residuals in standard deviations: 1 up to the `bend`, beyond it what makes them count as much as there.

    >>> huber_weights(np.array([0.5, -1.0, 4.0]), 2.0).tolist()
    [1.0, 1.0, 0.5]
    """
    weights: Vector = np.minimum(1.0, bend / np.maximum(np.abs(away), 1e-12))
    return weights


def reweight(
    start: T,
    away: Callable[[T], Vector],
    solve: Callable[[Vector, T], T],
    *,
    bend: float,
    rounds: int,
    settled: Callable[[T, T], bool] | None = None,
) -> tuple[T, Vector]:
    """Least squares solved again and again with the weights that its own residuals give: the solution and its last weights.

    `away` gives the residuals of a solution in standard deviations, `solve` a solution from weights and the one before. Ends
    when it has `settled` from one solution to the next (where that is left out: when the weights stay as they are), or after
    so many `rounds`.

    >>> values = np.array([1.0, 1.2, 0.8, 9.0])
    >>> middle, weights = reweight(
    ...     1.1, lambda mean: values - mean, lambda w, _: float(np.average(values, weights=w)), bend=1.0, rounds=50
    ... )
    >>> round(middle, 3)
    1.333
    """
    found, weights = start, np.full(1, np.nan)
    for _ in range(rounds):
        earlier, weights = weights, huber_weights(away(found), bend)
        if settled is None and np.array_equal(earlier, weights):
            break
        before, found = found, solve(weights, found)
        if settled is not None and settled(before, found):
            break
    return found, weights

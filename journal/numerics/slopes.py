"""Derivatives by central differences, and what they make of a covariance: the one linearisation of the whole house.

First-order propagation of uncertainty is *Guide to the expression of uncertainty in measurement* (JCGM 100:2008), section 5.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from journal.numerics.arrays import Matrix, Vector

#: A step as a share of the number: the difference's error is of the order of its square, rounding's one over it.
STEP = 1e-5


def slope(function: Callable[[float], float], at: float, least: float = 1e-3) -> float:
    """The slope of a number that follows from one other, at a point.

    `least` is the smallest size that the other counts as when a step is taken from it. Whatever `function` raises comes through.

    >>> round(slope(lambda x: x**2, 3.0), 6)
    6.0
    """
    step = STEP * max(abs(at), least)
    up = function(at + step)
    return (up - function(at - step)) / (2.0 * step)


def jacobian(function: Callable[[Matrix], Matrix], at: Vector, least: float = 1.0) -> Matrix:
    """The slopes, m × n, of m numbers that follow from n others, all of them in one call.

    `function` takes n × k, a point a column, and gives m × k. `least` as for `slope`. Raises ValueError where a number is
    none beside the point.

    >>> jacobian(lambda x: np.stack([x[0] * x[1], x[0] + x[1]]), np.array([3.0, 2.0])).round(6).tolist()
    [[2.0, 3.0], [1.0, 1.0]]
    """
    steps = STEP * np.maximum(np.abs(at), least)
    moved = np.diag(steps)
    with np.errstate(all="ignore"):
        seen = function(at[:, None] + np.concatenate([moved, -moved], axis=1))
    slopes: Matrix = (seen[:, : len(at)] - seen[:, len(at) :]) / (2.0 * steps)
    if not np.all(np.isfinite(slopes)):
        raise ValueError("a number that follows from nothing there could be")
    return slopes


def variances(slopes: Matrix, covariance: Matrix) -> Vector:
    """Variances of m numbers from their slopes, m × n, by the covariance, n × n, of what they follow from; never below 0.

    >>> variances(np.array([[1.0, 1.0], [1.0, -1.0]]), np.array([[1.0, 0.5], [0.5, 1.0]])).tolist()
    [3.0, 1.0]
    """
    result: Vector = np.maximum(np.einsum("ij,jk,ik->i", slopes, covariance, slopes), 0.0)
    return result

"""How easily scatter alone makes the largest of many contrasts look like a change.

A contrast of normal values, over the root of their sum of squares about the mean, is one coordinate of a random point
on the unit sphere. So its chance is exact in small series too, with no standard deviation taken as known.
"""

from __future__ import annotations

import numpy as np

from journal.numerics import Vector
from journal.numerics.distributions import stdtr, stdtrit

#: Points of the quadrature over what one contrast may be, given that it is past the mark: four digits of the chance.
_NODES, _NODE_WEIGHTS = np.polynomial.legendre.leggauss(12)


def chance_of_split(largest: float, shares: Vector, count: int) -> float:
    """Upper bound of the chance that scatter makes the largest of all split contrasts at least this large.

    Sum over the splits of the chance that one is past the mark and its neighbour before it is not. Never below the true
    chance for normal values; at 1.5 % above it by a twentieth of itself in 15 values, a fifth in 40, a half in 120.

    `largest`: absolute contrast over the root of the sum of squares, 0 to 1.
    `shares`: the part of the whole weight before each possible split, rising, 0 to 1 (exclusive).
    `count`: how many values the series has, >= 4.

    Source: K. J. Worsley, An improved Bonferroni inequality and applications, Biometrika 69 (1982) 297-302.
    """
    one = _beyond(largest, count - 1)
    if one <= 0:
        return 0.0
    before, after = shares[:-1], shares[1:]
    alike = np.sqrt(before * (1 - after) / (after * (1 - before)))[:, None]
    degrees = count - 2
    t = -stdtrit(degrees, one * (_NODES + 1) / 2)
    reached, rest = t / np.sqrt(degrees + t**2), degrees / (degrees + t**2)
    needed = (largest - alike * reached) / np.sqrt((1 - alike**2) * rest)
    both = one * (_beyond(needed, count - 2) @ (_NODE_WEIGHTS / 2))
    return min(1.0, 2 * float(one * len(shares) - both.sum()))


def chance_of_any(largest: float, contrasts: int, count: int) -> float:
    """Upper bound (Bonferroni's) of the chance that scatter makes the largest of so many contrasts at least this large.

    `largest`: absolute contrast over the root of the sum of squares, 0 to 1.
    `contrasts`: how many were looked at.
    `count`: how many values the series has, >= 3.
    """
    return min(1.0, 2 * contrasts * float(_beyond(largest, count - 1)))


def _beyond(coordinate: Vector | float, dimensions: int) -> Vector:
    """Chance that one coordinate of a random point on the unit sphere exceeds a number."""
    degrees = dimensions - 1
    inside = np.clip(coordinate, -1, 1)
    with np.errstate(divide="ignore"):
        return np.asarray(stdtr(degrees, -inside * np.sqrt(degrees / (1 - inside**2))))

"""Quantiles and tails of the usual distributions, by scipy's names for them.

scipy takes as long to load as a journal of fifty batches to be recalled, and where everything is recalled nobody asks for a quantile:
it is loaded with the first one.
"""

from __future__ import annotations

import math
from functools import cache
from types import ModuleType
from typing import Any

#: Of every interval that is told.
LEVEL = 0.90


@cache
def _special() -> ModuleType:
    from scipy import special  # noqa: PLC0415  # see above

    return special  # type: ignore[no-any-return]


def stdtr(freedom: Any, t: Any) -> Any:
    """Chance that Student's t of so many degrees of freedom is below `t`."""
    return _special().stdtr(freedom, t)


def stdtrit(freedom: Any, chance: Any) -> Any:
    """The t below which Student's t of so many degrees of freedom is with a chance."""
    return _special().stdtrit(freedom, chance)


def ndtr(z: Any) -> Any:
    """Chance that a standard normal value is below `z`."""
    return _special().ndtr(z)


def ndtri(chance: Any) -> Any:
    """The z below which a standard normal value is with a chance."""
    return _special().ndtri(chance)


def gammaincc(a: Any, x: Any) -> Any:
    """The upper regularised incomplete gamma function: of half a chi-square's degrees of freedom and half of it, its tail."""
    return _special().gammaincc(a, x)


def coverage_factor(degrees_of_freedom: float, level: float = LEVEL) -> float:
    """How many standard uncertainties an interval at a level reaches to each side, by Student's t (GUM, JCGM 100:2008, annex G).

    >>> round(coverage_factor(10), 3), round(coverage_factor(float("inf")), 3)
    (1.812, 1.645)
    """
    below = (1.0 + level) / 2.0
    # the library's t has no value for infinitely many, which is the normal distribution
    return float(ndtri(below) if math.isinf(degrees_of_freedom) else stdtrit(degrees_of_freedom, below))


def logsumexp(a: Any, axis: int) -> Any:
    """The logarithm of a sum of exponentials along an axis."""
    return _special().logsumexp(a, axis=axis)

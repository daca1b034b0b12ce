"""Quantiles and tails of the usual distributions, by scipy's names for them.

scipy takes as long to load as a journal of fifty batches to be recalled, and where everything is recalled nobody asks for a quantile:
it is loaded with the first one.
"""

from __future__ import annotations

from functools import cache
from types import ModuleType
from typing import Any


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


def logsumexp(a: Any, axis: int) -> Any:
    """The logarithm of a sum of exponentials along an axis."""
    return _special().logsumexp(a, axis=axis)

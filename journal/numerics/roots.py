"""Where a function of one number is 0, and where it is highest, without its derivatives."""

from __future__ import annotations

import math
from collections.abc import Callable

#: Halvings that bring any interval of floats down to neighbours.
_MOST_STEPS = 200
#: What a golden section keeps of an interval.
_KEPT = (math.sqrt(5.0) - 1.0) / 2.0


def root_between(function: Callable[[float], float], low: float, high: float, *, within: float) -> float:
    """Where a continuous function is 0, to `within` of x; its values at `low` and `high` must not have one sign, else ValueError.

    By a parabola in the values through the last three places where it can be trusted, else by halving.
    Source: T. R. Chandrupatla, Adv. Eng. Softw. 28 (1997) 145.

    >>> round(root_between(lambda x: x**3 - 2.0, 0.0, 2.0, within=1e-12), 9)
    1.25992105
    """
    newest, other = high, low
    at_newest, at_other = function(newest), function(other)
    if at_newest * at_other > 0.0:
        raise ValueError("the values at both ends have one sign")
    step = 0.5
    for _ in range(_MOST_STEPS):
        x = newest + step * (other - newest)
        at_x = function(x)
        if at_x * at_newest > 0.0:
            before, at_before = newest, at_newest
        else:
            before, at_before = other, at_other
            other, at_other = newest, at_newest
        newest, at_newest = x, at_x
        least = within / abs(other - newest) if other != newest else math.inf
        if at_newest == 0.0 or least > 0.5:
            break
        along = (newest - other) / (before - other)
        up = (at_newest - at_other) / (at_before - at_other)
        step = 0.5
        if up**2 < along and (1.0 - up) ** 2 < 1.0 - along:
            step = at_newest / (at_other - at_newest) * at_before / (at_other - at_before)
            step += (
                (before - newest)
                / (other - newest)
                * at_newest
                / (at_before - at_newest)
                * at_other
                / (at_before - at_other)
            )
        step = min(max(step, least), 1.0 - least)
    return newest if abs(at_newest) < abs(at_other) else other


def highest_between(function: Callable[[float], float], low: float, high: float, *, within: float) -> float:
    """Where a function that rises and then falls is highest, to `within` of x, by golden sections.

    Source: J. Kiefer, Proc. Am. Math. Soc. 4 (1953) 502.

    >>> round(highest_between(lambda x: x - x**2, 0.0, 2.0, within=1e-6), 5)
    0.5
    """
    left, right = high - _KEPT * (high - low), low + _KEPT * (high - low)
    at_left, at_right = function(left), function(right)
    while high - low > within:
        if at_left > at_right:
            high, right, at_right = right, left, at_left
            left = high - _KEPT * (high - low)
            at_left = function(left)
        else:
            low, left, at_left = left, right, at_right
            right = low + _KEPT * (high - low)
            at_right = function(right)
    return (low + high) / 2.0

"""One root finder for the formulas that are published in one direction only."""

import math
from collections.abc import Callable

_MOST_STEPS = 60
_SETTLED = 1e-12
_NUDGE = 1e-6


def root(function: Callable[[float], float], start: float) -> float:
    """Return the x near `start` where `function` is zero, to machine precision.

    Newton's method with the slope taken from the last two points. Steps too short to measure a slope from keep the
    one before: it decides how fast the root is reached, not where it lies. Raises `ValueError` where none is reached.

    >>> round(root(lambda x: x * x - 2.0, 1.0), 12)
    1.414213562373
    """
    x, value = start, function(start)
    nudge = _NUDGE * max(1.0, abs(x))
    slope = (function(x + nudge) - value) / nudge
    for _ in range(_MOST_STEPS):
        if slope == 0.0 or not math.isfinite(value):
            break
        step = value / slope
        x -= step
        scale = max(1.0, abs(x))
        if abs(step) <= _SETTLED * scale:
            return x
        before, value = value, function(x)
        if abs(step) > _NUDGE * scale:
            slope = (before - value) / step
    raise ValueError(f"no solution found near {start:g}")

"""Fewer points for a picture, with every extreme that would be seen."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray


def thin(minutes: NDArray[np.float64], values: NDArray[np.float64], points: int) -> NDArray[np.int64]:
    """The indexes to draw, ascending: of each of `points` // 2 equal stretches of time, its least and its greatest value.

    minutes: ascending; values: nan where there is none, which is never drawn; points: how many at most, 4 or more. The
    first and the last value are kept too, so that the course keeps its length.
    """
    drawn = np.asarray(np.flatnonzero(np.isfinite(values)), dtype=np.int64)
    if len(drawn) <= points:
        return drawn
    times, heights = minutes[drawn], values[drawn]
    stretches = max(1, points // 2 - 1)
    share = (times - times[0]) / max(times[-1] - times[0], np.finfo(float).tiny)
    stretch = np.minimum((share * stretches).astype(np.int64), stretches - 1)
    order = np.lexsort((heights, stretch))
    first_of_stretch = np.flatnonzero(np.diff(stretch[order], prepend=-1))
    last_of_stretch = np.append(first_of_stretch[1:], len(order)) - 1
    ends = np.array([0, len(drawn) - 1])
    kept = np.unique(np.concatenate([order[first_of_stretch], order[last_of_stretch], ends]))
    return np.asarray(drawn[kept], dtype=np.int64)

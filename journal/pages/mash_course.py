"""How the mash went over time, and whether it stood between the two amylases' ranges."""

from __future__ import annotations

from itertools import pairwise

from journal.figures.mash import ENZYME_BANDS
from journal.pages.view import BatchView
from journal.reading import Batch
from journal.reading.logs import thin

#: Points that a logger's course is drawn by.
_POINTS = 240
_RANGES = {name: (low, high) for name, low, high in ENZYME_BANDS}
#: Where beta-amylase's range has ended and alpha-amylase's not begun, °C.
_BETWEEN = (_RANGES["beta-amylase"][1], _RANGES["alpha-amylase"][0])


def mash_course(batch: Batch) -> tuple[list[tuple[float, float]], bool]:
    """Minutes and °C: a logger's course thinned, else the rests one after the other; and whether it was logged."""
    log = batch.mash_log
    if log is not None and log.temperature is not None:
        kept = thin(log.minutes, log.temperature, _POINTS)
        start = float(log.minutes[0])
        return list(zip((log.minutes[kept] - start).tolist(), log.temperature[kept].tolist(), strict=True)), True
    points, minutes = [], 0.0
    for rest in batch.mash.rests:
        if rest.temperature is None or rest.time is None:
            return [], False
        points += [(minutes, rest.temperature.value), (minutes + rest.time.value, rest.temperature.value)]
        minutes += rest.time.value
    return points, False


def between_amylases(view: BatchView) -> bool:
    """Whether most of the mash stood between the two ranges, where both amylases work and minutes in a range miss it."""
    whole = view.figures.get("mash_time")
    points, _ = mash_course(view.batch)
    low, high = _BETWEEN
    inside = sum(end - start for (start, one), (end, two) in pairwise(points) if low < (one + two) / 2 < high)
    return whole is not None and inside > whole.value / 2

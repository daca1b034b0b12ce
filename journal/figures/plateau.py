"""Whether the last gravities stand still: tested, not assumed."""

from __future__ import annotations

from collections.abc import Sequence
from math import fsum

from journal.numerics.distributions import stdtr
from journal.science.fermentation import GravityAt, unchanged

#: From this many readings on a slope is looked for.
_FEWEST_FOR_SLOPE = 4
#: A fall this unlikely by chance is one.
_CHANCE = 0.05
#: SG. A fall smaller than this over the whole stretch is none that anyone could taste or read.
_SEEN = 0.0005


def slope_test(readings: Sequence[GravityAt]) -> tuple[float, float]:
    """Slope of SG over days by least squares, and the p-value of its being 0 (two-sided, Student's t).

    At least 3 readings, not all of one time. Readings that lie on a line exactly have a p-value of 0, or 1 if it is level.
    """
    count = len(readings)
    mean_days = fsum(days for days, _, _ in readings) / count
    mean_sg = fsum(sg for _, sg, _ in readings) / count
    across = fsum((days - mean_days) ** 2 for days, _, _ in readings)
    slope = fsum((days - mean_days) * (sg - mean_sg) for days, sg, _ in readings) / across
    left = fsum((sg - mean_sg - slope * (days - mean_days)) ** 2 for days, sg, _ in readings)
    error = (left / (count - 2) / across) ** 0.5
    if error == 0.0:
        return slope, float(slope == 0.0)
    return slope, 2.0 * stdtr(count - 2, -abs(slope) / error)


def _level(stretch: Sequence[GravityAt]) -> bool:
    last = stretch[-1]
    if not all(unchanged(reading, last) for reading in stretch):
        return False
    if len(stretch) < _FEWEST_FOR_SLOPE or stretch[0][0] == last[0]:
        return True
    slope, chance = slope_test(stretch)
    return not (slope < 0.0 and chance / 2.0 < _CHANCE and -slope * (last[0] - stretch[0][0]) > _SEEN)


def level_for(readings: Sequence[GravityAt]) -> float:
    """Days that the gravity has been level at the end of some readings (ordered by time, at least one); 0 if it has not.

    The longest stretch up to the last reading in which no reading differs from the last by more than can be told, and no
    line falls through them.
    """
    days = 0.0
    for first in range(len(readings) - 2, -1, -1):
        if not _level(readings[first:]):
            break
        days = readings[-1][0] - readings[first][0]
    return days

"""From numbers to places: an axis, its round ticks, days along it."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from datetime import date

from journal.frozen import dataclass
from journal.measures.wording import plain, signed
from journal.pages.words import MONTHS

#: Months between two ticks, of which the least is taken that makes few enough.
_YEAR = 12
_MONTH_STEPS = (1, 2, 3, 6, _YEAR, 2 * _YEAR, 5 * _YEAR, 10 * _YEAR, 100 * _YEAR)


@dataclass(frozen=True)
class AxisTick:
    """A round number on an axis: its share of the way along, and its words."""

    share: float
    words: str


@dataclass(frozen=True)
class Axis:
    """A stretch of numbers, `low` below `high`; places on it are shares of the way along, 0 to 1."""

    low: float
    high: float

    @classmethod
    def around(cls, values: Iterable[float], room: float = 0.08, least: float = 0.0) -> Axis:
        """One that holds all finite values with some room beside them, a share of their range; `least` wide or more."""
        known = [value for value in values if math.isfinite(value)] or [0.0]
        low, high = min(known), max(known)
        wider = max((high - low) * room, (least - (high - low)) / 2, 1e-9 + abs(high) * 1e-6)
        return cls(low - wider, high + wider)

    def share(self, value: float) -> float:
        """How far along a value lies; one beyond an end lies at the end."""
        return (min(max(value, self.low), self.high) - self.low) / (self.high - self.low)

    def holds(self, value: float) -> bool:
        """Whether a value lies on it."""
        return self.low <= value <= self.high

    def ticks(self, most: int, *, sign: bool = False) -> tuple[AxisTick, ...]:
        """Round numbers on it, `most` at the most, two at least where `most` is four; with `sign` those above zero bear a plus."""
        step, counts = next(
            (step, counts) for step in self._steps(most) if len(counts := self._multiples(step)) <= most
        )
        decimals = max(0, -math.floor(math.log10(step) + 1e-9))
        found = []
        for count in counts:
            words = plain(count * step, decimals)
            found.append(AxisTick(self.share(count * step), signed(words) if sign and count else words))
        return tuple(found)

    def _multiples(self, step: float) -> range:
        """How often the multiples of a step that lie on it hold it."""
        return range(math.ceil(self.low / step - 1e-9), math.floor(self.high / step + 1e-9) + 1)

    def _steps(self, most: int) -> Iterator[float]:
        """1, 2 and 5 times powers of ten, from one that makes too many multiples."""
        power = 10.0 ** math.floor(math.log10((self.high - self.low) / (most + 1)))
        for exponent in range(3):
            yield from (step * power * 10.0**exponent for step in (1.0, 2.0, 5.0))


def day_ticks(axis: Axis, most: int) -> tuple[AxisTick, ...]:
    """Firsts of months on an axis of day numbers (`date.toordinal`), `most` at the most.

    The year stands at the first of them and at each January; where there is room for years alone, they stand alone.
    """
    begin, end = (date.fromordinal(max(round(day), 1)) for day in (axis.low, axis.high))
    months = (end.year - begin.year) * 12 + end.month - begin.month
    step = next(step for step in _MONTH_STEPS if months / step <= most - 1)
    ticks: list[AxisTick] = []
    seen = 0
    for count in range(begin.year * 12 + begin.month - 1, end.year * 12 + end.month + 1):
        day = date(count // 12, count % 12 + 1, 1)
        if count % step == 0 and axis.low <= day.toordinal() <= axis.high:
            month, year = MONTHS[day.month - 1][:3], str(day.year)
            words = year if step >= _YEAR else f"{month} {year}" if day.year != seen else month
            ticks.append(AxisTick(axis.share(day.toordinal()), words))
            seen = day.year
    return tuple(ticks) or (_one_tick(axis),)


def _one_tick(axis: Axis) -> AxisTick:
    """The day in the middle, where no month begins on an axis."""
    day = date.fromordinal(round((axis.low + axis.high) / 2))
    return AxisTick(0.5, f"{day.day} {MONTHS[day.month - 1][:3]} {day.year}")

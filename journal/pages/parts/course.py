"""Numbers to places in a picture: scales, ticks, paths."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from math import isfinite
from typing import NamedTuple

from journal.frozen import dataclass
from journal.measures.wording import plain

#: The picture's own units: its width, where drawing begins and ends, a panel's height, the gap between two, the axis below.
WIDTH, LEFT, RIGHT, PANEL, GAP, _AXIS, TOP = 480.0, 46.0, 468.0, 150.0, 26.0, 34.0, 20.0


class Tick(NamedTuple):
    """A mark on an axis: its place in the picture's own units, and its words."""

    at: float
    text: str


class Mark(NamedTuple):
    """A point at its place, with its uncertainty's ends; `href` leads somewhere, `here` is the batch of the page."""

    x: float
    y: float
    top: float
    bottom: float
    words: str
    href: str = ""
    here: bool = False


@dataclass(frozen=True)
class CourseStrip:
    """A range of the upright axis, told from its neighbours by its words: where it begins and how high it is."""

    y: float
    height: float
    words: str


@dataclass(frozen=True)
class Panel:
    """One drawing: its top and bottom, what the upright axis counts, its ticks, and what is drawn.

    `line` is a path of what was recorded, `fitted` one of what it was fitted by, `band` the outline of how sure that is; empty for
    none.
    """

    top: float
    bottom: float
    unit: str
    ticks: tuple[Tick, ...]
    marks: tuple[Mark, ...] = ()
    strips: tuple[CourseStrip, ...] = ()
    line: str = ""
    fitted: str = ""
    band: str = ""


@dataclass(frozen=True)
class CoursePicture:
    """Panels above one another in a picture `width` by `height`; from `left` to `right` they are drawn, on one `scale`.

    `summary` says the same in words; `across` is what the scale counts.
    """

    name: str
    title: str
    summary: str
    panels: tuple[Panel, ...]
    scale: AxisScale
    across: str
    width: float = WIDTH

    @property
    def height(self) -> float:
        """How high it is, with the axis below the panels."""
        return self.panels[-1].bottom + _AXIS

    @property
    def left(self) -> float:
        """Where drawing begins."""
        return self.scale.start

    @property
    def right(self) -> float:
        """Where drawing ends."""
        return self.scale.end

    @property
    def ticks(self) -> tuple[Tick, ...]:
        """The marks on the axis below."""
        return self.scale.ticks(8)


@dataclass(frozen=True)
class AxisScale:
    """A stretch of numbers on a stretch of the picture."""

    low: float
    high: float
    start: float
    end: float

    def at(self, value: float) -> float:
        """The place of a value, within the stretch."""
        return round(self.places([value])[0], 1)

    def places(self, values: Iterable[float]) -> list[float]:
        """The places of several, in all their digits."""
        low, high, start = self.low, self.high, self.start
        width, length = high - low, self.end - start
        return [start + ((low if value < low else min(value, high)) - low) / width * length for value in values]

    def ticks(self, most: int, words: Callable[[float, int], str] = plain) -> tuple[Tick, ...]:
        """Round numbers on it, `most` at most, each as words with so many decimals."""
        step = round_step(self.low, self.high, most)
        decimals = max(0, -math.floor(math.log10(step) + 1e-9))
        first, last = math.ceil(self.low / step - 1e-9), math.floor(self.high / step + 1e-9)
        return tuple(Tick(self.at(count * step), words(count * step, decimals)) for count in range(first, last + 1))


def round_step(low: float, high: float, most: int) -> float:
    """The smallest of 1, 2 or 5 times a power of ten that makes `most` steps at most."""
    wanted = (high - low) / most
    power = 10.0 ** math.floor(math.log10(wanted))
    return next(step * power for step in (1.0, 2.0, 5.0, 10.0) if step * power >= wanted * (1 - 1e-9))


def spread(values: Iterable[float], room: float, least: float) -> tuple[float, float]:
    """The least and the greatest of values with some room beside them, a share of their range; at least `least` apart."""
    values = [value for value in values if math.isfinite(value)]
    low, high = min(values), max(values)
    wider = max((high - low) * room, (least - (high - low)) / 2)
    return low - wider, high + wider


class Plane(NamedTuple):
    """Where a point lies in a picture: one scale `across` and one `up`."""

    across: AxisScale
    up: AxisScale

    def mark(self, x: float, y: float, sd: float, words: str, href: str = "", *, here: bool = False) -> Mark:
        """A point with one standard uncertainty to both sides."""
        up = self.up.at
        return Mark(self.across.at(x), up(y), up(y + sd), up(y - sd), words, href, here)

    def path(self, points: Sequence[tuple[float, float]]) -> str:
        """A line through points; a point that is no number parts it."""
        # a picture has hundreds of them
        across, up = self.across.places([x for x, _ in points]), self.up.places([y for _, y in points])
        parts, pen = [], "M"
        for (_, value), x, y in zip(points, across, up, strict=True):
            if isfinite(value):
                parts.append(f"{pen}{x:.1f} {y:.1f}")
                pen = "L"
            else:
                pen = "M"
        return "".join(parts).replace(".0", "")


def short(number: float) -> str:
    """A coordinate in a picture's path, to a tenth of its unit."""
    return f"{number:.1f}".removesuffix(".0")

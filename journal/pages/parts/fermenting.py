"""The fermentation in one line, its ends labelled."""

from __future__ import annotations

from datetime import datetime, time, timedelta

import numpy as np

from journal.figures.beer_gravities import Fermentation, course_within
from journal.figures.propagate import nominal
from journal.frozen import dataclass
from journal.measures.wording import plain
from journal.pages.counted import how_many
from journal.pages.model import UNBROKEN, Link
from journal.pages.numbers import of_result
from journal.pages.parts.course import AxisScale, Plane, Tick, spread
from journal.pages.paths import accounts_path
from journal.pages.view import BatchView
from journal.reading import Batch
from journal.reading.logs import thin

#: The picture's own units: its size, where the line begins and ends, the room above it and below it.
_WIDTH, _HEIGHT, _LEFT, _RIGHT, _TOP, _BOTTOM = 480.0, 130.0, 10.0, 408.0, 26.0, 98.0
_DAY = timedelta(days=1)
#: Points that a line is drawn by; points of fewer than two say nothing that the numbers don't.
_POINTS, _FEWEST = 80, 2


@dataclass(frozen=True)
class FermentingLine:
    """The course of the gravity in a picture `width` by `height`: a path, the readings on it, what its ends are.

    `first` and `last` are the gravities at its ends, at `start` and `end` (x, y); `base` is where the axis of days lies.
    `summary` says the same in words, `attenuated` leads to how much of the extract is gone, empty where that is not known.
    """

    width: float
    height: float
    line: str
    dots: tuple[tuple[float, float], ...]
    start: tuple[float, float]
    end: tuple[float, float]
    first: str
    last: str
    base: float
    ticks: tuple[Tick, ...]
    summary: str
    attenuated: Link


def days_count_from(batch: Batch, known: Fermentation) -> datetime | None:
    """From when days are counted: the pitching; where that isn't written but the wort's gravity is, the day of the brew; else the
    first reading, None where there is none.
    """
    if known.pitched is not None or not known.gravities:
        return known.pitched
    first = known.gravities[0].at
    return first if known.wort is None else min(first, datetime.combine(batch.day, time.min))


def _course(known: Fermentation, days: list[tuple[float, float]], view: BatchView) -> list[tuple[float, float]]:
    """What the line goes through: a logger's course, else the fitted one, else the readings."""
    log = view.batch.fermentation_log
    start = days_count_from(view.batch, known)
    if log is not None and log.gravity is not None and start is not None:
        offset = (log.start - start) / _DAY if log.start else 0.0
        kept = thin(log.minutes, log.gravity, _POINTS)
        return list(zip((offset + log.minutes[kept] / 1440.0).tolist(), log.gravity[kept].tolist(), strict=True))
    course = known.course
    if course is None:
        return days
    steps = np.linspace(max(days[0][0], 0.0), days[-1][0], _POINTS).tolist()
    return [(day, sg) for day, (sg, _) in zip(steps, course_within(course, steps), strict=True)]


def fermenting_line(view: BatchView) -> FermentingLine | None:
    """The line of a batch's fermentation; None where fewer than two gravities are known over time."""
    known = view.fermentation
    start = days_count_from(view.batch, known)
    if start is None:
        return None
    days = [((reading.at - start) / _DAY, reading.value) for reading in known.gravities]
    if known.wort is not None:
        days = [(0.0, _shown_first(view, "original_gravity", nominal(known.wort))), *days]
    log = view.batch.fermentation_log
    logged = log is not None and log.gravity is not None
    if len(days) < _FEWEST and not logged:
        return None
    course = _course(known, sorted(days), view)
    points = [*days, *course]
    last_day = max(day for day, _ in points)
    if last_day <= 0:
        return None
    low, high = spread([sg for _, sg in points], 0.02, 0.004)
    across = AxisScale(min(0.0, *(day for day, _ in points)), last_day, _LEFT, _RIGHT)
    up = AxisScale(low, high, _BOTTOM, _TOP)
    ends = days or course
    (first_day, first), (final_day, final) = min(ends), max(ends)
    return FermentingLine(
        width=_WIDTH,
        height=_HEIGHT,
        line=Plane(across, up).path(course),
        dots=tuple((across.at(day), up.at(sg)) for day, sg in days),
        start=(across.at(first_day), up.at(first)),
        end=(across.at(final_day), up.at(final)),
        first=plain(first, 3),
        last=plain(final, 3),
        base=_BOTTOM + 6.0,
        ticks=tuple(tick for tick in across.ticks(6) if tick.at <= _RIGHT - 24.0),
        summary=_summary(first, final, last_day, len(days), logged=logged),
        attenuated=_attenuated(view),
    )


def _shown_first(view: BatchView, name: str, otherwise: float) -> float:
    """A figure as the head of the page has it, so that a gravity is one number on it."""
    found = view.best.get(name)
    return found.value if found else otherwise


def _summary(first: float, final: float, days: float, readings: int, *, logged: bool) -> str:
    count = "a logger’s course" if logged else f"{how_many(readings)} readings"
    return f"From {plain(first, 3)} to {plain(final, 3)} in {plain(days, 0)} days, {count}."


def _attenuated(view: BatchView) -> Link:
    found = view.best.get("apparent_attenuation")
    if found is None:
        return Link("")
    words = f"{of_result(found, view.system).text} apparent{UNBROKEN}attenuation"
    return Link(words, f"{accounts_path(view.batch.id)}#apparent_attenuation")

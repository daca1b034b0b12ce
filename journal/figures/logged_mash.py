"""A mash as its logger saw it: when it began and ended, how warm it was in between, where it rested.

Between two readings the temperature is taken to run straight. The mash begins where the course rises through 40 °C, or
where strike liquor that stood in the tun before has been met by the grist; it ends where the mash-out begins, or else where
the last rest does.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from journal.reading.logs import Log
from journal.science.mash import ENZYMES

Numbers = NDArray[np.float64]

#: degC. Cooler than the first nothing of the mash is meant but a rest for gums; hotter than the second the enzymes end.
WARM, MASH_OUT = 40.0, 75.0
#: min. A mash-out lasts at least so long; less is an overshoot.
_MASH_OUT_LASTS = 3.0
#: K/min. A mash that moves less than this over five minutes rests (common practice).
_RESTING = 0.3
_REACH = 2.5
#: min. The least that is a rest; the least that a drift is told from.
_LEAST_REST, _LEAST_DRIFT = 5.0, 10.0
#: K. A mash this far from its last rest has left it.
_LEFT = 1.0
#: K below the strike temperature that is still strike liquor, or above the first rest that still is that rest.
_NEAR_STRIKE, _NEAR_REST = 1.0, 0.5


class MashCourse(NamedTuple):
    """min, ascending; degC, none of them nan. Two or more readings."""

    minutes: Numbers
    temperature: Numbers


class MashAim(NamedTuple):
    """What the entry states of the mash: strike temperature and first rest, degC, and that rest's time, min."""

    strike: float | None = None
    rest: float | None = None
    time: float = 0.0


@dataclass(frozen=True)
class LoggedMash:
    """What a log says: minutes by enzyme, in the order of ENZYMES, each with its standard uncertainty; the mash's time, min.

    `temperature`: mean, degC; `overshoot`: K over the first rest as stated; `heating`: min to the longest rest; `drift`: K/h
    of that rest, with its standard uncertainty. None where it can't be told.
    """

    minutes: tuple[tuple[float, float], ...]
    time: float
    temperature: float
    overshoot: float | None
    heating: float | None
    drift: tuple[float, float] | None


def course_of(log: Log | None) -> MashCourse | None:
    """The log's temperatures; None where there are fewer than two."""
    if log is None or log.temperature is None:
        return None
    known = np.isfinite(log.temperature)
    return MashCourse(log.minutes[known], log.temperature[known]) if np.count_nonzero(known) > 1 else None


def minutes_between(course: MashCourse, low: float, high: float) -> float:
    """Minutes that a course spends from `low` to `high`, degC, by the exact crossings of straight lines."""
    first, second = course.temperature[:-1], course.temperature[1:]
    least, most = np.minimum(first, second), np.maximum(first, second)
    span = most - least
    inside = np.clip(np.minimum(most, high) - np.maximum(least, low), 0.0, None)
    level = ((least >= low) & (least <= high)).astype(float)
    share = np.divide(inside, span, out=level, where=span > 0.0)
    return float(np.sum(share * np.diff(course.minutes)))


def stretches_above(course: MashCourse, level: float) -> Numbers:
    """When a course is at or above a temperature: beginnings and ends, min, a row each."""
    minutes, temperature = course
    above = temperature >= level
    edges = np.flatnonzero(above[1:] != above[:-1])
    share = (level - temperature[edges]) / (temperature[edges + 1] - temperature[edges])
    times = minutes[edges] + share * (minutes[edges + 1] - minutes[edges])
    first, last = minutes[:1][above[:1]], minutes[-1:][above[-1:]]
    return np.asarray(np.concatenate([first, times, last]).reshape(-1, 2))


def cut(course: MashCourse, start: float, end: float) -> MashCourse:
    """The part of a course between two times that lie within it."""
    within = (course.minutes > start) & (course.minutes < end)
    minutes = np.concatenate([[start], course.minutes[within], [end]])
    return MashCourse(minutes, np.interp(minutes, *course))


def rests(course: MashCourse) -> Numbers:
    """Where a course rests for some minutes: beginnings and ends, min, a row each."""
    grid = np.arange(course.minutes[0], course.minutes[-1], 1.0)
    if len(grid) < 2:
        return np.empty((0, 2))
    rise = np.interp(grid + _REACH, *course) - np.interp(grid - _REACH, *course)
    edges = np.flatnonzero(np.diff(np.abs(rise) <= 2.0 * _REACH * _RESTING, prepend=False, append=False))
    bounds = np.append(grid, course.minutes[-1])[edges].reshape(-1, 2)
    return np.asarray(bounds[bounds[:, 1] - bounds[:, 0] >= _LEAST_REST])


def _after_strike(course: MashCourse, strike: float | None) -> MashCourse:
    """The course from where the grist has met the strike liquor, if the liquor was logged before it and nothing rested."""
    if strike is None:
        return course
    hot = stretches_above(course, strike - _NEAR_STRIKE)
    if not len(hot) or hot[0, 1] >= course.minutes[-1]:
        return course
    if hot[0, 0] > course.minutes[0]:
        before = cut(course, float(course.minutes[0]), float(hot[0, 0]))
        if any(np.interp(rest[0], *before) >= WARM for rest in rests(before)):
            return course
    return cut(course, float(hot[0, 1]), float(course.minutes[-1]))


def _end(course: MashCourse) -> float:
    """Where a mash-out begins, or else where the last rest is left; the last moment of a course without either."""
    hot = stretches_above(course, MASH_OUT)
    lasting = hot[(hot[:, 1] - hot[:, 0] >= _MASH_OUT_LASTS) | (hot[:, 1] >= course.minutes[-1])]
    if len(lasting) and lasting[0, 0] > course.minutes[0]:
        return float(lasting[0, 0])
    held = rests(course)
    return float(course.minutes[-1]) if not len(held) else _left(course, float(held[-1, 1]))


def _left(course: MashCourse, at: float) -> float:
    """When a course is a kelvin from what it was at a time."""
    since = cut(course, at, float(course.minutes[-1]))
    apart = np.abs(since.temperature - since.temperature[0])
    away = int(np.argmax(apart > _LEFT))
    if away == 0:
        return float(since.minutes[-1])
    return float(np.interp(_LEFT, apart[away - 1 : away + 1], since.minutes[away - 1 : away + 1]))


def mean(course: MashCourse) -> float:
    """The mean temperature by time, degC."""
    # numpy has a trapezoid of its own from 2.0 on only
    between = (course.temperature[1:] + course.temperature[:-1]) / 2.0
    return float(np.sum(np.diff(course.minutes) * between) / (course.minutes[-1] - course.minutes[0]))


def _overshoot(mash: MashCourse, aim: MashAim) -> float | None:
    if aim.rest is None:
        return None
    reached = stretches_above(mash, aim.rest - _NEAR_REST)
    start = float(reached[0, 0]) if len(reached) else float(mash.minutes[0])
    end = min(start + aim.time, float(mash.minutes[-1]))
    return float(np.max(cut(mash, start, end).temperature)) - aim.rest if end > start else None


def _drift(rest: MashCourse) -> tuple[float, float] | None:
    """The slope by least squares, K/h; readings within ten minutes are taken to err together."""
    lasts = rest.minutes[-1] - rest.minutes[0]
    if lasts < _LEAST_DRIFT:
        return None
    grid = np.linspace(rest.minutes[0], rest.minutes[-1], max(round(lasts) + 1, 3))
    temperature = np.interp(grid, *rest)
    slope, level = np.polyfit(grid - grid[0], temperature, 1)
    scatter = float(np.std(temperature - level - slope * (grid - grid[0])))
    return 60.0 * float(slope), 60.0 * scatter * (12.0 / max(lasts / 10.0, 2.0)) ** 0.5 / float(lasts)


def mash_part(course: MashCourse, aim: MashAim) -> tuple[MashCourse, MashCourse] | None:
    """A course from mashing in to the mash-out, whole and above 40 °C; None where it was never warm."""
    since = _after_strike(course, aim.strike)
    warm = stretches_above(since, WARM)
    warm = warm[warm[:, 1] > warm[:, 0]]
    if not len(warm):
        return None
    start, last = warm[np.argmax(warm[:, 1] - warm[:, 0])].tolist()
    end = _end(cut(since, start, last))
    return cut(since, float(since.minutes[0]), end), cut(since, start, end)


def longest_rest(mash: MashCourse) -> tuple[float, float] | None:
    """When the longest rest began and ended, min; None where nothing rested."""
    held = rests(mash)
    return None if not len(held) else tuple(held[np.argmax(held[:, 1] - held[:, 0])].tolist())


def _minutes(course: MashCourse, low: float, high: float, sd: float) -> tuple[float, float]:
    """Minutes in a range, and how far off a thermometer that reads `sd` K too high or too low would have them.

    Not by a slope: where a mash rests at the edge of a range its minutes jump, and are as uncertain as that.
    """
    found, cooler, warmer = (minutes_between(course, low - shift, high - shift) for shift in (0.0, -sd, sd))
    return found, max(abs(warmer - found), abs(cooler - found))


def logged_mash_of(course: MashCourse, aim: MashAim, sd: float) -> LoggedMash | None:
    """What a course says of its mash, read with a thermometer good to `sd` K; None where it was never warm."""
    parts = mash_part(course, aim)
    if parts is None:
        return None
    worked, mash = parts
    longest = longest_rest(mash)
    return LoggedMash(
        tuple(_minutes(worked, enzyme.low, enzyme.high, sd) for enzyme in ENZYMES),
        float(mash.minutes[-1] - mash.minutes[0]),
        mean(mash),
        _overshoot(mash, aim),
        longest[0] - float(mash.minutes[0]) if longest else None,
        _drift(cut(mash, *longest)) if longest else None,
    )

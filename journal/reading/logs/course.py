"""Rows on their way to a log: readings left out, and rows of one time made one."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from journal.frozen import dataclass

Numbers = NDArray[np.float64]


@dataclass(frozen=True)
class LogCourse:
    """Readings by name (degC, SG; nan for none) with the minutes and the line of each row; all of one length."""

    minutes: Numbers
    readings: dict[str, Numbers]
    lines: NDArray[np.int64]

    def keep(self, rows: NDArray[np.bool_] | NDArray[np.int64]) -> LogCourse:
        """The course with only some rows."""
        readings = {name: values[rows] for name, values in self.readings.items()}
        return LogCourse(self.minutes[rows], readings, self.lines[rows])

    @property
    def read(self) -> NDArray[np.bool_]:
        """The rows that have a reading."""
        return np.asarray(np.any([np.isfinite(values) for values in self.readings.values()], axis=0))


@dataclass(frozen=True)
class MergedCourse:
    """A course with each time once.

    `repeated` are the lines left out because an earlier one says the same; `disagreeing` the first and last line of each
    time that has different readings.
    """

    course: LogCourse
    repeated: list[int]
    disagreeing: list[tuple[int, int]]


def merge(course: LogCourse) -> MergedCourse:
    """Rows of one time as one: equal ones count once, and of differing readings the mean is taken."""
    new_time = np.diff(course.minutes, prepend=-np.inf) > 0
    if new_time.all():
        return MergedCourse(course, [], [])
    again = _said_before(course)
    told = course.keep(~again)
    group = np.cumsum(np.diff(told.minutes, prepend=-np.inf) > 0) - 1
    firsts = np.flatnonzero(np.diff(group, prepend=-1))
    lasts = np.append(firsts[1:], len(group)) - 1
    differ = np.zeros(len(firsts), dtype=np.bool_)
    readings = {}
    for name, values in told.readings.items():
        readings[name], differs = _means(group, values)
        differ |= differs
    merged = LogCourse(told.minutes[firsts], readings, told.lines[firsts])
    pairs = zip(told.lines[firsts[differ]].tolist(), told.lines[lasts[differ]].tolist(), strict=True)
    return MergedCourse(merged, course.lines[again].tolist(), list(pairs))


def _means(group: NDArray[np.int64], values: Numbers) -> tuple[Numbers, NDArray[np.bool_]]:
    """The mean of each group's values, nan left out, and whether they differ; groups are counted from 0 in order."""
    has, groups = np.isfinite(values), int(group[-1]) + 1
    count = np.bincount(group[has], minlength=groups)
    least, most = np.full(groups, np.inf), np.full(groups, -np.inf)
    np.minimum.at(least, group[has], values[has])
    np.maximum.at(most, group[has], values[has])
    total = np.bincount(group[has], weights=values[has], minlength=groups)
    # what does not differ stays as it was read, to the last digit
    means = np.where(least == most, least, total / np.maximum(count, 1))
    return np.where(count > 0, means, np.nan), most > least


def _said_before(course: LogCourse) -> NDArray[np.bool_]:
    """Rows whose time and readings all stand in an earlier row."""
    columns = [course.minutes, *(np.nan_to_num(values, nan=-np.inf) for values in course.readings.values())]
    order = np.lexsort([np.arange(len(course.minutes)), *columns])
    ranked = np.stack(columns)[:, order]
    same = np.all(ranked[:, 1:] == ranked[:, :-1], axis=0)
    again = np.zeros(len(order), dtype=np.bool_)
    again[order[1:][same]] = True
    return again

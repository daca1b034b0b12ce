"""One log, from text to arrays."""

from __future__ import annotations

from datetime import datetime

import numpy as np

from journal.problems import Problem, Severity, Source
from journal.reading.logs.cells import Times, number_problem, numbers, order_problem, time_problem, times
from journal.reading.logs.clean import one_time_twice, without_outliers
from journal.reading.logs.course import LogCourse, merge
from journal.reading.logs.kept import in_kept_units
from journal.reading.logs.log import Log
from journal.reading.logs.table import Table, and_more, plain, read_table

#: What a mash's log must have; anything else asked for is taken to be of a fermenting beer.
MASH = ("temperature",)


def read_log(source: Source, wants: tuple[str, ...]) -> tuple[Log | None, tuple[Problem, ...]]:
    """The log in a file's text, and every problem with its place in that file; None where a problem is an error.

    wants: the columns to read, of "temperature" and "gravity"; the log has at least one of them. Never raises for what a
    logger wrote.
    """
    table, problems = read_table(plain(source), wants)
    if table is None or _refused(problems):
        return None, tuple(problems)
    found, read, more = _course(table)
    problems += more
    if found is None or read is None:
        return None, tuple(problems)
    course, more = in_kept_units(table, found, mash=wants == MASH)
    problems += more
    if _refused(problems):
        return None, tuple(problems)
    course, more = without_outliers(table, course, mash=wants == MASH)
    problems += more
    if not len(course.minutes):
        return None, (*problems, _nothing_read(table))
    merged = merge(course)
    problems += one_time_twice(table, merged)
    return _log(table, merged.course, read), tuple(problems)


def _refused(problems: list[Problem]) -> bool:
    return any(problem.severity is Severity.ERROR for problem in problems)


def _course(table: Table) -> tuple[LogCourse | None, Times | None, list[Problem]]:
    """The readings in the units of the file, by rows that have one, in order of time; None with the errors otherwise."""
    read = times(table.columns["time"], table.header.columns["time"].unit)
    problems = [time_problem(table, read)] if read.bad else []
    readings = {}
    for name in table.columns:
        if name != "time":
            column = numbers(table.columns[name])
            readings[name] = column.values
            problems += [number_problem(table, name, column.bad)] if column.bad else []
    if problems:
        return None, None, problems
    course = LogCourse(read.minutes, readings, np.array(table.lines, dtype=np.int64))
    timeless = np.flatnonzero(np.isnan(course.minutes) & course.read)
    if len(timeless):
        message = f"the row has a reading and no time{and_more(len(timeless) - 1)}"
        place = table.line(int(course.lines[timeless[0]]))
        return None, None, [Problem("log-time", message, "Write its time, or remove the row.", place)]
    backwards = order_problem(table, course.minutes)
    if backwards:
        return None, None, [backwards]
    course = course.keep(course.read)
    if not len(course.minutes):
        return None, None, [_nothing_read(table)]
    return course, read, []


def _nothing_read(table: Table) -> Problem:
    rows = "row" if len(table.lines) == 1 else f"{len(table.lines)} rows"
    hint = "Export the log again, or take its name out of the entry."
    return Problem("log-empty", f"the log has no reading in its {rows}", hint, table.line(table.lines[0]))


def _log(table: Table, course: LogCourse, read: Times) -> Log:
    start: datetime | None = None
    minutes = course.minutes
    if read.moments is not None:
        first = read.moments[table.lines.index(int(course.lines[0]))]
        start = first.replace(tzinfo=None) if first else None
        minutes = minutes - minutes[0]
    readings = course.readings
    return Log(table.source, start, minutes, readings.get("temperature"), readings.get("gravity"), course.lines)

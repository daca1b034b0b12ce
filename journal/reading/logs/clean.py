"""What is left out of a log or made one in it, each with a note: nothing goes in silence."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

import numpy as np

from journal.problems import Problem
from journal.reading.logs import plausible
from journal.reading.logs.course import LogCourse, MergedCourse
from journal.reading.logs.plausible import Marks, Numbers
from journal.reading.logs.table import Table

#: How many runs of lines a note names.
_RUNS_NAMED = 4


def without_outliers(table: Table, course: LogCourse, mash: bool) -> tuple[LogCourse, list[Problem]]:
    """The course without readings that can't be of the mash or beer, each kind noted with its lines."""
    problems = []
    readings = {}
    for name, values in course.readings.items():
        out = _temperatures_out(course.minutes, values, mash) if name == "temperature" else _gravities_out(values)
        readings[name] = _without(values, *out.values())
        problems += _left_out(table, course, name, out)
    kept = LogCourse(course.minutes, readings, course.lines)
    return kept.keep(kept.read), problems


def _temperatures_out(minutes: Numbers, values: Numbers, mash: bool) -> dict[str, Marks]:
    """What is wrong, and where, in order: each is looked for in what the ones before it left."""
    impossible = plausible.no_temperature(values)
    power_on = plausible.power_on(_without(values, impossible))
    out = {
        f"outside −{-plausible.COLDEST:.0f} to {plausible.HOTTEST:.0f} °C": impossible,
        f"at a digital probe's power-on value of {plausible.POWER_ON:.0f} °C": power_on,
    }
    if mash:
        out["of a probe out of the mash"] = plausible.pulled_out(minutes, _without(values, impossible, power_on))
    return out


def _gravities_out(values: Numbers) -> dict[str, Marks]:
    range_ = f"outside {plausible.LEAST_GRAVITY:.3f} to {plausible.GREATEST_GRAVITY:.3f}"
    return {range_: plausible.no_gravity(values)}


def _without(values: Numbers, *marks: Marks) -> Numbers:
    return np.where(np.any(marks, axis=0), np.nan, values)


def _left_out(table: Table, course: LogCourse, name: str, out: dict[str, Marks]) -> list[Problem]:
    count = sum(int(marks.sum()) for marks in out.values())
    if not count:
        return []
    reasons = [
        f"{int(marks.sum())} {why} ({lines_in_words(course.lines[marks].tolist())})"
        for why, marks in out.items()
        if marks.any()
    ]
    first = int(course.lines[np.any(list(out.values()), axis=0)][0])
    readings = "1 reading" if count == 1 else f"{count} readings"
    message = f"{readings} of `{name}` left out: {', '.join(reasons)}"
    return [Problem("log-reading-left-out", message, "", table.line(first))]


def lines_in_words(lines: list[int]) -> str:
    """`line 12`, `lines 3, 40–44`, with at most four runs named."""
    starts = [0, *(index for index, (a, b) in enumerate(pairwise(lines), start=1) if b != a + 1), len(lines)]
    runs = [(lines[a], lines[b - 1]) for a, b in pairwise(starts)]
    named = ", ".join(str(a) if a == b else f"{a}–{b}" for a, b in runs[:_RUNS_NAMED])
    more = len(lines) - starts[min(_RUNS_NAMED, len(runs))]
    return f"line{'s' if len(lines) > 1 else ''} {named}" + (f" and {more} more" if more else "")


def one_time_twice(table: Table, merged: MergedCourse) -> Iterator[Problem]:
    """Notes on rows that became one."""
    count = len(merged.repeated)
    if count:
        rows = (
            "this row is in the log already"
            if count == 1
            else f"{count} rows are in the log already, the first of them here"
        )
        message = f"{rows}, with the same time and readings, and count{'s' if count == 1 else ''} once"
        yield Problem("log-row-repeated", message, "", table.line(merged.repeated[0]))
    if merged.disagreeing:
        first, last = merged.disagreeing[0]
        others = len(merged.disagreeing) - 1
        more = f"; {others} more {'time has' if others == 1 else 'times have'} such rows" if others else ""
        message = f"the rows of one time have different readings, and their mean is taken{more}"
        hint = "Let the logger write seconds too, or keep one row for each time."
        yield Problem("log-rows-disagree", message, hint, table.line(last), expected_by=table.line(first))

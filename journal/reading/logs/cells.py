"""From cells to numbers: times as minutes, readings in the unit of their column. Fast where all is well."""

from __future__ import annotations

import re
from datetime import datetime, timedelta

import numpy as np
from numpy.typing import NDArray

from journal.frozen import dataclass
from journal.measures.units import TIME
from journal.problems import Problem
from journal.reading.logs.header import CLOCK, GAPS, ISO, SECOND
from journal.reading.logs.table import Table, and_more

_NUMBER = re.compile(r"[+-]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]{1,3})?")
_COMMA = re.compile(r"[+-]?[0-9]*,[0-9]+")
_CLOCK = re.compile(r"([0-9]{1,6}):([0-5]?[0-9]):([0-5]?[0-9](?:\.[0-9]+)?)")
_TIME_OF_DAY = re.compile(r"[0-9]{1,2}:[0-9]{2}(:[0-9]{2}(\.[0-9]+)?)?")
#: No elapsed time and no reading is larger than this.
_LARGEST = 1e9
_MINUTE = timedelta(minutes=1)


@dataclass(frozen=True)
class Numbers:
    """A column of numbers, nan for gaps; `bad` are the rows that hold something else."""

    values: NDArray[np.float64]
    bad: list[int]


@dataclass(frozen=True)
class Times:
    """Minutes from some zero, nan for gaps; `moments` as the clock showed them, None for elapsed time; `bad` as in Numbers."""

    minutes: NDArray[np.float64]
    moments: list[datetime | None] | None
    bad: list[int]


def numbers(cells: list[str]) -> Numbers:
    """A column of plain numbers."""
    values = _plain_numbers(cells)
    if values is not None:
        return Numbers(values, [])
    values, bad = np.full(len(cells), np.nan), []
    for row, cell in enumerate(cells):
        if _NUMBER.fullmatch(cell) and abs(float(cell)) <= _LARGEST:
            values[row] = float(cell)
        elif cell.lower() not in GAPS:
            bad.append(row)
    return Numbers(values, bad)


def _plain_numbers(cells: list[str]) -> NDArray[np.float64] | None:
    """The column at the speed of Python's own conversion; None where a cell is no number, or one that only Python takes."""
    joined = "".join(cells)
    if "_" in joined or not joined.isascii():
        return None
    try:
        values = np.array(list(map(float, cells)), dtype=np.float64)
    except ValueError:
        try:
            values = np.array([float("nan" if cell in GAPS else cell) for cell in cells], dtype=np.float64)
        except ValueError:
            return None
    return None if (np.abs(values) > _LARGEST).any() else values


def times(cells: list[str], unit: str) -> Times:
    """A column of times in one of the units of a header."""
    if unit == ISO:
        return _moments(cells)
    if unit == CLOCK:
        return _clock(cells)
    read = numbers(cells)
    minutes = read.values / 60.0 if unit == SECOND else read.values * TIME.to_kept(1.0, unit)
    return Times(minutes, None, read.bad)


def _clock(cells: list[str]) -> Times:
    minutes, bad = np.full(len(cells), np.nan), []
    for row, cell in enumerate(cells):
        found = _CLOCK.fullmatch(cell)
        if found:
            minutes[row] = int(found[1]) * 60 + int(found[2]) + float(found[3]) / 60
        elif cell.lower() not in GAPS:
            bad.append(row)
    return Times(minutes, None, bad)


def _moments(cells: list[str]) -> Times:
    """ISO 8601 with hyphens; all with an offset from UTC or none."""
    moments: list[datetime | None]
    bad: list[int] = []
    try:
        moments = list(map(_moment, cells))
    except ValueError:
        moments, bad = _moments_one_by_one(cells)
    first = next((moment for moment in moments if moment), None)
    if first is None:
        return Times(np.full(len(cells), np.nan), moments, bad)
    try:
        minutes = [np.nan if moment is None else (moment - first) / _MINUTE for moment in moments]
    except TypeError:  # some have an offset and some have none
        mixed = [i for i, m in enumerate(moments) if m and (m.tzinfo is None) != (first.tzinfo is None)]
        return Times(np.full(len(cells), np.nan), moments, sorted({*bad, *mixed}))
    return Times(np.array(minutes, dtype=np.float64), moments, bad)


def _moment(cell: str) -> datetime | None:
    """A date and time, None for a gap; raises ValueError for anything else."""
    if cell[4:5] == "-":  # without hyphens a long number would be taken for a date
        return datetime.fromisoformat(cell)
    if cell.lower() in GAPS:
        return None
    raise ValueError(cell)


def _moments_one_by_one(cells: list[str]) -> tuple[list[datetime | None], list[int]]:
    moments: list[datetime | None] = []
    bad = []
    for row, cell in enumerate(cells):
        try:
            moments.append(_moment(cell))
        except ValueError:
            moments.append(None)
            bad.append(row)
    return moments, bad


def number_problem(table: Table, column: str, bad: list[int]) -> Problem:
    """What to say of the first cell of a column that is no number; the others are counted."""
    cell, more = _short(table.columns[column][bad[0]]), and_more(len(bad) - 1)
    place = table.place(bad[0], column)
    if _COMMA.fullmatch(cell):
        hint = f"Write {cell.replace(',', '.')} with a decimal point, and so in every row."
        return Problem("decimal-comma", f"“{cell}” has a decimal comma{more}", hint, place)
    if _NUMBER.fullmatch(cell):
        return Problem(
            "number-out-of-range",
            f"{cell} can't be meant{more}",
            "Write what the logger showed, or leave the cell empty.",
            place,
        )
    hint = "Write a plain number with a decimal point, or leave the cell empty where there is no reading."
    return Problem("number-unreadable", f"“{cell}” is no number{more}", hint, place)


def time_problem(table: Table, times: Times) -> Problem:
    """What to say of the first time that can't be read."""
    row = times.bad[0]
    if table.header.columns["time"].unit not in (ISO, CLOCK):
        return number_problem(table, "time", times.bad)
    cell, more = _short(table.columns["time"][row]), and_more(len(times.bad) - 1)
    return Problem("not-a-time", *_time_words(cell, more, table, times), table.place(row, "time"))


def _time_words(cell: str, more: str, table: Table, times: Times) -> tuple[str, str]:
    if table.header.columns["time"].unit == CLOCK:
        return f"“{cell}” is no time in hours, minutes and seconds{more}", "Write it like this: 1:05:30."
    if times.moments and times.moments[times.bad[0]]:
        message = f"“{cell}” and the rows before it differ in having an offset from UTC{more}"
        return message, "Write the offset in every row, such as 2026-04-11T17:30+02:00, or in none."
    if _NUMBER.fullmatch(cell):
        message = f"“{cell}” is no date and time, and the header gives `time` no unit{more}"
        return message, "Write the unit in the header, such as time (min), or dates such as 2026-04-11 17:30."
    if _TIME_OF_DAY.fullmatch(cell):
        message = f"“{cell}” is a time without its date{more}"
        return message, "Write 2026-04-11 17:30, or time (h:mm:ss) in the header if it counts from the start."
    return f"“{cell}” is no date and time of the calendar{more}", "Write it like this: 2026-04-11 17:30."


def _short(cell: str) -> str:
    return cell if len(cell) <= 40 else cell[:39] + "…"


def order_problem(table: Table, minutes: NDArray[np.float64]) -> Problem | None:
    """Times that run backwards, nan for rows without one; None where they don't."""
    timed = np.flatnonzero(np.isfinite(minutes))
    steps = np.diff(minutes[timed])
    back = np.flatnonzero(steps < 0)
    if not len(back):
        return None
    before, row = int(timed[back[0]]), int(timed[back[0] + 1])
    cells = table.columns["time"]
    message = f"the time {_short(cells[row])} comes after {_short(cells[before])}{and_more(len(back) - 1)}"
    hint = "Put the rows in order of time; where a logger was started again, keep one course."
    if len(back) == len(steps) and len(back) > 1:
        hint = "The newest row stands first: put the oldest first."
    elif table.header.columns["time"].unit == ISO:
        hint += " Where the clock was put back, write each time with its offset, such as 2026-10-25T02:30+01:00."
    return Problem("log-time", message, hint, table.place(row, "time"), expected_by=table.place(before, "time"))

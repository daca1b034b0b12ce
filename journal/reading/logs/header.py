"""The header of a log: which column holds what, in which unit, and what stands between the columns."""

from __future__ import annotations

import re
from datetime import datetime

from journal.frozen import dataclass
from journal.measures.units import TEMPERATURE, TIME
from journal.problems import Place, Problem, Source, Span
from journal.reading.logs.log import line_span

ISO = "ISO"
CLOCK = "h:mm:ss"
SECOND = "second"
HYDROMETER = "SG"
PLATO = "°P"
#: What a cell without a reading holds, in small letters.
GAPS = frozenset({"", "nan", "-", "--", "---"})

#: How each column's unit may be written; the empty text is a column without one.
UNITS: dict[str, dict[str, str]] = {
    "time": {"": ISO, "ISO": ISO, "ISO 8601": ISO, CLOCK: CLOCK, "s": SECOND, "seconds": SECOND, **TIME.written},
    "temperature": TEMPERATURE.written,
    "gravity": {"": HYDROMETER, "SG": HYDROMETER, "°P": PLATO, "P": PLATO, "Plato": PLATO},
}
_EXAMPLES = {"time": "time (min)", "temperature": "temperature (degC)", "gravity": "gravity"}
_DELIMITERS = ("\t", ";", ",")
_TITLE = re.compile(r"(?P<name>[^()\[\]]*?)\s*[(\[](?P<unit>[^()\[\]]*)[)\]]")
_QUOTED = r'\s*"(?:[^"]|"")*"\s*'


@dataclass(frozen=True)
class LogColumn:
    """A column that is read: where it stands, from 0, and its unit by the name `UNITS` gives it."""

    index: int
    unit: str


@dataclass(frozen=True)
class Header:
    """The columns that are wanted, by name, how rows are cut, and the line it stands in, from 1."""

    line: int
    delimiter: str
    width: int
    columns: dict[str, LogColumn]


#: Columns of a log, at most: no logger has as many instruments.
MOST_COLUMNS = 1000


def cell_spans(line: str, delimiter: str) -> list[Span]:
    """Where the cells of a line stand in it, quotes and the white space around them left out; of those beyond the most, the first."""
    quoted = re.compile(rf"{_QUOTED}(?={re.escape(delimiter)}|$)") if '"' in line else None
    spans: list[Span] = []
    start = 0
    while start <= len(line) and len(spans) <= MOST_COLUMNS:
        cut = line.find(delimiter, start)
        end = cut if cut >= 0 else len(line)
        if quoted and '"' in line[start:end] and (found := quoted.match(line, start)):
            end = found.end()
        written = line[start:end]
        inner = written.strip().removeprefix('"').removesuffix('"') if '"' in written else written.strip()
        lead = written.find(inner)
        spans.append(Span(start + lead, start + lead + len(inner)))
        start = end + 1
    return spans


def cell_place(source: Source, line: int, delimiter: str, index: int) -> Place:
    """The place of a cell, counted from 0, in a line, counted from 1; the whole line where it has no such cell."""
    whole = line_span(source, line)
    spans = cell_spans(source.text[whole.start : whole.end], delimiter)
    if index >= len(spans):
        return Place(source, whole)
    return Place(source, whole.within(spans[index].start, spans[index].end))


def _example(wants: tuple[str, ...], delimiter: str) -> str:
    """What to write: a header that names everything wanted."""
    names = [_EXAMPLES[name] for name in ("time", *wants)]
    if delimiter == "\t":
        return f"Write a header such as: {' and '.join(names)}, with a tab between."
    return f"Write a header such as: {delimiter.join(names)}"


def _parted(title: str) -> tuple[str, str]:
    """A column's name in small letters, and its unit as written."""
    found = _TITLE.fullmatch(title)
    return (found["name"].strip().lower(), found["unit"].strip()) if found else (title.lower(), "")


def _titles(line: str, delimiter: str) -> list[str]:
    return [line[span.start : span.end] for span in cell_spans(line, delimiter)]


def _delimiter(line: str) -> str:
    """The one that cuts the header into most known names; the comma where none does."""

    def known(delimiter: str) -> tuple[int, int]:
        names = [_parted(title)[0] for title in _titles(line, delimiter)]
        return sum(name in UNITS for name in names), len(names)

    return max(reversed(_DELIMITERS), key=known)


def _is_value(cell: str) -> bool:
    if cell.lower() in GAPS:
        return True
    try:
        float(cell.replace(",", "."))
    except ValueError:
        pass
    else:
        return True
    try:
        datetime.fromisoformat(cell)
    except ValueError:
        return re.fullmatch(r"\d+(:\d+)+", cell) is not None
    return True


def _unit_problem(name: str, unit: str, place: Place) -> Problem:
    known = ", ".join(f"{name} ({written})" if written else name for written in UNITS[name])
    if not unit:
        return Problem("unit-missing", f"the column `{name}` has no unit", f"Write one of: {known}.", place)
    message = f"“{unit}” is no unit of the column `{name}`"
    return Problem("unit-unknown", message, f"Write one of: {known}.", place)


def read_header(source: Source, number: int, line: str, wants: tuple[str, ...]) -> tuple[Header | None, list[Problem]]:
    """The columns that the header in this line names; None with the reason where the wanted ones can't be told."""
    delimiter = _delimiter(line)
    spans = cell_spans(line, delimiter)
    titles = [line[span.start : span.end] for span in spans]
    whole = Place(source, line_span(source, number))
    if len(titles) > MOST_COLUMNS:
        message = f"the header names more than {MOST_COLUMNS} columns"
        return None, [Problem("log-header", message, "Export only the columns that are needed.", whole)]
    hint = _example(wants, delimiter)
    if all(_is_value(title) for title in titles):
        message = "the log has no header: its first line holds values already"
        return None, [Problem("log-header", message, hint, whole)]
    columns: dict[str, LogColumn] = {}
    problems, unread = [], []
    for index, title in enumerate(titles):
        name, unit = _parted(title)
        place = Place(source, whole.span.within(spans[index].start, spans[index].end))
        if name not in ("time", *wants):
            unread.append(title)
        elif name in columns:
            message = f"the header names `{name}` twice"
            problems.append(Problem("log-header", message, "Give the one that is not to be read another name.", place))
        else:
            units = {written.lower(): meant for written, meant in UNITS[name].items()}
            if unit.lower() not in units:
                problems.append(_unit_problem(name, unit, place))
            columns[name] = LogColumn(index, units.get(unit.lower(), ""))
    problems += _missing(columns, wants, titles, hint, whole)
    if problems:
        return None, problems
    return Header(number, delimiter, len(titles), columns), _unread([title for title in unread if title], whole)


def _missing(
    columns: dict[str, LogColumn], wants: tuple[str, ...], titles: list[str], hint: str, place: Place
) -> list[Problem]:
    message = ""
    if "time" not in columns:
        message = "the header names no `time`"
    elif not any(name in columns for name in wants):
        message = f"the header names no {' and no '.join(f'`{name}`' for name in wants)}"
    has = ", ".join(_short(title) for title in titles if title)
    return [Problem("log-header", f"{message}; it has {has}", hint, place)] if message else []


def _unread(titles: list[str], place: Place) -> list[Problem]:
    if not titles:
        return []
    named = ", ".join(f"“{_short(title)}”" for title in titles)
    message = f"the column {named} is not read" if len(titles) == 1 else f"the columns {named} are not read"
    return [Problem("log-column-unread", message, "", place)]


def _short(text: str) -> str:
    return text if len(text) <= 40 else text[:39] + "…"

"""From text to cells: a log's lines cut into columns, each row with the line it stands in."""

from __future__ import annotations

import csv
import re
from itertools import compress, repeat

from journal.frozen import dataclass
from journal.problems import Place, Problem, Source
from journal.reading.logs.header import Header, cell_place, read_header
from journal.reading.logs.log import line_span


@dataclass(frozen=True)
class Table:
    """The wanted columns as text: `columns` by name, all of one length, and each row's line, from 1."""

    source: Source
    header: Header
    columns: dict[str, list[str]]
    lines: list[int]

    def place(self, row: int, column: str) -> Place:
        """Where the cell of a row, counted from 0, stands in the file."""
        return cell_place(self.source, self.lines[row], self.header.delimiter, self.header.columns[column].index)

    def title(self, column: str) -> Place:
        """Where the header names a column."""
        return cell_place(self.source, self.header.line, self.header.delimiter, self.header.columns[column].index)

    def line(self, number: int) -> Place:
        """The whole of a line, counted from 1."""
        return Place(self.source, line_span(self.source, number))


def plain(source: Source) -> Source:
    """The file without a byte order mark and with line feeds only, as its places are counted."""
    text = source.text.removeprefix("\ufeff")
    if "\r" in text:
        text = text.replace("\r\n", "\n").replace("\r", "\n")
    return source if text is source.text else Source(source.name, text)


def read_table(source: Source, wants: tuple[str, ...]) -> tuple[Table | None, list[Problem]]:
    """The wanted columns of a plain file, and what is wrong with its header or the shape of its rows."""
    numbers, lines = _lines(source.text)
    if not lines:
        hint = "Export the log again, or take its name out of the entry."
        return None, [Problem("log-empty", f"{source.name} is empty", hint, Place(source, line_span(source, 1)))]
    header, problems = read_header(source, numbers[0], lines[0], wants)
    if header is None:
        return None, problems
    even = _even_columns(header, lines[1:])
    if even:
        return Table(source, header, even, numbers[1:]), problems
    try:
        rows, starts = _rows(lines[1:], header.delimiter)
    except _TornError as torn:
        place = Place(source, line_span(source, numbers[1 + torn.row]))
        return None, [*problems, Problem("log-row", "the quotes in this row don't close", "Close them.", place)]
    numbers = [numbers[1 + start] for start in starts]
    if not rows:
        place = Place(source, line_span(source, source.text.count("\n", 0, len(source.text.rstrip())) + 1))
        hint = "Export the log again, or take its name out of the entry."
        return None, [*problems, Problem("log-empty", "the log has a header and no row", hint, place)]
    problems += _too_wide(source, header, rows, numbers)
    return Table(source, header, _columns(header, rows), numbers), problems


def _lines(text: str) -> tuple[list[int], list[str]]:
    """The lines that hold something, each with its number."""
    lines = text.split("\n")
    held = list(map(str.strip, lines))
    if "#" in text:
        held = ["" if line.startswith("#") else line for line in held]
    return list(compress(range(1, len(lines) + 1), held)), list(compress(lines, held))


def _even_columns(header: Header, lines: list[str]) -> dict[str, list[str]] | None:
    """The wanted columns where every row is as wide as the header and nothing is quoted, as in most logs; else None.

    One split of the whole text takes a third of the time of one a line.
    """
    text = header.delimiter.join(lines)
    if '"' in text or set(map(str.count, lines, repeat(header.delimiter))) != {header.width - 1}:
        return None
    cells = text.split(header.delimiter)
    return {name: list(map(str.strip, cells[column.index :: header.width])) for name, column in header.columns.items()}


class _TornError(Exception):
    """Quotes that don't close, from `row` on."""

    def __init__(self, row: int) -> None:
        super().__init__(row)
        self.row = row


def _rows(lines: list[str], delimiter: str) -> tuple[list[list[str]], list[int]]:
    """Each row's cells, and the index of the line it starts in; raises `_TornError`."""
    if not any('"' in line for line in lines):
        return [line.split(delimiter) for line in lines], list(range(len(lines)))
    if any('" ' in line for line in lines):
        # `strict` finds quotes that don't close, and would not have the blanks behind one that does
        lines = [re.sub(rf'" +(?={delimiter}|$)', '"', line) for line in lines]
    reader = csv.reader(lines, delimiter=delimiter, skipinitialspace=True, strict=True)
    rows, starts, start = [], [], 0
    try:
        for row in reader:
            rows.append(row)
            starts.append(start)
            start = reader.line_num
    except csv.Error:
        raise _TornError(start) from None
    return rows, starts


def _too_wide(source: Source, header: Header, rows: list[list[str]], numbers: list[int]) -> list[Problem]:
    """Rows with more cells than the header names; empty cells beyond the last column don't count."""
    width = header.width
    if max(map(len, rows)) <= width:
        return []
    wide = [index for index, row in enumerate(rows) if len(row) > width and any(map(str.strip, row[width:]))]
    if not wide:
        return []
    first = wide[0]
    message = f"the row has {len(rows[first])} cells, and the header names {width} columns{and_more(len(wide) - 1)}"
    hint = "Write decimals with a point, and one name in the header for each column."
    return [Problem("log-row", message, hint, Place(source, line_span(source, numbers[first])))]


def _columns(header: Header, rows: list[list[str]]) -> dict[str, list[str]]:
    """The wanted columns, white space around cells left out; a row that ends early has empty cells."""
    wanted = {name: column.index for name, column in header.columns.items()}
    least = min(map(len, rows))
    return {
        name: [row[index].strip() for row in rows]
        if index < least
        else [row[index].strip() if index < len(row) else "" for row in rows]
        for name, index in wanted.items()
    }


def and_more(others: int) -> str:
    """`; 12 more rows have a fault`, or nothing for none."""
    if others == 0:
        return ""
    return f"; {others} more {'row has' if others == 1 else 'rows have'} a fault"

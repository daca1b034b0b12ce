"""A table of earlier batches, understood whole before anything is written."""

from __future__ import annotations

import csv
import io
from collections import Counter
from collections.abc import Sequence

from journal.frozen import dataclass
from journal.problems import did_you_mean
from journal.publishing.refused import Refused
from journal.publishing.table.heads import Column, LeftAlone, read_heads, read_map
from journal.publishing.table.rows import EntryOfRow, entry_of_row
from journal.reading.known_readings import VOLUME, read_at

#: No notebook has as many; beyond them the table is refused by name rather than worked at for minutes.
MOST_COLUMNS, MOST_ROWS, LONGEST_TABLE = 1_000, 20_000, 64 * 2**20
#: Signs that part a table's cells.
_DELIMITERS = (",", ";", "\t")


@dataclass(frozen=True)
class Taken:
    """A table as it was understood.

    `heads` are its columns in order; `samples` the first cell of each that is not blank; `rows` the entries, in the table's
    order; `skipped` what rows were left out, and why.
    """

    heads: tuple[Column | LeftAlone, ...]
    samples: tuple[str, ...]
    rows: tuple[EntryOfRow, ...]
    skipped: tuple[str, ...]


class _TableFault(Exception):  # noqa: N818  # never leaves this module
    """Why a table can't be taken in, in one line."""


def take_in(table: bytes, map_text: str = "", taken_ids: frozenset[str] = frozenset()) -> Taken | Refused:
    """What a table's rows are as entries; nothing is written.

    `map_text` says what heads mean that are not fields' paths. `taken_ids` are batches that the journal has: their rows are
    left out. A table whose heads can't be right, without a date, or with one batch in two rows is refused.
    """
    try:
        return _take_in(table, map_text, taken_ids)
    except _TableFault as fault:
        return Refused(str(fault))


def _take_in(table: bytes, map_text: str, taken_ids: frozenset[str]) -> Taken:
    cells = _cells(table)
    heads = _heads(cells[0], map_text)
    columns = [head for head in heads if isinstance(head, Column)]
    body = [(number, row) for number, row in enumerate(cells[1:], 2) if any(cell.strip() for cell in row)]
    batch = next((column.place for column in columns if column.field.text == "batch"), None)
    ids = [row[batch].strip() for _, row in body if batch is not None and batch < len(row)]
    for name, times in Counter(ids).items():
        if name and times > 1:
            raise _TableFault(f"batch {name} stands in {times} rows. Give each row a batch of its own.")
    rows, skipped = _rows(body, columns, taken_ids, frozenset(ids))
    samples = tuple(
        next((row[place].strip() for _, row in body if place < len(row) and row[place].strip()), "")
        for place in range(len(heads))
    )
    return Taken(tuple(heads), samples, tuple(rows), tuple(skipped))


def _heads(written: Sequence[str], map_text: str) -> list[Column | LeftAlone]:
    meanings, wrong = read_map(map_text)
    if wrong:
        raise _TableFault(wrong[0])
    here = {" ".join(head.split()) for head in written}
    for name in meanings:
        if name not in here:
            hint = did_you_mean(name, here, "Write it as it stands in the table's first row.")
            raise _TableFault(f"the map speaks of a column “{name}”, and the table has none. {hint}")
    heads = read_heads(written, meanings)
    for head in heads:
        if isinstance(head, LeftAlone) and head.fatal:
            raise _TableFault(f"column “{head.head}”: {head.why}.")
    if not any(isinstance(head, Column) and head.field.text == "brewed" for head in heads):
        raise _TableFault(
            "no column says when a batch was brewed. Call it brewed (DD.MM.YYYY), or however its dates are written, "
            "or say so in a map: Date = brewed, DD.MM.YYYY."
        )
    return heads


def _rows(
    body: Sequence[tuple[int, list[str]]], columns: Sequence[Column], taken: frozenset[str], stated: frozenset[str]
) -> tuple[list[EntryOfRow], list[str]]:
    rows: list[EntryOfRow] = []
    skipped: list[str] = []
    free = max((int(name) for name in taken | stated if name.isdecimal()), default=0) + 1
    for number, row in body:
        entry = entry_of_row(number, row, columns, str(free))
        name = entry.batch.id
        free += name == str(free)
        if name in taken:
            skipped.append(f"row {number}: batch {name} is in the journal already; its entry is left as it is")
        else:
            rows.append(entry)
    return rows, skipped


def _cells(table: bytes) -> list[list[str]]:
    if len(table) > LONGEST_TABLE:
        raise _TableFault(f"the table has {len(table) / 2**20:.0f} MiB; {LONGEST_TABLE // 2**20} MiB are the most.")
    try:
        text = table.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise _TableFault(f"the table is not UTF-8 (byte {error.start + 1}). Save it as CSV, UTF-8.") from None
    first = text.partition("\n")[0]
    delimiter = max(_DELIMITERS, key=first.count)
    csv.field_size_limit(LONGEST_TABLE)
    try:
        cells = [row for row in csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True) if row]
    except csv.Error as error:
        raise _TableFault(f"the table can't be read as CSV: {error}.") from None
    if not cells or not any(cell.strip() for cell in cells[0]):
        example = f"brewed (DD.MM.YYYY), title, {read_at('kettle', VOLUME).path} ({VOLUME})"
        raise _TableFault(f"the table has no heads. Its first row says what each column holds: {example}.")
    widest = max(map(len, cells))
    if widest > MOST_COLUMNS:
        raise _TableFault(f"the table has a row of {widest:,} cells; {MOST_COLUMNS:,} columns are the most.")
    if len(cells) - 1 > MOST_ROWS:
        raise _TableFault(f"the table has {len(cells) - 1:,} rows; {MOST_ROWS:,} are the most.")
    return cells

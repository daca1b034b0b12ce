"""A cell's text as the entry has it: its unit put behind the number, its date in the journal's form."""

from __future__ import annotations

import re
import unicodedata
from datetime import date

from journal.publishing.table.field_path import PROSE
from journal.publishing.table.heads import Column

#: Signs of a cell, at most; prose may be longer.
LONGEST_CELL, LONGEST_PROSE = 2_000, 1_000_000
#: A spreadsheet takes what begins so for a formula; an apostrophe before it makes it a text again.
_FORMULA = re.compile(r"'*[=+\-@\t\r]")
_NUMBER = r"[+-]?(?:\d+(?:\.\d+)?|\.\d+)"


class CellFault(Exception):  # noqa: N818  # never leaves the reading of one row
    """Why a cell can't be read."""


def guard(text: str) -> str:
    """A text as a cell that no spreadsheet takes for a formula; plain numbers stay numbers."""
    return f"'{text}" if _FORMULA.match(text) and not re.fullmatch(_NUMBER, text) else text


def unguard(cell: str) -> str:
    """The text of a cell: what `guard` put before it is taken away, and nothing else."""
    return cell[1:] if cell.startswith("'") and _FORMULA.match(cell[1:]) else cell


def entry_text(cell: str, column: Column) -> str:
    """What stands in the entry for a cell that is not blank; empty for none of a malt.

    Raises `CellFault` for signs that no text file should hold, too many of them, and a date that is none.
    """
    prose = column.field.parts == (PROSE,)
    text = unguard(cell) if prose else unguard(cell).strip()
    allowed = {"\n", "\t", "\r"} if prose else {"\n", "\t"}
    for sign in text:
        if unicodedata.category(sign) in {"Cc", "Cs"} and sign not in allowed:
            raise CellFault(f"it holds the sign U+{ord(sign):04X}, which no entry can")
    longest = LONGEST_PROSE if prose else LONGEST_CELL
    if len(text) > longest:
        raise CellFault(f"it has {len(text):,} signs; {longest:,} are the most")
    if prose:
        return text
    if column.dates:
        return _iso(text, column)
    if column.comma:
        text = re.sub(r"(?<=\d),(?=\d)", ".", text)
    if column.malt and re.fullmatch(r"0+(\.0*)?", text):
        # a table with a column a malt says so of what a grist is without
        return ""
    if column.unit:
        # a cell that brings its own unit keeps it
        bare = re.fullmatch(rf"({_NUMBER}(?:\s*(?:±|\+/-)\s*{_NUMBER})?)(\s+at\s.*)?", text)
        text = f"{bare[1]} {column.unit}{bare[2] or ''}" if bare else text
    return text


def _iso(text: str, column: Column) -> str:
    found = column.date_form.fullmatch(text)
    if not found:
        raise CellFault(f"“{text}” is not written {column.dates}")
    parts = found.groupdict()
    year = int(parts["year"]) if parts.get("year") else 2000 + int(parts["short"])
    try:
        day = date(year, int(parts["month"]), int(parts["day"])).isoformat()
    except ValueError:
        raise CellFault(f"“{text}” is no day of the calendar") from None
    return f"{day} {int(parts['hour']):02d}:{parts['minute']}" if parts.get("hour") and parts.get("minute") else day

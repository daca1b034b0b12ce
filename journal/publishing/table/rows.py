"""A row of a table as the text of an entry: what can be read as fields, what can't as remarks beneath them."""

from __future__ import annotations

import json
import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

from journal.problems import Severity, Source
from journal.publishing.begin.yaml_lines import quote
from journal.publishing.table.cells import CellFault, entry_text
from journal.publishing.table.field_path import PROSE, FieldPath, Parts, path_text
from journal.publishing.table.heads import Column
from journal.reading import Batch
from journal.reading.collect import read_entry
from journal.reading.table import fields_of

#: A number with what may follow it, or a date: plain text to YAML as it stands.
_PLAIN = re.compile(r"[+-]?\d[\w.±°%/+ :-]*[\w%]|\d")
#: A cell that couldn't be read is kept in a remark up to so many signs.
_LONGEST_REMARK = 200


@dataclass(frozen=True)
class UnreadCell:
    """A cell that the entry goes without: its column's place, from 0, and why."""

    place: int
    head: str
    why: str


@dataclass(frozen=True)
class EntryOfRow:
    """What a row came to. `batch` is what the text reads as; `number` is the row's, from 2, as a spreadsheet counts."""

    number: int
    text: str
    batch: Batch
    unread: tuple[UnreadCell, ...]


@dataclass
class _Draft:
    """The cells of one row that are still in, and those that had to go."""

    cells: dict[Parts, tuple[str, Column]] = field(default_factory=dict)
    unread: list[UnreadCell] = field(default_factory=list)

    def give(self, name: str, text: str) -> str:
        """Let a field have a text, unless the row has one; which of them it is now."""
        return self.cells.setdefault((name,), (text, Column(-1, name, FieldPath((name,), None))))[0]

    def drop(self, column: Column, why: str) -> None:
        """Go without a cell."""
        self.unread.append(UnreadCell(column.place, column.head, why))


def entry_of_row(number: int, row: Sequence[str], columns: Sequence[Column], next_id: str) -> EntryOfRow:
    """The entry of one row. `next_id` is what the batch is called where the row has no id that can be read.

    Cells are taken out, one after another, until the entry reads without an error; each is told of, and kept as a remark.
    """
    draft = _draft(row, columns)
    while True:
        batch_id = draft.give("batch", next_id)
        draft.give("title", f"Batch {batch_id}")
        text, owners = _text(draft, row)
        batch, problems = read_entry(Source(f"row {number}", text))
        # what is missing is no cell's fault: `check` asks for it
        errors = [p for p in problems if p.severity is Severity.ERROR and p.code != "field-missing"]
        blamed = {owners[p.line]: p for p in reversed(errors) if owners.get(p.line) in draft.cells}
        if not blamed or all(draft.cells[parts][1].place < 0 for parts in blamed):
            break
        for parts, problem in blamed.items():
            column = draft.cells.pop(parts)[1]
            draft.drop(column, problem.full_message.replace(f"`{path_text(parts)}`: ", "", 1))
    return EntryOfRow(number, text, batch or Batch(), tuple(sorted(draft.unread, key=lambda cell: cell.place)))


def _draft(row: Sequence[str], columns: Sequence[Column]) -> _Draft:
    draft = _Draft()
    written = [
        (column, row[column.place]) for column in columns if column.place < len(row) and row[column.place].strip()
    ]
    qualified: dict[tuple[Parts, str], tuple[str, Column]] = {}
    for column, cell in written:
        try:
            text = entry_text(cell, column)
        except CellFault as fault:
            draft.drop(column, str(fault))
            continue
        if column.malt and not text:
            continue
        if column.malt:
            place = len({parts[1] for parts in draft.cells if parts[0] == "grains" and len(parts) > 1})
            draft.cells["grains", place, "malt"] = (column.malt, column)
            draft.cells["grains", place, "weight"] = (text, column)
        elif column.qualifies:
            qualified[column.field.parts, column.qualifies] = (text, column)
        else:
            draft.cells[column.field.parts] = (text, column)
    for (parts, word), (text, column) in qualified.items():
        if parts not in draft.cells:
            draft.drop(column, "there is no reading that it could belong to")
        elif word == " at":
            draft.cells[parts] = (f"{draft.cells[parts][0]} at {text}", draft.cells[parts][1])
        else:
            whole, owner = draft.cells[parts]
            draft.cells[parts] = (re.sub(r"^([^\s]+)", rf"\1 ± {text}", whole, count=1), owner)
    return draft


def _scalar(text: str) -> str:
    return text if _PLAIN.fullmatch(text) and ": " not in text else quote(text)


def _text(draft: _Draft, row: Sequence[str]) -> tuple[str, dict[int, Parts]]:
    """The entry's text, and by line (from 1) whose cell stands there."""
    lines, owners = ["---"], dict[int, Parts]()
    order = {name: place for place, name in enumerate(fields_of(Batch))}
    fields = {parts: cell for parts, cell in draft.cells.items() if parts != (PROSE,)}
    tree: dict[Any, Any] = {}
    for parts in sorted(fields, key=lambda parts: order.get(str(parts[0]), 0)):
        node = tree
        for part in parts[:-1]:
            node = node.setdefault(part, {})
            if not isinstance(node, dict):
                break
        if not isinstance(node, dict) or isinstance(node.get(parts[-1]), dict):
            text, column = draft.cells.pop(parts)
            draft.drop(column, f"“{text}” and another column's cell can't both be `{path_text(parts[:-1])}`")
            continue
        node[parts[-1]] = (draft.cells[parts][0], parts)
    _block(tree, "", lines, owners)
    for cell in sorted(draft.unread, key=lambda cell: cell.place):
        shown = json.dumps(row[cell.place][:_LONGEST_REMARK], ensure_ascii=True)
        lines.append(f"# not read from the table: {' '.join(cell.head.split())}: {shown}")
    lines.append("---")
    prose = draft.cells.get((PROSE,), ("", None))[0]
    return "\n".join(lines) + "\n" + prose, owners


def _block(node: dict[Any, Any], indent: str, lines: list[str], owners: dict[int, Parts], lead: str = "") -> None:
    """The lines of a group or a list; `lead` stands before the first in the indent's place."""
    for key in sorted(node) if all(isinstance(key, int) for key in node) else node:
        value, start = node[key], lead or indent
        lead = ""
        name = f"{start}-" if isinstance(key, int) else f"{start}{quote(key)}:"
        if isinstance(value, tuple):
            lines.append(f"{name} {_scalar(value[0])}")
            owners[len(lines)] = value[1]
        elif isinstance(key, int):
            _block(value, f"{indent}  ", lines, owners, f"{name} ")
        else:
            lines.append(name)
            _block(value, f"{indent}  ", lines, owners)

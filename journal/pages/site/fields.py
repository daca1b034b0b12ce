"""The page on how an entry is written: the field table and the units, told to a brewer."""

from __future__ import annotations

from itertools import groupby

from journal.frozen import dataclass
from journal.measures.units import KINDS
from journal.pages.index import Index
from journal.pages.model import Model
from journal.pages.paths import slug
from journal.problems import capital
from journal.reading.schema import FieldLine, field_lines
from journal.reading.values import Text


@dataclass(frozen=True)
class FieldRow:
    """One field: its path in the file, what it holds, how that is written (empty for a group), whether it must be there."""

    anchor: str
    path: str
    meaning: str
    written: str
    required: bool


@dataclass(frozen=True)
class FieldGroup:
    """A field that holds others, and those; None where they stand alone."""

    head: FieldRow | None
    fields: tuple[FieldRow, ...]


@dataclass(frozen=True)
class FieldFile:
    """The fields of one file of a journal."""

    anchor: str
    name: str
    holds: str
    groups: tuple[FieldGroup, ...]


@dataclass(frozen=True)
class UnitRow:
    """A kind of quantity: an example of it, and every spelling of its units."""

    kind: str
    example: str
    spellings: tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class FieldsModel(Model):
    """Every field of every file, and every unit."""

    files: tuple[FieldFile, ...]
    units: tuple[UnitRow, ...]

#: Each file that has a table: what it is called in a journal, and what it holds.
_FILES = (
    ("entry", "A batch’s file", "The front matter of every file under entries/ that ends in .md, one batch each."),
    ("brewery", "brewery.yaml", "Name, instruments and vessels, in entries/. All of it may be left out."),
    (
        "malts",
        "malts.yaml",
        "The sheets of the malts, lot by lot, in entries/. NAME stands for what you call the malt.",
    ),
)


def _written(line: FieldLine) -> str:
    """How a field is written, where that says more than its meaning: what is inside a list stands below it."""
    words = line.written.split(", each {")[0]
    if words == Text.words:
        return ""
    return f"`{words}`" if line.verbatim else capital(words)


def _row(file: str, line: FieldLine) -> FieldRow:
    anchor = f"{file}-{slug(line.path).lower()}"
    return FieldRow(anchor, line.path, capital(line.meaning), _written(line), line.required)


def _head(line: FieldLine) -> str:
    """The name that a field's path begins with."""
    return line.path.removeprefix("NAME.").split(".")[0].split("[")[0]


def _groups(file: str) -> tuple[FieldGroup, ...]:
    groups: list[FieldGroup] = []
    alone: list[FieldRow] = []
    for _, lines in groupby(field_lines(file), _head):
        rows = tuple(_row(file, line) for line in lines)
        if len(rows) == 1:
            alone.extend(rows)
        else:
            groups.append(FieldGroup(rows[0], rows[1:]))
    return (*([FieldGroup(None, tuple(alone))] if alone else []), *groups)


def fields_model(index: Index) -> FieldsModel:
    """Every field in the order of the table, those without others inside first; every unit by kind."""
    return FieldsModel(
        frame=index.frame("How an entry is written", "fields", "Every field, what it holds, and every unit."),
        files=tuple(FieldFile(file, name, holds, _groups(file)) for file, name, holds in _FILES),
        units=tuple(UnitRow(kind.name, kind.example, tuple(filter(None, kind.written))) for kind in KINDS),
    )

"""The page on how an entry is written."""

from __future__ import annotations

from dataclasses import dataclass

from journal.pages.models.common import Model


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

"""Pages to find batches by."""

from __future__ import annotations

from dataclasses import dataclass

from journal.pages.models.common import Link, Model, When


@dataclass(frozen=True)
class IndexedBatch:
    """A batch in an index: its number and title, its day, and whether it is only planned."""

    id: str
    batch: Link
    brewed: When
    planned: bool


@dataclass(frozen=True)
class IndexHeading:
    """One heading of an index with its batches, latest first; `table` leads to the same batches with their numbers."""

    anchor: str
    words: str
    table: str
    batches: tuple[IndexedBatch, ...]


@dataclass(frozen=True, kw_only=True)
class ByModel(Model):
    """An index of all batches by one thing; `kind` is what that is called."""

    kind: str
    entered: tuple[IndexHeading, ...]
    others: tuple[Link, ...]


@dataclass(frozen=True, kw_only=True)
class SearchModel(Model):
    """The page to search on, and the indexes for those who can't."""

    indexes: tuple[Link, ...]

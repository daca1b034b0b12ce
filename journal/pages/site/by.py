"""An index of all batches by tag, style, year and brewhouse; malts have a page of their own."""

from __future__ import annotations

from dataclasses import dataclass

from journal.pages.index import Index
from journal.pages.labels import KINDS, Kind, index_links, labelled
from journal.pages.model import Link, Model, When
from journal.pages.paths import MALTS_PAGE, by_anchor, by_path, filtered
from journal.pages.words import day
from journal.reading import Batch


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

#: The kinds whose batches stand in an index.
INDEXED = tuple(kind for kind in KINDS if kind.name != "malt")


def _found(index: Index, batch: Batch) -> IndexedBatch:
    return IndexedBatch(batch.id, Link(batch.title or "", index.paths[batch.file]), day(batch.day), batch.planned)


def by_model(index: Index, kind: Kind) -> ByModel:
    """All batches by one kind of label."""
    entered = tuple(
        IndexHeading(
            anchor=by_anchor(kind.name, label.key),
            words=label.words,
            table=filtered(kind.name, label.key),
            batches=tuple(_found(index, batch) for batch in reversed(label.batches)),
        )
        for label in labelled(index, kind)
    )
    called = f"Batches by {kind.words.lower()}"
    own = by_path(kind.name)
    return ByModel(
        frame=index.frame(called, "batches", f"{called}, latest first."),
        kind=kind.words.lower(),
        entered=entered,
        others=tuple(link for link in index_links() if link.href != own),
    )

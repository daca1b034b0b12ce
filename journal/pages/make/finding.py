"""The search page, and an index of all batches by tag, style, year and brewhouse; malts have a page of their own."""

from __future__ import annotations

from journal.pages.make.index import Index
from journal.pages.make.labels import KINDS, Kind, labelled
from journal.pages.models.common import Link
from journal.pages.models.finding import ByModel, IndexedBatch, IndexHeading, SearchModel
from journal.pages.paths import MALTS_PAGE, by_anchor, by_path, filtered
from journal.pages.words import day
from journal.reading import Batch

#: The kinds whose batches stand in an index.
INDEXED = tuple(kind for kind in KINDS if kind.name != "malt")


def index_links() -> tuple[Link, ...]:
    """Every index, malts among them."""
    return tuple(Link(kind.words, MALTS_PAGE if kind.name == "malt" else by_path(kind.name)) for kind in KINDS)


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


def search_model(index: Index) -> SearchModel:
    """The page to search on."""
    frame = index.frame("Search", "search", "Batches by any word of title, tags, style, malts or notes.")
    return SearchModel(frame=frame, indexes=index_links())

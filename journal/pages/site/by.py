"""An index of all batches by tag, style, year and brewhouse; malts have a page of their own."""

from __future__ import annotations


from journal.frozen import dataclass
from journal.pages.index import Index
from journal.pages.labels import KINDS, Kind, index_links, labels_of
from journal.pages.model import Link, Model, When
from journal.pages.parts.beers import BeerColumn, Beers, RepeatedBeer
from journal.pages.paths import MALTS_PAGE, by_anchor, by_path, filter_path, year_path
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
    """One heading of an index with its batches, latest first; `table` leads to the same batches with their numbers.

    `beers` are those among them that were brewed several times; `page` is the heading's own, empty where it has none.
    """

    anchor: str
    words: str
    table: str
    batches: tuple[IndexedBatch, ...]
    beers: tuple[RepeatedBeer, ...]
    page: str


@dataclass(frozen=True, kw_only=True)
class ByModel(Model):
    """An index of all batches by one thing; `kind` is what that is called, `columns` what its beers are told by."""

    kind: str
    columns: tuple[BeerColumn, ...]
    entered: tuple[IndexHeading, ...]
    others: tuple[Link, ...]

#: The kinds whose batches stand in an index.
INDEXED = tuple(kind for kind in KINDS if kind.name != "malt")
#: Those under whose headings the same beer may stand several times for a reason.
_WITH_BEERS = frozenset({"style", "tag"})


def _found(index: Index, batch: Batch) -> IndexedBatch:
    return IndexedBatch(batch.id, Link(batch.title or "", index.paths[batch.file]), day(batch.day), batch.planned)


def by_model(index: Index, kind: Kind) -> ByModel:
    """All batches by one kind of label."""
    labels = labels_of(index, kind)
    beers = Beers(index, index.batches) if kind.name in _WITH_BEERS else Beers(index, ())
    entered = tuple(
        IndexHeading(
            anchor=by_anchor(kind.name, label.key),
            words=label.words,
            table=filter_path(kind.name, label.key),
            batches=tuple(_found(index, batch) for batch in reversed(label.batches)),
            beers=beers.repeated(label.batches),
            page=year_path(label.batches[0].day.year) if kind.name == "year" else "",
        )
        for label in labels
    )
    called = f"Batches by {kind.words.lower()}"
    own = by_path(kind.name)
    return ByModel(
        frame=index.frame(called, "batches", f"{called}, latest first."),
        kind=kind.words.lower(),
        columns=beers.known_columns,
        entered=entered,
        others=tuple(link for link in index_links() if link.href != own),
    )

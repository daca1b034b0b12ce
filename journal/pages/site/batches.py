"""The list of all batches, which can be sorted and cut down."""

from __future__ import annotations


from journal.frozen import dataclass
from journal.pages.index import Index
from journal.pages.labels import KINDS, index_links, labels_of
from journal.pages.model import Link, Model
from journal.pages.parts.attention import entry_name
from journal.pages.parts.batch_list import BatchList, batch_list, cut_short
from journal.pages.counted import count_batches
from journal.pages.parts.earlier_batches import pack_rows

#: Batches that stand in the list at once; a page of a thousand rows is more than a telephone takes.
LISTED = 150


@dataclass(frozen=True)
class LabelChoice:
    """One label that the list can be cut down to: its key, its words, and how many batches have it."""

    key: str
    words: str
    batches: int


@dataclass(frozen=True)
class Filter:
    """One kind of label with all its choices."""

    name: str
    words: str
    choices: tuple[LabelChoice, ...]


@dataclass(frozen=True, kw_only=True)
class BatchesModel(Model):
    """The batches, latest first, what they can be found by, and the entries that can't be read.

    Of a long list `listed` has the latest, its years lead to the others, and `earlier` has these packed for sorting and filtering.
    """

    listed: BatchList
    earlier: str
    filters: tuple[Filter, ...]
    indexes: tuple[Link, ...]
    broken: tuple[Link, ...]


def _filters(index: Index) -> tuple[Filter, ...]:
    """What the list can be cut down to; of what all batches have in common there is nothing to choose."""
    found = []
    for kind in KINDS:
        choices = tuple(LabelChoice(label.key, label.words, len(label.batches)) for label in labels_of(index, kind))
        if any(choice.batches < len(index.batches) for choice in choices):
            found.append(Filter(kind.name, kind.words.lower(), choices))
    return tuple(found)


def batches_model(index: Index) -> BatchesModel:
    """All batches, latest first."""
    listed, earlier = cut_short(batch_list(index, index.batches), LISTED)
    return BatchesModel(
        frame=index.frame("Batches", "batches", f"{count_batches(len(index.brewed))} brewed."),
        listed=listed,
        earlier=pack_rows(earlier),
        filters=_filters(index),
        indexes=index_links(),
        broken=tuple(Link(entry_name(entry), index.paths[entry.file]) for entry in index.record.broken),
    )

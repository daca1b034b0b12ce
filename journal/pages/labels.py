"""What batches are found by: tag, style, malt, year, brewhouse, each with a key that stands in addresses."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable

from journal.frozen import dataclass
from journal.pages.grist import lot_name
from journal.pages.index import Index
from journal.pages.model import Link
from journal.pages.paths import MALTS_PAGE, by_path
from journal.reading import Batch
from journal.reading.entry import LabValues, name_of_line
from journal.reading.malts import Malts, may_bring_extract
from journal.reading.table import lines_of


def label_key(words: str) -> str:
    """Words as part of an address: in lower case, hyphens for spaces. `Dry Hop` and `dry-hop` are one."""
    return re.sub(r"[\s-]+", "-", words.casefold()).strip("-") or "-"


def malts_of(batch: Batch) -> tuple[str, ...]:
    """The malts and sugars of a batch as the entry names them, each once."""
    named = (name_of_line(line) for _, line in lines_of(batch, LabValues) if may_bring_extract(line, Malts()))
    return tuple(dict.fromkeys(name for name in named if name))


def _brewhouse(index: Index, batch: Batch) -> tuple[tuple[str, str], ...]:
    key, brewhouse = index.record.journal.brewery.brewhouse_of(batch.brewhouse)
    return ((label_key(key), brewhouse.name or key),) if key else ()


def _named(words: Iterable[str]) -> tuple[tuple[str, str], ...]:
    return tuple((label_key(each), each) for each in words)


@dataclass(frozen=True)
class Kind:
    """One way to find batches: its name in addresses, what it is called, and the keys and words of a batch."""

    name: str
    words: str
    of: Callable[[Index, Batch], tuple[tuple[str, str], ...]]


KINDS = (
    Kind("tag", "Tag", lambda _, batch: _named(batch.tags)),
    Kind("style", "Style", lambda _, batch: _named([batch.style] if batch.style else [])),
    Kind("malt", "Malt", lambda index, batch: tuple((label_key(m), lot_name(index, m)) for m in malts_of(batch))),
    Kind("year", "Year", lambda _, batch: _named([str(batch.day.year)])),
    Kind("brewhouse", "Brewhouse", _brewhouse),
)


@dataclass(frozen=True)
class Labelled:
    """One tag, style, malt, year or brewhouse, in the words it was first called by, with its batches in order of brewing."""

    key: str
    words: str
    batches: tuple[Batch, ...]


def labels_of(index: Index, kind: Kind) -> list[Labelled]:
    """Every label of a kind; years from the latest back, all others by the alphabet."""
    words: dict[str, str] = {}
    batches: dict[str, dict[str, Batch]] = {}
    for batch in index.batches:
        for key, said in kind.of(index, batch):
            words.setdefault(key, said)
            batches.setdefault(key, {})[batch.id] = batch
    found = [Labelled(key, said, tuple(batches[key].values())) for key, said in words.items()]
    return sorted(found, key=lambda label: (label.words.casefold(), label.key), reverse=kind.name == "year")


def index_links() -> tuple[Link, ...]:
    """Every index, malts among them."""
    return tuple(Link(kind.words, MALTS_PAGE if kind.name == "malt" else by_path(kind.name)) for kind in KINDS)

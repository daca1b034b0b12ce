"""The home page and the list of all batches."""

from __future__ import annotations

from dataclasses import dataclass

from journal.pages.charts.over_time import TimePicture
from journal.pages.model import Link, Model, Number, When


@dataclass(frozen=True)
class Cell:
    """A number in a table that can be sorted: `key` is the plain number, empty where there is none."""

    number: Number | None
    key: str


@dataclass(frozen=True)
class BatchRow:
    """A batch in a list.

    `order` sorts ids as people do, `odd` says that a warning stands on it, `doubtful` that its readings contradict one
    another. `keys` has by kind of label the keys of the batch, with spaces between them.
    """

    id: str
    href: str
    order: int
    brewed: When
    title: str
    style: str
    planned: bool
    odd: bool
    doubtful: bool
    original_gravity: Cell
    alcohol: Cell
    brewhouse_efficiency: Cell
    mash_efficiency: Cell
    tags: tuple[str, ...]
    keys: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class LabelChoice:
    """One label that the table can be cut down to: its key, its words, and how many batches have it."""

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
    """All batches, latest first, what they can be found by, and the entries that can't be read."""

    rows: tuple[BatchRow, ...]
    filters: tuple[Filter, ...]
    indexes: tuple[Link, ...]
    broken: tuple[Link, ...]


@dataclass(frozen=True)
class Attention:
    """Something odd in one batch, as a sentence; `batch` leads to its page."""

    batch: Link
    sentence: str
    severity: str


@dataclass(frozen=True)
class Planned:
    """A brew that is planned: its page, its day, and what it is after."""

    batch: Link
    brewed: When
    target: str


@dataclass(frozen=True, kw_only=True)
class HomeModel(Model):
    """The first page."""

    latest: tuple[BatchRow, ...]
    batches: int
    chart: TimePicture | None
    trend: str
    attention: tuple[Attention, ...]
    planned: tuple[Planned, ...]

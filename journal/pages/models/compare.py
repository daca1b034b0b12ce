"""Two batches side by side, and the list of all such pages."""

from __future__ import annotations

from dataclasses import dataclass

from journal.pages.models.common import Link, Model, Number


@dataclass(frozen=True)
class DifferingRow:
    """A setting that was not the same."""

    lever: str
    first: str
    second: str


@dataclass(frozen=True)
class OutcomeRow:
    """A figure of both and their difference; `more` says that it is more than chance."""

    figure: Link
    first: Number
    second: Number
    difference: str
    more: bool
    verdict: str


@dataclass(frozen=True, kw_only=True)
class CompareModel(Model):
    """Two neighbouring batches of one brewhouse, the earlier first; `before` and `after` are the neighbouring pairs."""

    first: Link
    second: Link
    ids: tuple[str, str]
    answer: str
    practice: tuple[DifferingRow, ...]
    outcomes: tuple[OutcomeRow, ...]
    splits: tuple[str, ...]
    before: Link | None
    after: Link | None


@dataclass(frozen=True)
class PairLink:
    """A pair in the list: where it leads, and what differed by more than chance."""

    pair: Link
    answer: str


@dataclass(frozen=True)
class PairGroup:
    """The pairs of one brewhouse, latest first."""

    name: str
    anchor: str
    pairs: tuple[PairLink, ...]


@dataclass(frozen=True, kw_only=True)
class CompareListModel(Model):
    """Every neighbouring pair."""

    groups: tuple[PairGroup, ...]

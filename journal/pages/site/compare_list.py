"""The list of all pages of two batches side by side."""

from __future__ import annotations


from journal.frozen import dataclass
from journal.pages.index import Index
from journal.pages.model import Link, Model
from journal.pages.site.compare import Pairs, answer_of
from journal.problems import in_words


@dataclass(frozen=True)
class PairLink:
    """A pair in the list: where it leads, what differed by more than chance, and which of the two is doubtful."""

    pair: Link
    answer: str
    doubtful: str


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


def compare_list_model(index: Index, found: tuple[Pairs, ...]) -> CompareListModel:
    """The list of all pairs, latest first."""
    groups = tuple(
        PairGroup(
            pairs.house.name or "The brewhouse",
            pairs.house.anchor,
            tuple(PairLink(pair.link, answer_of(pair.found), in_words([f"{each} doubtful" for each in pair.found.broken])) for pair in reversed(pairs.pairs)),
        )
        for pairs in found
        if pairs.pairs
    )
    return CompareListModel(
        frame=index.frame("Side by side", "practice", "Each batch beside the one before it on the same brewhouse."),
        groups=groups,
    )

"""Neighbouring batches side by side: what differed in practice, what in result, and what is more than chance."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import cached_property, partial
from itertools import pairwise

from journal.frozen import dataclass
from journal.history.compare import Comparison, FigureDifference, compare
from journal.history.words import (
    broken_text,
    difference_text,
    lever_label,
    made_of_text,
    name_of,
    setting_text,
    split_text,
)
from journal.pages.brewhouses import BrewhouseView, brewhouse_views
from journal.pages.charts.axis import Axis
from journal.pages.charts.strip import StripAxis, StripPicture
from journal.pages.differences import difference
from journal.pages.index import Index
from journal.pages.model import UNBROKEN, Link, Model, Number
from journal.pages.numbers import of_result
from journal.pages.words import figure_words, sentence
from journal.problems import in_words
from journal.reading import Batch

_TICKS = 5


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


@dataclass(frozen=True)
class MadeOfRow:
    """What one step puts into a difference: its strip on the axis of all, and the same in words; `more` says that it is more than chance."""

    step: str
    strip: StripPicture
    part: str
    more: bool
    verdict: str


@dataclass(frozen=True, kw_only=True)
class CompareModel(Model):
    """Two neighbouring batches of one brewhouse, the earlier first; `before` and `after` are the neighbouring pairs.

    `names` mark a doubtful batch, `doubts` say which figures hang on a reading that bears a warning. `made_of` is what the difference
    of extract is made of in a sentence, `parts` the same step by step on `axis`; all empty where it isn't known.
    """

    first: Link
    second: Link
    names: tuple[str, str]
    answer: str
    fault: str
    doubts: tuple[str, ...]
    made_of: str
    parts: tuple[MadeOfRow, ...]
    axis: StripAxis | None
    practice: tuple[DifferingRow, ...]
    outcomes: tuple[OutcomeRow, ...]
    splits: tuple[str, ...]
    before: Link | None
    after: Link | None


@dataclass(frozen=True)
class Pair:
    """Two neighbouring batches of one brewhouse, and the page they have; compared when that is asked for."""

    first: Batch
    second: Batch
    path: str
    compare: Callable[[], Comparison]

    @cached_property
    def found(self) -> Comparison:
        """What the comparison says."""
        return self.compare()

    @property
    def link(self) -> Link:
        """The pair by its numbers."""
        return Link(f"{self.first.id} and {self.second.id}", self.path)


@dataclass(frozen=True)
class Pairs:
    """The pairs of one brewhouse in order of brewing."""

    house: BrewhouseView
    pairs: tuple[Pair, ...]


def pairs_of(index: Index) -> tuple[Pairs, ...]:
    """Every neighbouring pair whose readings could be balanced, by brewhouse."""
    record, taken = index.record, set[str]()
    found = []
    for house in brewhouse_views(index):
        pairs = []
        for first, second in pairwise(house.batches):
            if first.id in record.balances and second.id in record.balances:
                path = _free(f"compare/{first.id}-{second.id}", taken)
                comparing = partial(compare, first, second, record.journal, record.balances, record.figures)
                pairs.append(Pair(first, second, path, comparing))
        found.append(Pairs(house, tuple(pairs)))
    return tuple(found)


def _free(stem: str, taken: set[str]) -> str:
    """A path nobody has: `1-2` and `3` read like `1` and `2-3`."""
    path, count = f"{stem}.html", 1
    while path.lower() in taken:
        count += 1
        path = f"{stem}-{count}.html"
    taken.add(path.lower())
    return path


def _outcome(index: Index, outcome: FigureDifference) -> OutcomeRow:
    return OutcomeRow(
        Link(figure_words(outcome.name), f"figures.html#{outcome.name}"),
        of_result(outcome.first, index.system),
        of_result(outcome.second, index.system),
        difference_text(outcome, index.system).replace(" ", UNBROKEN),
        outcome.more_than_chance,
        "more than chance" if outcome.more_than_chance else "may be chance",
    )


def _axis(found: Comparison) -> Axis | None:
    ends = [100 * end for part in found.made_of.parts for end in part.reach] if found.made_of else []
    return Axis.around([0.0, *ends], room=0.05, least=4.0) if ends else None


def _parts(index: Index, found: Comparison, axis: Axis) -> Iterator[MadeOfRow]:
    """The steps in order of work."""
    for part in found.made_of.parts if found.made_of else ():
        low, high = part.reach
        told = difference(part.value, part.sd, "1", index.system)
        verdict = "more than chance" if part.more_than_chance else "may be chance"
        strip = StripPicture(
            axis,
            # the same stands beside it
            "",
            latest=(100 * part.value,),
            reach=(100 * low, 100 * high),
            zero=0.0,
            ticks=axis.ticks(_TICKS),
            clear=part.more_than_chance,
        )
        yield MadeOfRow(part.step, strip, told, part.more_than_chance, verdict)


def _doubts(index: Index, pair: Pair, found: Comparison) -> Iterator[str]:
    """Which of a batch's figures hang on a reading that bears a warning, though its readings as a whole agree."""
    for batch in (pair.first, pair.second):
        flagged = [
            figure_words(outcome.name)
            for outcome in found.outcomes
            if batch.id not in found.broken and index.flagged(batch, outcome.first if batch is pair.first else outcome.second)
        ]
        if flagged:
            yield f"In batch {batch.id} a reading is flagged that counts in its {in_words(flagged)}."


def answer_of(found: Comparison) -> str:
    """What differs by more than chance, in a sentence."""
    more = [figure_words(outcome.name) for outcome in found.outcomes if outcome.more_than_chance]
    if not found.outcomes:
        return "No figure is known of both."
    if not more:
        return "No result differs by more than chance."
    return sentence(f"more than chance: {in_words(more)}")


def compare_model(index: Index, pair: Pair, before: Pair | None, after: Pair | None) -> CompareModel:
    """Everything on the page of one pair."""
    found, system = pair.found, index.system
    axis = _axis(found)
    return CompareModel(
        frame=index.frame(
            f"{pair.first.id} and {pair.second.id}", "practice", "Two neighbouring batches side by side."
        ),
        first=index.link(pair.first),
        second=index.link(pair.second),
        names=(name_of(found, pair.first.id), name_of(found, pair.second.id)),
        answer=answer_of(found),
        fault=broken_text(found),
        doubts=tuple(_doubts(index, pair, found)),
        made_of=made_of_text(found),
        parts=tuple(_parts(index, found, axis)) if axis else (),
        axis=StripAxis(axis, axis.ticks(_TICKS, sign=True), "points") if axis else None,
        practice=tuple(
            DifferingRow(
                lever_label(differing.lever),
                setting_text(differing.lever, differing.first, system),
                setting_text(differing.lever, differing.second, system),
            )
            for differing in found.practice
        ),
        outcomes=tuple(_outcome(index, outcome) for outcome in found.outcomes),
        splits=tuple(sentence(split_text(split)) for split in found.splits),
        before=before.link if before else None,
        after=after.link if after else None,
    )

"""Practice: which factor goes with a better figure. One picture a factor, all figures on one axis, over the range the brewer tried.

The interval drawn is the one that the verdict goes by: what leaves zero out is clear, and what is not clear reaches over it.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import chain

from journal.frozen import dataclass
from journal.history import LeverStudy
from journal.history.levers import MatchedPair
from journal.history.levers.rows import MALT_LOT
from journal.history.settings import Setting
from journal.history.words import setting_text
from journal.pages.brewhouses import BrewhouseView, brewhouse_views
from journal.pages.charts.strip import StripAxis
from journal.pages.differences import difference
from journal.pages.factors import label
from journal.pages.grist import lot_name
from journal.pages.index import Index
from journal.pages.model import Link, Model
from journal.pages.parts.factor import TICKS, FactorPicture, axis_of, factor_picture, factors_of
from journal.pages.paths import COMPARE_PAGE
from journal.pages.site.what_pays import next_brew_words
from journal.pages.verdict import what_moved
from journal.pages.counted import how_many
from journal.pages.words import figure_words, sentence
from journal.problems import in_words

#: Pairs shown of each factor, and of each brewhouse in all.
_PAIRS_OF_ONE, _PAIRS = 2, 8


@dataclass(frozen=True)
class PairRow:
    """Two batches that differ in one factor only, the earlier first."""

    factor: str
    figure: str
    first: Link
    second: Link
    before: str
    after: str
    difference: str


@dataclass(frozen=True)
class PracticeSection:
    """One brewhouse; `name` is empty where there is only one.

    `moved` says what became of the level, `clear` are the factors that something clearly goes with, `others` the rest, which `rest` tells in a line. `silent` says of which factors
    nothing can be told and why, `adjusted_for` what each is adjusted for; `settle` which change would tell most.
    """

    name: str
    anchor: str
    moved: str
    answer: str
    axis: StripAxis | None
    clear: tuple[FactorPicture, ...]
    others: tuple[FactorPicture, ...]
    rest: str
    silent: tuple[str, ...]
    adjusted_for: tuple[str, ...]
    settle: str
    pairs: tuple[PairRow, ...]


@dataclass(frozen=True, kw_only=True)
class PracticeModel(Model):
    """Which practice goes with a better figure, a section a brewhouse; `comparisons` leads to the batches side by side."""

    sections: tuple[PracticeSection, ...]
    comparisons: Link


def _answer(clear: Sequence[FactorPicture], studied: int, batches: int) -> str:
    """The sentence that a brewhouse's part opens with."""
    if not studied:
        known = f"{how_many(batches)} so far" if batches else "none so far"
        return (
            "Can’t tell yet: a factor needs eight batches that record it, three of them away from its usual setting; "
            f"{known}."
        )
    if not clear:
        return f"The record can’t yet say of any of the {how_many(studied)} factors tried that anything goes with it."
    said = [
        f"{picture.words} {picture.tried} goes with "
        + in_words([f"{effect.effect} of {effect.words}" for effect in picture.effects if effect.clear])
        for picture in clear
    ]
    return sentence("; ".join(said))


def _rest(others: Sequence[FactorPicture]) -> str:
    """The factors that are not clear, in a line; each once, though several of its words may be there."""
    names = list(dict.fromkeys(picture.words for picture in others))
    if not names:
        return ""
    return f"Not clear yet: {in_words(names)}." if len(names) > 1 else f"Not clear yet: {names[0]}."


def _silent(studies: Sequence[LeverStudy]) -> tuple[str, ...]:
    """The factors that nothing can be said of in any figure, a sentence a reason."""
    told = {result.lever for study in studies for result in study.results if result.effect is not None}
    by_reason: dict[str, dict[str, None]] = {}
    for result in chain.from_iterable(study.results for study in studies):
        if result.effect is None and result.lever not in told:
            by_reason.setdefault(result.verdict, {}).setdefault(label(result.lever))
    return tuple(f"{reason.capitalize()}: {', '.join(names)}." for reason, names in by_reason.items())


def _adjusted_for(studies: Sequence[LeverStudy]) -> tuple[str, ...]:
    """Each factor that is adjusted for others, and which."""
    said: dict[str, dict[str, None]] = {}
    for result in chain.from_iterable(study.results for study in studies):
        for name in result.adjusted_for:
            said.setdefault(label(result.lever), {}).setdefault(label(name))
    return tuple(f"{factor}: {in_words(list(names))}." for factor, names in said.items())


def _setting(index: Index, lever: str, setting: Setting) -> str:
    """A setting in words, a lot by its name."""
    if lever == MALT_LOT and isinstance(setting, str):
        return lot_name(index, setting)
    return setting_text(lever, setting, index.system)


def _pairs(index: Index, house: BrewhouseView, studies: Sequence[LeverStudy]) -> tuple[PairRow, ...]:
    """The most telling pairs, not all of one factor."""
    taken: dict[str, int] = {}
    rows: list[PairRow] = []
    found: list[tuple[str, MatchedPair]] = [(study.figure, pair) for study in studies for pair in study.pairs]
    for figure, pair in found:
        taken[pair.lever] = taken.get(pair.lever, 0) + 1
        if taken[pair.lever] > _PAIRS_OF_ONE or len(rows) == _PAIRS:
            continue
        first, second = (Link(name, index.paths[house.by_id[name].file]) for name in (pair.first, pair.second))
        before, after = (_setting(index, pair.lever, setting) for setting in (pair.before, pair.after))
        told = difference(pair.difference, pair.sd, "1", index.system)
        rows.append(PairRow(label(pair.lever), figure_words(figure), first, second, before, after, told))
    return tuple(rows)


def _section(index: Index, house: BrewhouseView, studies: Sequence[LeverStudy]) -> PracticeSection:
    factors = factors_of(studies)
    axis = axis_of(factors)
    pictures = [factor_picture(index, house, factor, axis) for factor in factors]
    clear = tuple(picture for picture in pictures if picture.clear)
    others = tuple(picture for picture in pictures if not picture.clear)
    names = {picture.words for picture in pictures}
    batches = max((result.batches for study in studies for result in study.results), default=0)
    return PracticeSection(
        name=house.name,
        anchor=house.anchor,
        moved=what_moved(index, house),
        answer=_answer(clear, len(names), batches),
        axis=StripAxis(axis, axis.ticks(TICKS, sign=True), "points") if pictures else None,
        clear=clear,
        others=others,
        rest=_rest(others),
        silent=_silent(studies) if pictures else (),
        adjusted_for=_adjusted_for(studies),
        settle=next_brew_words(index, house),
        pairs=_pairs(index, house, studies),
    )


def practice_model(index: Index) -> PracticeModel:
    """Everything on the page on practice."""
    return PracticeModel(
        frame=index.frame(
            "What goes with a better figure", "practice", "Which practice went with which efficiency, by this record."
        ),
        sections=tuple(
            _section(index, house, house.story.studies) for house in brewhouse_views(index) if house.story
        ),
        comparisons=Link("Neighbouring batches side by side", COMPARE_PAGE),
    )

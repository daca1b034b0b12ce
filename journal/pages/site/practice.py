"""Practice: which factor goes with a better figure. One picture a factor, all figures on one axis, over the range the brewer tried.

The interval drawn is the one that the verdict goes by: what leaves zero out is clear, and what is not clear reaches over it.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import chain
from statistics import mean

from journal.history import LeverStudy
from journal.history.levers import LeverResult, MatchedPair
from journal.history.levers.rows import MALT_LOT
from journal.history.words import setting_text
from journal.measures.wording import plain, show
from journal.pages.brewhouses import BrewhouseView, brewhouse_views
from journal.pages.charts.axis import Axis
from journal.pages.charts.strip import StripAxis, StripPicture
from journal.pages.differences import between, difference, join, signed_points
from journal.pages.factors import label, over_the_range, settle_words, tried
from journal.pages.index import Index
from journal.pages.model import Link, Model
from journal.pages.paths import COMPARE_PAGE
from journal.pages.verdict import JUDGED, what_moved
from journal.pages.words import figure_words, how_many, sentence
from journal.problems import in_words

#: Pairs shown of each factor, and of each brewhouse in all.
_PAIRS_OF_ONE, _PAIRS = 2, 8
_TICKS = 5
#: What a verdict is called.
_CLEAR, _OPEN, _TANGLED = "clear", "can’t tell yet", "can’t be told apart"


@dataclass(frozen=True)
class FigureEffect:
    """What goes with a factor in one figure, in short and in whole words: the strip of its interval, the same in words, the verdict."""

    figure: str
    words: str
    strip: StripPicture
    effect: str
    interval: str
    verdict: str
    clear: bool


@dataclass(frozen=True)
class FactorPicture:
    """One factor, or one of its words against the commonest: what was tried, and what went with it in each figure.

    `aside` names what it changed together with; `worth` is what the whole of it saves, where that is clear.
    """

    words: str
    tried: str
    batches: int
    effects: tuple[FigureEffect, ...]
    aside: str
    worth: str
    clear: bool


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
    nothing can be told and why, `allowed_for` which are allowed for in which; `settle` which change would tell most.
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
    allowed_for: tuple[str, ...]
    settle: str
    pairs: tuple[PairRow, ...]


@dataclass(frozen=True, kw_only=True)
class PracticeModel(Model):
    """Which practice goes with a better figure, a section a brewhouse; `comparisons` leads to the batches side by side."""

    sections: tuple[PracticeSection, ...]
    comparisons: Link


@dataclass(frozen=True)
class _Factor:
    """What all studies of a brewhouse found of one factor, figure by figure."""

    results: tuple[tuple[str, LeverResult], ...]

    @property
    def first(self) -> LeverResult:
        return self.results[0][1]

    @property
    def clear(self) -> bool:
        return any(result.verdict == "clear" for _, result in self.results)

    @property
    def backwards(self) -> bool:
        """Whether it is told from its highest setting down: where that is the way that goes with more."""
        telling = min((result for _, result in self.results), key=lambda result: result.adjusted_p or 0.0)
        return telling.kind == "slope" and self.clear and (telling.effect or 0.0) < 0.0

    @property
    def surest(self) -> float:
        return min(result.adjusted_p or 0.0 for _, result in self.results)

    def reaches(self) -> Iterable[tuple[float, float]]:
        for _, result in self.results:
            ends = (over_the_range(result, end, backwards=self.backwards) for end in (result.judged_low, result.judged_high))
            low, high = sorted(ends)
            yield low, high


def _factors(studies: Sequence[LeverStudy]) -> list[_Factor]:
    """Every factor with an effect in some figure; what is clear first, then what is nearest to it."""
    found: dict[tuple[str, str | None], list[tuple[str, LeverResult]]] = {}
    for study in studies:
        for result in study.results:
            # what a lot gave is told on the page of malts, against its sheet
            if result.effect is not None and result.lever != MALT_LOT:
                found.setdefault((result.lever, result.group), []).append((study.figure, result))
    factors = [_Factor(tuple(results)) for results in found.values()]
    return sorted(factors, key=lambda factor: (not factor.clear, factor.surest))


def _axis(factors: Sequence[_Factor]) -> Axis:
    """What all strips lie on, in points: all that is clear, and of the rest as much as is likely to be asked about."""
    shown = [factor for factor in factors if factor.clear] or factors
    ends = [100 * end for factor in shown for reach in factor.reaches() for end in reach]
    return Axis.around([0.0, *ends], room=0.05, least=4.0)


def _effect(index: Index, factor: _Factor, figure: str, result: LeverResult, axis: Axis) -> FigureEffect:
    def over(value: float | None) -> float:
        return over_the_range(result, value, backwards=factor.backwards)

    low, high = sorted((over(result.judged_low), over(result.judged_high)))
    effect, clear = over(result.effect), result.verdict == "clear"
    interval = _interval(low, high, index.system)
    said = _CLEAR if clear else _TANGLED if low > 0.0 or high < 0.0 else _OPEN
    told = signed_points(effect, low, high, index.system)
    return FigureEffect(
        figure=figure_words(figure).removesuffix(" efficiency").removeprefix("apparent "),
        words=figure_words(figure),
        strip=StripPicture(
            axis,
            f"{figure_words(figure)}: {told} ({interval}), {said}",
            latest=(100 * effect,),
            reach=(100 * low, 100 * high),
            zero=0.0,
            ticks=axis.ticks(_TICKS),
            clear=clear,
        ),
        effect=told,
        interval=interval,
        verdict=said,
        clear=clear,
    )


def _interval(low: float, high: float, system: str) -> str:
    """`2 to 15`, in points; an end that is not zero is not shown as zero, for that is what the verdict hangs on."""
    told = between(low, high, "1", system)
    nearest = min(abs(low), abs(high))
    ends = (plain(100 * end, 1 if nearest >= 0.0005 else 2) for end in (low, high))
    return join(" to ".join(ends)) if low * high > 0.0 and re.search(r"\b0\b(?!\.)", told) else told


def _aside(factor: _Factor) -> str:
    tangled = dict.fromkeys(name for _, result in factor.results for name in result.tangled_with)
    if not tangled:
        return ""
    others = in_words([label(name) for name in tangled])
    if all(result.apart for _, result in factor.results):
        return f"Changed together with {others}; told apart, but less surely."
    return f"Changed together with {others}; the record can’t tell them apart."


def _worth(index: Index, house: BrewhouseView, factor: _Factor) -> str:
    """What the whole range saves in grain a brew, where the whole brewhouse efficiency clearly goes with it."""
    result = next((result for figure, result in factor.results if figure == JUDGED and result.verdict == "clear"), None)
    known = [
        (weight.value, efficiency.value)
        for batch in house.batches
        if (weight := index.figures(batch).get("grain_weight")) and (efficiency := index.result(batch, JUDGED))
    ]
    if result is None or not known:
        return ""
    grain, level = mean(weight for weight, _ in known), mean(efficiency for _, efficiency in known)

    def saved(end: float | None) -> float:
        change = over_the_range(result, end, backwards=factor.backwards)
        return grain * change / (level + change)

    middle = saved(result.effect)
    low, high = sorted(abs(saved(end)) for end in (result.judged_low, result.judged_high))
    amount = show(abs(middle), (high - low) / 4, "kg", index.system)
    told = f"{join(amount.value, amount.unit)} ({between(low, high, 'kg', index.system)})"
    return f"For a brew of your usual size that is {told} of grain {'less' if middle > 0 else 'more'}."


def _picture(index: Index, house: BrewhouseView, factor: _Factor, axis: Axis) -> FactorPicture:
    first = factor.first
    words = label(first.lever)
    return FactorPicture(
        words=words,
        tried=tried(first, index.system, backwards=factor.backwards),
        batches=max(result.batches for _, result in factor.results),
        effects=tuple(_effect(index, factor, figure, result, axis) for figure, result in factor.results),
        aside=_aside(factor),
        worth=_worth(index, house, factor),
        clear=factor.clear,
    )


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
    return f"Of {in_words(names)} the record can’t tell yet." if len(names) > 1 else f"Of {names[0]} it can’t tell yet."


def _silent(studies: Sequence[LeverStudy]) -> tuple[str, ...]:
    """The factors that nothing can be said of in any figure, a sentence a reason."""
    told = {result.lever for study in studies for result in study.results if result.effect is not None}
    by_reason: dict[str, dict[str, None]] = {}
    for result in chain.from_iterable(study.results for study in studies):
        if result.effect is None and result.lever not in told:
            by_reason.setdefault(result.verdict, {}).setdefault(label(result.lever))
    return tuple(f"{reason.capitalize()}: {', '.join(names)}." for reason, names in by_reason.items())


def _allowed_for(studies: Sequence[LeverStudy]) -> tuple[str, ...]:
    """Each factor that others are allowed for, and which."""
    said: dict[str, dict[str, None]] = {}
    for result in chain.from_iterable(study.results for study in studies):
        for name in result.adjusted_for:
            said.setdefault(label(result.lever), {}).setdefault(label(name))
    return tuple(f"{factor}: {in_words(list(names))}." for factor, names in said.items())


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
        before, after = (setting_text(pair.lever, setting, index.system) for setting in (pair.before, pair.after))
        told = difference(pair.difference, pair.sd, "1", index.system)
        rows.append(PairRow(label(pair.lever), figure_words(figure), first, second, before, after, told))
    return tuple(rows)


def _section(index: Index, house: BrewhouseView, studies: Sequence[LeverStudy]) -> PracticeSection:
    factors = _factors(studies)
    axis = _axis(factors)
    pictures = [_picture(index, house, factor, axis) for factor in factors]
    clear = tuple(picture for picture in pictures if picture.clear)
    others = tuple(picture for picture in pictures if not picture.clear)
    names = {picture.words for picture in pictures}
    batches = max((result.batches for study in studies for result in study.results), default=0)
    return PracticeSection(
        name=house.name,
        anchor=house.anchor,
        moved=what_moved(index, house),
        answer=_answer(clear, len(names), batches),
        axis=StripAxis(axis, axis.ticks(_TICKS, sign=True), "points") if pictures else None,
        clear=clear,
        others=others,
        rest=_rest(others),
        silent=_silent(studies) if pictures else (),
        allowed_for=_allowed_for(studies),
        settle=next((words for study in studies if (words := settle_words(study.settling, index.system))), ""),
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

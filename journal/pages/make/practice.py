"""What goes with a better figure: every lever with its effect and interval, matched pairs, and what would settle it."""

from __future__ import annotations

from collections.abc import Iterable

from journal.history import LeverStudy
from journal.history.levers import LeverResult, MatchedPair
from journal.history.words import setting_text
from journal.pages.brewhouses import BrewhouseView, brewhouse_views
from journal.pages.differences import between, change, difference, signed_points
from journal.pages.index import Index
from journal.pages.make.levers import label, settle_words, step_of, tried
from journal.pages.model import Link
from journal.pages.models.practice import (
    FigureStudy,
    IntervalBar,
    LeverRow,
    PairRow,
    PracticeModel,
    PracticeSection,
)
from journal.pages.paths import COMPARE_PAGE
from journal.pages.words import figure_words, how_many
from journal.problems import in_words
from journal.reading import Batch

#: Pairs shown of each lever, and of each figure in all.
_PAIRS_OF_ONE, _PAIRS = 2, 8
_VERDICTS = {"clear": "clear", "not clear": "can’t tell yet"}


def _span(results: Iterable[LeverResult], system: str) -> tuple[float, float]:
    """What the bars of one table reach from and to, nought included, in fractions."""
    ends = [0.0]
    for result in results:
        step = step_of(result, system)[0] if result.kind == "slope" else 1.0
        ends += [(result.low or 0.0) * step, (result.high or 0.0) * step]
    return min(ends), max(ends)


def _bar(low: float, effect: float, high: float, span: tuple[float, float], words: str) -> IntervalBar:
    first, last = span
    width = last - first or 1.0

    def place(value: float) -> float:
        return round(2.0 + 96.0 * (value - first) / width, 2)

    return IntervalBar(place(low), place(high), place(effect), place(0.0), words)


def _aside(result: LeverResult) -> str:
    if not result.tangled_with:
        return ""
    others = in_words([label(name) for name in result.tangled_with])
    if result.apart:
        return f"changed together with {others}; told apart, but less surely"
    return f"changed together with {others}; the record can’t tell them apart"


def _row(result: LeverResult, span: tuple[float, float], system: str) -> LeverRow:
    step, per = step_of(result, system) if result.kind == "slope" else (1.0, "the change")
    low, effect, high = ((value or 0.0) * step for value in (result.low, result.effect, result.high))
    interval = between(low, high, "1", system)
    words = label(result.lever)
    if result.group is not None:
        words = f"{words}: {result.group}"
    told = change(effect, low, high, "1", system)
    return LeverRow(
        words=words,
        tried=tried(result, system),
        batches=result.batches,
        per=per,
        effect=signed_points(effect, low, high, system),
        interval=interval,
        bar=_bar(low, effect, high, span, f"{words}, per {per}: {told}; the line is no effect"),
        clear=result.verdict == "clear",
        verdict=_VERDICTS.get(result.verdict, result.verdict),
        aside=_aside(result),
    )


def _silent(results: Iterable[LeverResult]) -> tuple[str, ...]:
    """The levers that nothing can be said of, a sentence a reason."""
    by_reason: dict[str, dict[str, list[str]]] = {}
    for result in results:
        if result.effect is None:
            groups = by_reason.setdefault(result.verdict, {}).setdefault(label(result.lever), [])
            groups += [result.group] if result.group else []
    return tuple(
        f"{reason.capitalize()}: "
        + "; ".join(f"{lever} ({in_words(groups)})" if groups else lever for lever, groups in levers.items())
        + "."
        for reason, levers in by_reason.items()
    )


def _allowed_for(results: Iterable[LeverResult]) -> tuple[str, ...]:
    """Each lever that others are allowed for, and which."""
    said = {
        label(result.lever): in_words([label(name) for name in result.adjusted_for])
        for result in results
        if result.adjusted_for
    }
    return tuple(f"{lever}: {others}." for lever, others in said.items())


def _pairs(index: Index, pairs: Iterable[MatchedPair], batches: dict[str, Batch]) -> tuple[PairRow, ...]:
    """The most telling pairs, not all of one lever."""
    taken: dict[str, int] = {}
    rows: list[PairRow] = []
    for pair in pairs:
        taken[pair.lever] = taken.get(pair.lever, 0) + 1
        if taken[pair.lever] > _PAIRS_OF_ONE or len(rows) == _PAIRS:
            continue
        first, second = (Link(name, index.paths[batches[name].file]) for name in (pair.first, pair.second))
        before, after = (setting_text(pair.lever, setting, index.system) for setting in (pair.before, pair.after))
        told = difference(pair.difference, pair.sd, "1", index.system)
        rows.append(PairRow(label(pair.lever), first, second, before, after, told))
    return tuple(rows)


def _answer(study: LeverStudy, rows: tuple[LeverRow, ...]) -> str:
    """The sentence that a figure's part opens with."""
    figure = figure_words(study.figure)
    if not rows:
        batches = max((result.batches for result in study.results), default=0)
        known = f"{how_many(batches)} so far" if batches else "none so far"
        return f"Can’t tell yet: a lever needs eight batches that record it, three of them away from its usual setting; {known}."
    clear = [f"{row.words} ({row.effect} per {row.per})" for row in rows if row.clear]
    rest = len(rows) - len(clear)
    if not clear:
        return f"The record can’t yet say of any of the {how_many(rest)} levers tried that it goes with {figure}."
    others = f" Of the other {how_many(rest)} it can’t tell yet." if rest > 1 else ""
    return f"With {figure} there clearly goes {in_words(clear)}.{others}"


def _study(index: Index, house: BrewhouseView, study: LeverStudy) -> FigureStudy:
    told = [result for result in study.results if result.effect is not None]
    # what is clear first, then what is nearest to it
    told.sort(key=lambda result: (result.verdict != "clear", result.adjusted_p or 0.0, result.p_value or 0.0))
    span = _span(told, index.system)
    rows = tuple(_row(result, span, index.system) for result in told)
    return FigureStudy(
        figure=study.figure,
        words=figure_words(study.figure),
        answer=_answer(study, rows),
        rows=rows,
        allowed_for=_allowed_for(told),
        silent=_silent(study.results) if rows else (),
        pairs=_pairs(index, study.pairs, {batch.id: batch for batch in house.batches}),
        settle=settle_words(study.settling, index.system),
    )


def practice_model(index: Index) -> PracticeModel:
    """Everything on the page on practice."""
    return PracticeModel(
        frame=index.frame(
            "What goes with a better figure", "practice", "Which practice went with which efficiency, by this record."
        ),
        sections=tuple(
            PracticeSection(house.name, house.anchor, tuple(_study(index, house, s) for s in house.story.studies))
            for house in brewhouse_views(index)
            if house.story
        ),
        comparisons=Link("Neighbouring batches side by side", COMPARE_PAGE),
    )

"""A factor as a picture: what goes with it in each figure, all on one axis, over the range that the brewer tried.

The interval drawn is the one that the verdict goes by: what leaves zero out is clear, and what is not clear reaches over it.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from statistics import mean

from journal.frozen import dataclass
from journal.history import LeverStudy
from journal.history.levers import LeverResult
from journal.history.levers.rows import MALT_LOT
from journal.measures.wording import plain
from journal.pages.brewhouses import BrewhouseView
from journal.pages.charts.axis import Axis
from journal.pages.charts.strip import StripPicture
from journal.pages.differences import between, join, show_change_alone
from journal.pages.factors import effect_over_range, label, tried_words
from journal.pages.index import Index
from journal.pages.verdict import JUDGED
from journal.pages.words import figure_words
from journal.problems import in_words

TICKS = 5
#: What a verdict is called.
_CLEAR, _OPEN, _TANGLED = "clear", "can’t tell yet", "can’t be separated"


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
class FactorFound:
    """What all studies of a brewhouse found of one factor, figure by figure."""

    results: tuple[tuple[str, LeverResult], ...]

    @property
    def first(self) -> LeverResult:
        """What the first study found."""
        return self.results[0][1]

    @property
    def clear(self) -> bool:
        """Whether it is clear in any figure."""
        return any(result.verdict == "clear" for _, result in self.results)

    @property
    def backwards(self) -> bool:
        """Whether it is told from its highest setting down: where that is the way that goes with more."""
        telling = min((result for _, result in self.results), key=lambda result: result.adjusted_p or 0.0)
        return telling.kind == "slope" and self.clear and (telling.effect or 0.0) < 0.0

    @property
    def surest(self) -> float:
        """The smallest p-value of any figure, adjusted for all that was looked at."""
        return min(result.adjusted_p or 0.0 for _, result in self.results)

    def reaches(self) -> Iterable[tuple[float, float]]:
        """The intervals that the verdicts go by, over the range tried."""
        for _, result in self.results:
            ends = (
                effect_over_range(result, end, backwards=self.backwards)
                for end in (result.judged_low, result.judged_high)
            )
            low, high = sorted(ends)
            yield low, high


def factors_of(studies: Sequence[LeverStudy]) -> list[FactorFound]:
    """Every factor with an effect in some figure; what is clear first, then what is nearest to it."""
    found: dict[tuple[str, str | None], list[tuple[str, LeverResult]]] = {}
    for study in studies:
        for result in study.results:
            # what a lot gave is told on the page of malts, against its sheet
            if result.effect is not None and result.lever != MALT_LOT:
                found.setdefault((result.lever, result.group), []).append((study.figure, result))
    factors = [FactorFound(tuple(results)) for results in found.values()]
    return sorted(factors, key=lambda factor: (not factor.clear, factor.surest))


def axis_of(factors: Sequence[FactorFound]) -> Axis:
    """What all strips lie on, in points: all that is clear, and of the rest as much as is likely to be asked about."""
    shown = [factor for factor in factors if factor.clear] or factors
    ends = [100 * end for factor in shown for reach in factor.reaches() for end in reach]
    return Axis.around([0.0, *ends], room=0.05, least=4.0)


def _effect(index: Index, factor: FactorFound, figure: str, result: LeverResult, axis: Axis) -> FigureEffect:
    def over(value: float | None) -> float:
        return effect_over_range(result, value, backwards=factor.backwards)

    low, high = sorted((over(result.judged_low), over(result.judged_high)))
    effect, clear = over(result.effect), result.verdict == "clear"
    interval = _interval(low, high, index.system)
    said = _CLEAR if clear else _TANGLED if low > 0.0 or high < 0.0 else _OPEN
    told = show_change_alone(effect, low, high, "1", index.system)
    return FigureEffect(
        figure=_short(figure),
        words=figure_words(figure),
        strip=StripPicture(
            axis,
            # the same stands beside it
            "",
            latest=(100 * effect,),
            reach=(100 * low, 100 * high),
            zero=0.0,
            ticks=axis.ticks(TICKS),
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


def _aside(factor: FactorFound) -> str:
    """What it changed together with, and in which figures the record can tell it from that all the same."""
    tangled = dict.fromkeys(name for _, result in factor.results for name in result.tangled_with)
    if not tangled:
        return ""
    others = in_words([label(name) for name in tangled])
    mixed = [_short(figure) for figure, result in factor.results if result.tangled_with and not result.apart]
    if not mixed:
        return f"Changed together with {others}; told apart, but less surely."
    where = "" if all(not result.apart for _, result in factor.results) else f" in {in_words(mixed)}"
    return f"Changed together with {others}; the record can’t tell them apart{where}."


def _short(figure: str) -> str:
    return figure_words(figure).removesuffix(" efficiency").removeprefix("apparent ")


def _worth(index: Index, house: BrewhouseView, factor: FactorFound) -> str:
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
        change = effect_over_range(result, end, backwards=factor.backwards)
        return grain * change / (level + change)

    middle = saved(result.likely_effect)
    low, high = sorted(abs(saved(end)) for end in (result.judged_low, result.judged_high))
    size = show_change_alone(abs(middle), low, high, "kg", index.system).removeprefix("+")
    told = f"{size} ({between(low, high, 'kg', index.system)})"
    return f"For a brew of your usual size that is {told} of grain {'less' if middle > 0 else 'more'}."


def factor_picture(index: Index, house: BrewhouseView, factor: FactorFound, axis: Axis) -> FactorPicture:
    """One factor with all its figures on an axis."""
    first = factor.first
    words = label(first.lever)
    return FactorPicture(
        words=words,
        tried=tried_words(first, index.system, backwards=factor.backwards),
        batches=max(result.batches for _, result in factor.results),
        effects=tuple(_effect(index, factor, figure, result, axis) for figure, result in factor.results),
        aside=_aside(factor),
        worth=_worth(index, house, factor),
        clear=factor.clear,
    )

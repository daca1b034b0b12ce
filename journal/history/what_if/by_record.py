"""What the record says a factor would do, from one setting to another."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from journal.frozen import dataclass
from journal.history.levers import LeverResult
from journal.history.levers.rows import MALT_LOT, is_number, useful_unit, word
from journal.history.settings import Setting, lever_of
from journal.history.what_if.answer import UNKNOWN, RestsOn
from journal.history.words import lever_label, setting_text
from journal.measures.wording import show_range

#: Figures that a factor is looked for in, the first of them that it is clear in says what it does.
FIGURES = ("conversion_efficiency", "lauter_efficiency", "brewhouse_efficiency")
#: What says nothing of practice: a lot is another malt, and these follow from the grist.
_OF_THE_GRIST = frozenset({MALT_LOT, "diastatic_power", "huskless"})


@dataclass(frozen=True)
class FactorEffect:
    """What a factor does to a figure, a fraction, with the ends of the interval that the verdict goes by."""

    figure: str
    effect: float
    low: float
    high: float


@dataclass(frozen=True)
class FactorWord:
    """What the record says of one factor that is set otherwise: its words, what that rests on, why; and its effects, none where it
    isn't known.
    """

    words: str
    rests_on: RestsOn
    why: str
    effects: tuple[FactorEffect, ...] = ()


def changed_factors(
    before: Mapping[str, Setting],
    after: Mapping[str, Setting],
    results: Mapping[str, Sequence[LeverResult]],
    system: str,
) -> Iterator[FactorWord]:
    """A word on every factor that is set otherwise. `results`: what the studies found, by figure."""
    for name in dict.fromkeys((*before, *after)):
        was, now = before.get(name), after.get(name)
        if was == now or name in _OF_THE_GRIST or _alike(name, was, now):
            continue
        yield _word_on(name, was, now, results, system)


def _alike(name: str, was: Setting | None, now: Setting | None) -> bool:
    """Whether two numbers of a factor are the same to what a brewer would set."""
    numbers = was is not None and now is not None and is_number(was) and is_number(now)
    return numbers and abs(float(was or 0.0) - float(now or 0.0)) < 1e-6 * max(
        useful_unit(name, [float(now or 0.0)]), 1e-9
    )


def _word_on(
    name: str, was: Setting | None, now: Setting | None, results: Mapping[str, Sequence[LeverResult]], system: str
) -> FactorWord:
    label = lever_label(name)
    of_it = [(figure, result) for figure in FIGURES for result in results.get(figure, ()) if result.lever == name]
    if was is None or now is None:
        return FactorWord(label, UNKNOWN, "it is not written how it was set")
    if not of_it:
        return FactorWord(label, UNKNOWN, "your record says nothing of it yet")
    effects = [
        found
        for figure, result in of_it
        if result.verdict == "clear" and (found := _effect(figure, result, was, now)) is not None
    ]
    if not effects:
        return FactorWord(label, UNKNOWN, _why_not(of_it, was, now))
    outside = _outside([result for _, result in of_it], name, now, system)
    if outside:
        return FactorWord(label, UNKNOWN, outside)
    # what the mash and the run-off each do makes up the whole
    whole = [each for each in effects if each.figure == FIGURES[-1]]
    parts = [each for each in effects if each.figure != FIGURES[-1]] or whole
    batches = max(result.batches for _, result in of_it)
    settings = f"{setting_text(name, was, system)} to {setting_text(name, now, system)}"
    return FactorWord(label, "record", f"{settings}, clear over {batches} batches", tuple(parts))


def _effect(figure: str, result: LeverResult, was: Setting, now: Setting) -> FactorEffect | None:
    """The effect from one setting to the other, as far as this result tells of both."""
    if result.kind == "slope":
        times = float(now) - float(was) if is_number(was) and is_number(now) else 0.0
    else:
        sides = {(result.reference, result.group): 1.0, (result.group, result.reference): -1.0}
        times = sides.get((word(was), word(now)), 0.0)
    if times == 0.0:
        return None
    effect, low, high = ((end or 0.0) * times for end in (result.likely_effect, result.judged_low, result.judged_high))
    return FactorEffect(figure, effect, min(low, high), max(low, high))


def _outside(results: Sequence[LeverResult], name: str, now: Setting, system: str) -> str:
    """What is said of a setting beyond all that were tried; empty where it is not."""
    tried = [end for result in results for end in (result.lowest, result.highest) if end is not None]
    if not tried or not is_number(now):
        return ""
    reach = 0.5 * useful_unit(name, tried)
    if min(tried) - reach <= float(now) <= max(tried) + reach:
        return ""
    return f"you tried {show_range(min(tried), max(tried), lever_of(name).unit, system)}, and nothing beyond"


def _why_not(of_it: Sequence[tuple[str, LeverResult]], was: Setting, now: Setting) -> str:
    result = of_it[0][1]
    if result.kind == "groups" and not any({word(was), word(now)} == {r.group, r.reference} for _, r in of_it):
        return f"“{word(now)}” was hardly tried"
    return {
        "too few batches": "too few of your batches have it written",
        "too little variation": "you hardly ever changed it",
    }.get(result.verdict, f"{result.batches} batches can’t tell yet")

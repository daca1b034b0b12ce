"""Levers in words: the step that an effect is told for, what was tried, and the one change that would tell most."""

from __future__ import annotations

import math

from journal.history.levers import LeverResult, Settling
from journal.history.levers.rows import word
from journal.history.settings import lever_of
from journal.history.words import lever_label, setting_text
from journal.measures.wording import METRIC, show_range, unit_for
from journal.pages.differences import join
from journal.pages.words import how_many


def label(lever: str) -> str:
    """A lever's name, with what the name alone does not say."""
    whole = lever_of(lever).share_of
    return f"{lever_label(lever)} in {whole}" if whole else lever_label(lever)


def _sign(lever: str, system: str) -> str:
    unit = lever_of(lever).unit
    # beside a range or a step "pH" stands like a unit
    return unit_for(unit, system).sign or unit


def _round_step(lowest: float, highest: float) -> float:
    """A third of the range tried or less, as 1, 2 or 5 of a power of ten; for a brewer's own number."""
    third = (highest - lowest) / 3.0
    if third <= 0.0:
        return 1.0
    power = 10.0 ** math.floor(math.log10(third))
    return next(step * power for step in (5.0, 2.0, 1.0) if step * power <= third * (1.0 + 1e-9))


def step_of(result: LeverResult, system: str) -> tuple[float, str]:
    """The step that a lever's effect is told for: in its kept unit, and in words."""
    lever, known = result.lever, lever_of(result.lever)
    if known.useful is None:
        step = _round_step(result.lowest or 0.0, result.highest or 0.0)
        return step, f"{step:g}"
    how = unit_for(known.unit, system)
    per_unit = how.convert_difference(1.0)
    shown = known.useful_us if system != METRIC else None
    amount = shown if shown is not None else known.useful * per_unit
    return amount / per_unit, join(f"{amount:g}", _sign(lever, system))


def tried(result: LeverResult, system: str) -> str:
    """The range tried, or the word against the one it is held against."""
    if result.kind == "groups":
        return f"against {result.reference}" if result.reference else ""
    if result.lowest is None or result.highest is None:
        return ""
    unit = lever_of(result.lever).unit
    if unit:
        text = show_range(result.lowest, result.highest, unit, system)
        return join(text, "pH" if unit == "pH" else "")
    return join(f"{result.lowest:g} to {result.highest:g}")


def settle_words(found: Settling | None, system: str) -> str:
    """The one change that would tell most, as a sentence; empty where there is none."""
    if found is None:
        return ""
    now, then = (setting_text(found.lever, setting, system) for setting in (found.now, found.setting))
    if isinstance(found.setting, bool):
        now, then = word(found.now), word(found.setting)
    brews = (
        f"{how_many(found.brews)} such {'brew' if found.brews == 1 else 'brews'} would make it clear, if the effect is what "
        "it seems"
        if found.brews is not None
        else "even twenty such brews would not make it clear, if the effect is no more than it seems"
    )
    return (
        f"To settle it: the next brew that would tell most is one like batch {found.after} in all but {label(found.lever)}, "
        f"from {now} to {then}; {brews}."
    )

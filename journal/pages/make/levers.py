"""Levers in words: the step that an effect is told for, what was tried, and the one change that would tell most."""

from __future__ import annotations

import math

from journal.history.levers import LeverResult, Settling
from journal.history.levers.rows import USEFUL_UNITS, word
from journal.history.words import SETTING_UNITS, lever_label, setting_text
from journal.measures.wording import METRIC, show_range, unit_for
from journal.pages.make.differences import join
from journal.pages.make.lead import how_many

#: What a brewer who thinks in US units changes at a time, in those units (common practice).
_US_STEPS = {
    "crush": 0.005,
    "mash_temperature": 1.0,
    "liquor_to_grist": 0.1,
    "diastatic_power": 10.0,
}
_SHARES = frozenset({"hulls", "huskless"})


def label(lever: str) -> str:
    """A lever's name, with what the name alone does not say."""
    return f"{lever_label(lever)} in the grist" if lever in _SHARES else lever_label(lever)


def _sign(lever: str, system: str) -> str:
    sign = unit_for(SETTING_UNITS.get(lever, ""), system).sign
    return "pH" if lever == "mash_ph" else sign


def _round_step(lowest: float, highest: float) -> float:
    """A third of the range tried or less, as 1, 2 or 5 of a power of ten; for a brewer's own number."""
    third = (highest - lowest) / 3.0
    if third <= 0.0:
        return 1.0
    power = 10.0 ** math.floor(math.log10(third))
    return next(step * power for step in (5.0, 2.0, 1.0) if step * power <= third * (1.0 + 1e-9))


def step_of(result: LeverResult, system: str) -> tuple[float, str]:
    """The step that a lever's effect is told for: in its kept unit, and in words."""
    lever = result.lever
    if lever not in USEFUL_UNITS:
        step = _round_step(result.lowest or 0.0, result.highest or 0.0)
        return step, f"{step:g}"
    how = unit_for(SETTING_UNITS[lever], system)
    per_unit = how.convert_difference(1.0)
    shown = _US_STEPS.get(lever) if system != METRIC else None
    amount = shown if shown is not None else USEFUL_UNITS[lever] * per_unit
    return amount / per_unit, join(f"{amount:g}", _sign(lever, system))


def tried(result: LeverResult, system: str) -> str:
    """The range tried, or the word against the one it is held against."""
    if result.kind == "groups":
        return f"against {result.reference}" if result.reference else ""
    if result.lowest is None or result.highest is None:
        return ""
    if result.lever in SETTING_UNITS:
        text = show_range(result.lowest, result.highest, SETTING_UNITS[result.lever], system)
        return join(text, "pH" if result.lever == "mash_ph" else "")
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

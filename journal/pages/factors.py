"""Factors in words: what they are called, the range that the brewer tried, and the one change that would tell most."""

from __future__ import annotations

from journal.history.levers import LeverResult, Settling
from journal.history.levers.rows import word
from journal.history.settings import lever_of
from journal.history.words import lever_label, setting_text
from journal.measures.wording import range_ends, unit_for
from journal.pages.counted import how_many
from journal.pages.differences import join


def label(lever: str) -> str:
    """A factor's name, with what the name alone does not say."""
    whole = lever_of(lever).share_of
    return f"{lever_label(lever)} in {whole}" if whole else lever_label(lever)


def tried_words(result: LeverResult, system: str, *, backwards: bool) -> str:
    """From which setting to which its effect is told, `1.30 → 1.05 mm`; `backwards` from the highest to the lowest."""
    if result.kind == "groups":
        ends = [result.reference or "", result.group or ""]
        sign = ""
    elif result.inner_lowest is None or result.inner_highest is None:
        return ""
    elif unit := lever_of(result.lever).unit:
        ends = list(range_ends(result.inner_lowest, result.inner_highest, unit, system))
        # a smaller number may be the finer one, and stands first in either case
        sign = unit_for(unit, system).sign
    else:
        ends, sign = [f"{result.inner_lowest:g}", f"{result.inner_highest:g}"], ""
    first, last = reversed(ends) if backwards else ends
    return join(first, "→", last, sign)


def effect_over_range(result: LeverResult, value: float | None, *, backwards: bool) -> float:
    """What an effect, or an end of its interval, comes to over the range tried: a fraction."""
    wide = 1.0 if result.kind == "groups" else (result.inner_highest or 0.0) - (result.inner_lowest or 0.0)
    return (value or 0.0) * wide * (-1.0 if backwards else 1.0)


def settle_words(found: Settling | None, system: str) -> str:
    """The one change that would tell most, as a sentence; empty where there is none."""
    if found is None:
        return ""
    now, then = (setting_text(found.lever, setting, system) for setting in (found.now, found.setting))
    if isinstance(found.setting, bool):
        now, then = word(found.now), word(found.setting)
    brews = (
        f"{how_many(found.brews)} such {'brew' if found.brews == 1 else 'brews'} would make it clear, if the effect is as large as "
        "it looks now"
        if found.brews is not None
        else "if the effect is only as large as it looks now, it takes more than twenty such brews to be sure"
    )
    return (
        f"To learn most from the next brew: brew batch {found.after} again and change only {label(found.lever)}, from {now} to "
        f"{then}; {brews}."
    )

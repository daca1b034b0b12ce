"""The sentence a batch's page opens with: what a brewer could say aloud."""

from __future__ import annotations

from journal.balance import CLOSES, STRAINED, Balance
from journal.measures.wording import show
from journal.pages.make.expected import expected_of
from journal.pages.make.numbers import number, of_result
from journal.pages.make.recorded import Desk, counted
from journal.pages.make.workings import reading_list
from journal.pages.models.common import UNBROKEN
from journal.pages.words import day, sentence
from journal.problems import Problem

_NUMBER_WORDS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")


def how_many(count: int) -> str:
    """`two` for 2; from ten on in figures."""
    return _NUMBER_WORDS[count] if count < len(_NUMBER_WORDS) else str(count)


def lead(desk: Desk) -> tuple[str, ...]:
    """The opening sentences."""
    if desk.batch.planned:
        return (planned_lead(desk), "Nothing is measured yet.")
    return (*_outcome(desk), *_agree(desk), *_odd(desk.index.warnings_of(desk.batch), desk.index.balance(desk.batch)))


def _outcome(desk: Desk) -> tuple[str, ...]:
    brewhouse = desk.best.get("brewhouse_efficiency")
    if brewhouse is not None:
        went = f"{of_result(brewhouse, desk.system).text} of the malt’s extract went into the fermenter"
        return (f"{went}{_expected(desk, 'brewhouse_efficiency')}.",)
    missing = reading_list(desk.figures.wanting["brewhouse_efficiency"], desk.names)
    would = "would tell" if desk.figures.wanting["brewhouse_efficiency"] else ""
    kettle = desk.best.get("mash_efficiency")
    if kettle is not None:
        reached = f"{of_result(kettle, desk.system).text} of the malt’s extract reached the kettle"
        reached = f"{reached}{_expected(desk, 'mash_efficiency')}."
        return (reached, f"How much of it went into the fermenter, {missing} {would}.")
    return (f"How much of the malt’s extract went into the fermenter can’t be said: {missing} {would}.",)


def _expected(desk: Desk, name: str) -> str:
    """`; 71 to 79 % was to be expected`, where something was."""
    expected = expected_of(desk, name)
    return f"; {expected.span.replace(' ', UNBROKEN)} was to be expected" if expected else ""


def _agree(desk: Desk) -> tuple[str, ...]:
    """Whether the readings agree; where they don't, what is odd says so."""
    balance = desk.index.balance(desk.batch)
    said = {CLOSES: "The readings agree.", STRAINED: "The readings agree only just."}
    return (said[balance.verdict.status],) if balance and balance.holds else ()


def _odd(warnings: list[Problem], balance: Balance | None) -> tuple[str, ...]:
    if not warnings:
        return () if balance and balance.holds else ("Nothing odd.",)
    if len(warnings) == 1:
        return ("One thing is odd:",)
    return (f"{how_many(len(warnings)).capitalize()} things are odd:",)


def aim(desk: Desk) -> str:
    """`19.0 L at 1.046`, as far as the target is stated."""
    target = desk.batch.target
    if target is None:
        return ""
    volume = show(target.volume.value, 0.0, "L", desk.system) if target.volume else None
    gravity = counted(desk, target.gravity, "target.gravity", "") if target.gravity else None
    return " at ".join(
        part for part in (number(volume).text if volume else "", gravity.text if gravity else "") if part
    )


def planned_lead(desk: Desk) -> str:
    """What is planned, for when, and what the grist offers."""
    when = desk.batch.day
    gone = desk.index.today is not None and when < desk.index.today
    words = f"{'Was planned' if gone else 'Planned'} for {day(when).text}"
    target = aim(desk)
    offered = desk.figures.get("potential_extract")
    if target:
        words += f": {target}"
    if offered is not None:
        grain = of_result(desk.figures["grain_weight"], desk.system).text
        words += f", from {grain} of grain that offers {of_result(offered, desk.system).text} of extract"
    return sentence(words)

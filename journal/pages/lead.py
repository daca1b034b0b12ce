"""The sentence a batch's page opens with: what a brewer could say aloud."""

from __future__ import annotations

from journal.balance import CLOSES, STRAINED, Balance
from journal.figures.mash_shared import worts_of
from journal.measures.wording import show
from journal.pages.counted import how_many
from journal.pages.model import UNBROKEN, Link
from journal.pages.numbers import number, of_result
from journal.pages.parts.expected import expected_of
from journal.pages.parts.recorded import counted_value
from journal.pages.parts.working import reading_list
from journal.pages.paths import accounts_path
from journal.pages.view import BatchView
from journal.pages.words import day, sentence
from journal.problems import Problem, in_words
from journal.reading.entry import STEEP


def lead(view: BatchView) -> tuple[str, ...]:
    """The opening sentences."""
    if view.batch.planned:
        return (planned_lead(view), "Nothing is measured yet.")
    return (*_outcome(view), *_agree(view), *_odd(view.index.warnings_of(view.batch), view.index.balance(view.batch)))


def in_short(view: BatchView) -> str:
    """What is said of a batch where nothing stands beside it; of one whose readings contradict one another that, and no number."""
    return (
        "The readings of this brew contradict one another." if view.index.doubtful(view.batch) else view.once(lead)[0]
    )


def leading_number(view: BatchView, leads: tuple[str, ...]) -> Link:
    """The number that the opening sentence begins with, leading to its working; empty where it begins with words."""
    for name in ("brewhouse_efficiency", "mash_efficiency"):
        result = view.best.get(name)
        if result is not None and leads[0].startswith(words := of_result(result, view.system).text):
            return Link(words, f"{accounts_path(view.batch.id)}#{name}")
    return Link("")


def _outcome(view: BatchView) -> tuple[str, ...]:
    if not view.batch.brewed_here:
        made_of = (view.batch.relatives.whole, *view.batch.relatives.blended)
        told = in_words([f"{each.id}{UNBROKEN}{each.title}" for each in made_of if each])
        return (f"How much of the malt’s extract went into the fermenter stands with the brew it came from: {told}.",)
    brewhouse = view.best.get("brewhouse_efficiency")
    if brewhouse is not None:
        others = [each.id for each in worts_of(view.batch) if each.id != view.batch.id]
        with_others = f", with what went into that of {in_words(others)}" if others else ""
        went = f"{of_result(brewhouse, view.system).text} of the malt’s extract went into the fermenter{with_others}"
        return (f"{went}{_expected(view, 'brewhouse_efficiency')}.",)
    if view.batch.lauter.method == STEEP:
        return ("The grain was steeped and not mashed, so no efficiency is worked out.",)
    missing = reading_list(view.figures.wanting["brewhouse_efficiency"], view.names)
    kettle = view.best.get("mash_efficiency")
    if kettle is not None:
        reached = f"{of_result(kettle, view.system).text} of the malt’s extract reached the kettle"
        reached = f"{reached}{_expected(view, 'mash_efficiency')}."
        return (reached, f"How much of it went into the fermenter can’t be worked out without {missing}.")
    return (f"How much of the malt’s extract went into the fermenter can’t be worked out without {missing}.",)


def _expected(view: BatchView, name: str) -> str:
    """`; 71 to 79 % was to be expected`, where something was."""
    expected = expected_of(view, name)
    return f"; {expected.span.replace(' ', UNBROKEN)} was to be expected" if expected else ""


def _agree(view: BatchView) -> tuple[str, ...]:
    """Whether the readings agree; where they don't, what is odd says so."""
    balance = view.index.balance(view.batch)
    said = {CLOSES: "The readings agree.", STRAINED: "The readings agree only just."}
    return (said[balance.verdict.status],) if balance and balance.holds else ()


def _odd(warnings: list[Problem], balance: Balance | None) -> tuple[str, ...]:
    if not warnings:
        return () if balance and balance.holds else ("Nothing odd.",)
    if len(warnings) == 1:
        return ("One thing is odd:",)
    return (f"{how_many(len(warnings)).capitalize()} things are odd:",)


def aim(view: BatchView) -> str:
    """`19.0 L at 1.046`, as far as the target is stated."""
    target = view.batch.target
    volume = show(target.volume.value, 0.0, "L", view.system) if target.volume else None
    gravity = counted_value(view, target.gravity, "target.gravity", "") if target.gravity else None
    return " at ".join(
        part for part in (number(volume).text if volume else "", gravity.text if gravity else "") if part
    )


def planned_lead(view: BatchView) -> str:
    """What is planned, for when, and what the grist offers."""
    when = view.batch.day
    gone = view.index.today is not None and when < view.index.today
    words = f"{'Was planned' if gone else 'Planned'} for {day(when).text}"
    target = aim(view)
    offered = view.figures.get("potential_extract")
    if target:
        words += f": {target}"
    if offered is not None:
        grain = of_result(view.figures["grain_weight"], view.system).text
        words += f", from {grain} of grain that offers {of_result(offered, view.system).text} of extract"
    return sentence(words)

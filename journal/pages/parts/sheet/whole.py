"""The sheet as a whole."""

from __future__ import annotations

from collections.abc import Iterator

from journal.history.plan import target_of
from journal.history.plan.from_batch import unknown_additions
from journal.history.plan.readings import expected_readings
from journal.pages.parts.sheet import kettle, mash, strips, words
from journal.pages.parts.sheet.by_shares import how_weighed, why_not_weighed
from journal.pages.parts.sheet.for_script import for_script
from journal.pages.parts.sheet.liquor import liquor_remarks
from journal.pages.parts.sheet.model import Sheet, Stage
from journal.pages.parts.sheet.off_target import RULE, off_target
from journal.pages.parts.sheet.planned_batch import PlannedBatch
from journal.pages.parts.sheet.safety_notes import safety_note
from journal.pages.view import BatchView
from journal.problems import in_words
from journal.reading.entry import STEEP

_CODES = "Cautions in short; local codes, the makers’ instructions and those licensed come first."
#: An expectation that misses its target by less is not spoken of, SG: a hydrometer's whole point (common practice).
_ON_TARGET = 0.001


def sheet(view: BatchView) -> Sheet | None:
    """The working sheet; None once something is measured."""
    if not view.batch.planned:
        return None
    planned = _bench(view)
    target = target_of(view.batch)
    tables = off_target(planned, target) if target is not None else ()
    stages = tuple(stage for stage in _stages(planned) if stage is not None)
    return Sheet(
        basis=_basis(planned, target),
        wanting=tuple(_wanting(planned, target)),
        stages=stages,
        tables=tables,
        rule=RULE if tables else "",
        strips=(strips.hydrometer(planned, target), strips.volume(planned)),
        liquor=liquor_remarks(planned),
        acid=safety_note("acids"),
        codes=_CODES,
        for_script=for_script(planned, stages),
    )


def _stages(planned: PlannedBatch) -> tuple[Stage | None, ...]:
    """The stages of the work in order; None for one that this brew has not."""
    of_grain = (mash.mill(planned), mash.liquor(planned), mash.mash(planned), mash.run_off(planned))
    return (
        *(() if planned.of_extract_alone else of_grain),
        kettle.full_kettle(planned),
        kettle.boil(planned),
        kettle.knockout(planned),
        kettle.stand(planned),
        kettle.fermenter(planned),
        kettle.pitching(planned),
        kettle.cellar(planned),
    )


def _bench(view: BatchView) -> PlannedBatch:
    index, batch = view.index, view.batch
    balance = index.balance(batch)
    expected = (
        expected_readings(batch, view.figures, balance.priors, index.record.journal.brewery.instruments)
        if balance
        else {}
    )
    return PlannedBatch(view, expected, tuple(index.earlier(batch, len(index.batches))))


def _basis(planned: PlannedBatch, target: float | None) -> str:
    """What the expectations rest on, and whether they land on the target."""
    if not planned.expected:
        return ""
    balance = planned.view.index.balance(planned.batch)
    count = balance.priors.conversion.batches if balance else 0
    rests = (
        f"on {count} earlier {'batch' if count == 1 else 'batches'} of this brewhouse, for this grist and this liquor"
        if count
        else "on common practice alone, for this brewhouse has too few batches to go by; so they are wide"
    )
    weighed = how_weighed(planned)
    said = f"Ranges hold nine readings in ten and rest {rests}." + (f" {weighed}" if weighed else "")
    expected = planned.expected["original_gravity"].expected
    if target is None or abs(expected - target) <= _ON_TARGET:
        return said
    side = "more" if expected > target else "less"
    return (
        f"{said} As planned, {words.gravity(expected)} is to be expected in the fermenter, which is {side} than the "
        f"target of {words.gravity(target)}."
    )


def _why_nothing_expected(planned: PlannedBatch) -> Iterator[str]:
    """Why grist and liquor that are known lead to no expectation."""
    unknown = unknown_additions(planned.batch, planned.view.figures)
    if unknown:
        yield f"With what {in_words(unknown)} brings, such as `extract_as_is: 70 %`, what to expect will stand here."
    elif planned.batch.lauter.method == STEEP:
        yield "What steeped grain gives differs too much for ranges to stand here."
    elif planned.batch.brewed_here and not planned.batch.shares_mash and planned.view.index.balance(planned.batch):
        yield "This grist and this liquor make no wort that could be boiled: one of the two is not as meant."


def _wanting(planned: PlannedBatch, target: float | None) -> Iterator[str]:
    """What the entry lacks for the sheet to be whole."""
    if planned.of_extract_alone:
        yield "Nothing is mashed, so what comes of it hangs on the extract and the water alone, and no ranges stand here."
    else:
        yield from _wanting_of_grain(planned)
    if target is None:
        yield "With `target: {gravity: …, volume: …}`, tables for what to do off target will stand here."


def _wanting_of_grain(planned: PlannedBatch) -> Iterator[str]:
    figures = planned.view.figures
    by_shares = planned.batch.by_shares
    if by_shares:
        yield why_not_weighed(planned)
    elif figures.get("potential_extract") is None:
        yield "With the weight and extract of every malt in `grains`, what to expect will stand here."
    if figures.get("mash_liquor") is None and not by_shares:
        yield "With `mash: {liquor: …}`, the strike temperature and what to expect will stand here."
    elif figures.get("sparge_liquor") is None and not by_shares:
        yield "With `lauter: {method: …, liquor: …}`, what to expect will stand here."
    elif figures.get("potential_extract") is not None and not planned.expected:
        yield from _why_nothing_expected(planned)
    if not planned.batch.mash.rests:
        yield "With a rest such as `mash: {rests: [66.5 degC for 60 min]}`, the strike temperature will stand here."

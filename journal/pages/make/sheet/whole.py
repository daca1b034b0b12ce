"""The sheet as a whole."""

from __future__ import annotations

from collections.abc import Iterator

from journal.history.plan import target_of
from journal.history.plan.readings import expected_readings
from journal.pages.make.recorded import Desk
from journal.pages.make.sheet import kettle, mash, strips, words
from journal.pages.make.sheet.bench import Bench
from journal.pages.make.sheet.liquor import of_liquor
from journal.pages.make.sheet.minds import mind
from journal.pages.make.sheet.off_target import RULE, off_target
from journal.pages.models.sheet import Sheet
from journal.reading import Batch

_CODES = "Cautions in short; local codes, the makers’ instructions and those licensed come first."
#: An expectation that misses its target by less is not spoken of, SG: a hydrometer's whole point (common practice).
_ON_TARGET = 0.001


def sheet(desk: Desk) -> Sheet | None:
    """The working sheet; None once something is measured."""
    if not desk.batch.planned:
        return None
    bench = _bench(desk)
    target = target_of(desk.batch)
    tables = off_target(bench, target) if target is not None else ()
    return Sheet(
        basis=_basis(bench, target),
        wanting=tuple(_wanting(bench, target)),
        stages=(
            mash.mill(bench),
            mash.liquor(bench),
            mash.mash(bench),
            mash.run_off(bench),
            kettle.full_kettle(bench),
            kettle.boil(bench),
            kettle.knockout(bench),
            kettle.fermenter(bench),
            kettle.pitching(bench),
        ),
        tables=tables,
        rule=RULE if tables else "",
        strips=(strips.hydrometer(bench, target), strips.volume(bench)),
        liquor=of_liquor(bench),
        acid=mind("acids"),
        codes=_CODES,
    )


def _bench(desk: Desk) -> Bench:
    index, batch = desk.index, desk.batch
    house = index.record.journal.brewery.brewhouse_of

    def earlier(other: Batch) -> bool:
        return not other.planned and house(other.brewhouse)[0] == house(batch.brewhouse)[0]

    balance = index.balance(batch)
    expected = (
        expected_readings(batch, desk.figures, balance.priors, index.record.journal.brewery.instruments)
        if balance
        else {}
    )
    before = index.batches[: index.order[batch.id]]
    return Bench(desk, expected, tuple(other for other in before if earlier(other)))


def _basis(bench: Bench, target: float | None) -> str:
    """What the expectations rest on, and whether they land on the target."""
    if not bench.expected:
        return ""
    balance = bench.desk.index.balance(bench.batch)
    count = balance.priors.conversion.batches if balance else 0
    rests = (
        f"on {count} earlier {'batch' if count == 1 else 'batches'} of this brewhouse, for this grist and this liquor"
        if count
        else "on common practice alone, for this brewhouse has no record yet; so they are wide"
    )
    said = f"Ranges hold nine readings in ten and rest {rests}."
    expected = bench.expected["original_gravity"].expected
    if target is None or abs(expected - target) <= _ON_TARGET:
        return said
    side = "more" if expected > target else "less"
    return (
        f"{said} As planned, {words.gravity(expected)} is to be expected in the fermenter, which is {side} than the "
        f"target of {words.gravity(target)}."
    )


def _wanting(bench: Bench, target: float | None) -> Iterator[str]:
    """What the entry lacks for the sheet to be whole."""
    figures = bench.desk.figures
    if figures.get("potential_extract") is None:
        yield "With the weight and extract of every malt in `grains`, what to expect will stand here."
    if figures.get("mash_liquor") is None:
        yield "With `mash: {liquor: …}`, the strike temperature and what to expect will stand here."
    elif figures.get("sparge_liquor") is None:
        yield "With `lauter: {method: …, liquor: …}`, what to expect will stand here."
    elif figures.get("potential_extract") is not None and bench.desk.index.balance(bench.batch) and not bench.expected:
        yield "This grist and this liquor make no wort that could be boiled: one of the two is not as meant."
    if not bench.mash.rests:
        yield "With a rest such as `mash: {rests: [66.5 degC for 60 min]}`, the strike temperature will stand here."
    if target is None:
        yield "With `target: {gravity: …, volume: …}`, tables for what to do off target will stand here."

"""What to do off target: for each pair of readings, whether to leave the wort alone, and what else would reach the target."""

from __future__ import annotations

from collections.abc import Iterator

from journal.history.plan import (
    BOIL,
    DILUTE,
    KETTLE,
    KNOCKOUT,
    MALT_EXTRACT,
    Correction,
    CorrectionTable,
    Remedy,
    correction_table,
    round_remedy,
)
from journal.history.plan.correction_text import amount_text
from journal.measures import writing
from journal.measures.units import convert
from journal.measures.wording import US, plain, unit_for
from journal.pages.model import UNBROKEN
from journal.pages.parts.sheet import words
from journal.pages.parts.sheet.model import Answer, Head, OffTarget
from journal.pages.parts.sheet.planned_batch import PlannedBatch

#: A boil shorter than this is not advised, min: bitterness and break want the time (common practice).
_SHORTEST_BOIL = 30.0
#: By place: what the table is called, and where the kettle was read.
_PLACES = {KETTLE: ("Kettle full", "before"), KNOCKOUT: ("At knockout", "after")}
#: What a cell may advise, and what its amount is of.
_ACTS = {BOIL: "boil", DILUTE: "water", MALT_EXTRACT: "malt extract"}
#: How a cell decides, in one line.
RULE = (
    "A single reading can be off, so it is weighed against the plan; where that best estimate lands within one point of the "
    "target, the advice is to leave it. Take a surprising reading twice."
)


def off_target(planned: PlannedBatch, target: float) -> tuple[OffTarget, ...]:
    """A table for the full kettle and one for knockout; none where nothing is expected of the batch."""
    return tuple(made for place in _PLACES if (made := _table(planned, place, target)))


def _table(planned: PlannedBatch, place: str, target: float) -> OffTarget | None:
    name, where = _PLACES[place]
    at, _ = words.read_at(planned.earlier, where)
    shrunk = 1.0 / words.swelling(at)
    unit = shrunk * (convert(1.0, "us_gallon", "litre") if planned.system == US else 1.0)
    balance = planned.view.index.balance(planned.batch)
    if balance is None:
        return None
    instruments = planned.view.index.record.journal.brewery.instruments
    found = correction_table(planned.batch, planned.view.figures, balance.priors, place, instruments, unit)
    if found is None:
        return None
    volume, degrees = planned.sign("L"), words.temperature(at, planned.system)
    acts = f"Minutes are the whole boil, never under {_SHORTEST_BOIL:.0f}. " if place == KETTLE else ""
    return OffTarget(
        name=place,
        words=name,
        summary=(
            f"Across, the volume in {volume} by the marks at {degrees}, below it at {words.temperature(20.0, planned.system)}; "
            f"down, the gravity; in bold what nine readings in ten will show. {acts}+ weight is dried malt extract, + volume "
            f"water. After each arrow: {volume} into the fermenter, at {words.gravity(target)} unless left alone."
        ),
        unit=volume,
        columns=tuple(_columns(planned, found, unit, words.swelling(at))),
        rows=tuple(_rows(planned, found)),
    )


def _columns(planned: PlannedBatch, found: CorrectionTable, unit: float, swollen: float) -> Iterator[Head]:
    cold = unit_for("L", planned.system)
    steps = [value / unit for value in found.volumes]
    decimals = next((n for n in range(3) if all(abs(value - round(value, n)) < 1e-6 for value in steps)), 3)
    for value, step in zip(found.volumes, steps, strict=True):
        marks = plain(step, decimals)
        usual = words.lies_within(marks, found.volume, "L", planned.system, swollen)
        yield Head(marks, plain(cold.convert(value), cold.decimals), usual)


def _rows(planned: PlannedBatch, found: CorrectionTable) -> Iterator[tuple[Head, tuple[Answer, ...]]]:
    for gravity, cells in zip(found.gravities, found.cells, strict=True):
        shown = words.gravity(gravity)
        head = Head(shown, "", words.lies_within(shown, found.gravity, "SG", planned.system))
        yield head, tuple(_answer(planned, cell) for cell in cells)


def _answer(planned: PlannedBatch, cell: Correction | None) -> Answer:
    if cell is None:
        return Answer(False, ())
    if cell.leave:
        return Answer(True, (_landing(planned, "leave it", cell.fermenter_volume),), ("",))
    told = [
        (line, _ACTS[remedy.kind])
        for remedy in cell.remedies
        if remedy.kind in _ACTS and (line := _line(planned, remedy))
    ]
    return Answer(False, tuple(line for line, _ in told), tuple(act for _, act in told))


def _landing(planned: PlannedBatch, do: str, litres: float) -> str:
    """What to do and what comes of it; where there is no room for both on a line, it breaks before the arrow."""
    cold = unit_for("L", planned.system)
    return f"{words.unbroken(do)} →{UNBROKEN}{plain(cold.convert(litres), cold.decimals)}"


def _water(planned: PlannedBatch, remedy: Remedy) -> str:
    return writing.volume(remedy.amount, US) if planned.system == US else f"{plain(round_remedy(remedy), 1)} L"


def _line(planned: PlannedBatch, remedy: Remedy) -> str:
    """One way to the target and what lands in the fermenter; empty for a boil that is too short or no other than planned."""
    if remedy.kind == BOIL:
        intended = planned.batch.boil.time
        if round_remedy(remedy) < _SHORTEST_BOIL or (intended and round_remedy(remedy) == intended.value):
            return ""
        do = amount_text(remedy, planned.system)
    elif remedy.kind == DILUTE:
        do = f"+{_water(planned, remedy)}"
    else:
        do = f"+{amount_text(remedy, planned.system)}"
    return _landing(planned, do, remedy.fermenter_volume)

"""The second half of the work: full kettle, boil, knockout, fermenter, yeast."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from journal.figures.added import joins_late
from journal.measures import Measure
from journal.measures.units import VOLUME as VOLUME_KIND
from journal.pages.model import UNBROKEN
from journal.pages.parts.sheet import words
from journal.pages.parts.sheet.model import CLOCK, MOMENT, WORDS, Box, Stage, Task, Typed
from journal.pages.parts.sheet.planned_batch import BOILS, PlannedBatch
from journal.pages.parts.sheet.safety_notes import heating, safety_note
from journal.pages.words import day
from journal.reading.entry import Hop
from journal.reading.known_readings import GRAVITY, VOLUME, read_at
from journal.reading.malts import alpha_of
from journal.reading.table import is_blank


def _read_at(planned: PlannedBatch, where: str) -> tuple[float, str]:
    """The temperature the marks are read at, and whether that is only common practice."""
    at, own = words.read_at(planned.earlier, where)
    return at, "" if own else "marks read hot as is common practice"


def _vessel(planned: PlannedBatch, station: str, where: str) -> tuple[Task, Task]:
    at, note = _read_at(planned, where)
    volume, gravity = read_at(station, VOLUME), read_at(station, GRAVITY)
    asked = f"{volume.asked} at {words.temperature(at, planned.system)}"
    return planned.volume(asked, volume.figure, at, note), planned.gravity(gravity.asked, gravity.figure)


def full_kettle(planned: PlannedBatch) -> Stage:
    """What is to be read before the boil."""
    tasks = _vessel(planned, "kettle", "before")
    top_up = planned.batch.boil.top_up
    added = (_water(planned, top_up, "boil.top_up"),) if top_up and top_up.value else ()
    stage = Stage("Full kettle", (*planned.added("boil.before"), *tasks, *added))
    # where nothing is mashed, water is first heated here
    return replace(stage, safety_notes=heating()) if planned.of_extract_alone else stage


def _water(planned: PlannedBatch, water: Measure, path: str) -> Task:
    amount = words.volume(water.value, planned.system)
    # a number alone counts in the unit that the amount is said in: a quart is no gallon
    typed = replace(planned.typed(path, VOLUME_KIND, "L"), unit=words.unit_of(amount))
    return Task("Water added", amount, boxes=(Box("in", "", typed),))


def _hop_time(planned: PlannedBatch, hop: Hop) -> str:
    """When a hop goes in, on a clock that starts with the boil."""
    if hop.with_first_wort:
        return "with the first wort"
    if hop.boiled is None:
        return ""
    if hop.boiled.value == 0:
        return "at knockout"
    boiled = f"boils {words.minutes(hop.boiled.value)}"
    if planned.batch.boil.time is None:
        return boiled
    start = planned.batch.boil.time.value - hop.boiled.value
    return f"before the boil, {boiled}" if start < 0 else f"at {words.minutes(start)}, {boiled}"


def _hops(planned: PlannedBatch) -> Iterator[Task]:
    """In order of time: what boils longest goes in first."""
    inwards = sorted(
        enumerate(planned.batch.boil.hops), key=lambda each: -each[1].boiled.value if each[1].boiled else 0.0
    )
    for place, hop in inwards:
        known = alpha_of(hop, planned.view.index.record.journal.malts)
        alpha = f", {_share(known.value)} alpha acid" if known else ""
        amount = words.weight(hop.weight.value, planned.system) if hop.weight else ""
        box = Box("in at", "", Typed(f"boil.hops[{place}]", CLOCK, after=_due(planned, hop), called=hop.hop or ""))
        yield Task(f"{hop.hop}{alpha}", amount, _hop_time(planned, hop), "", (box,))


def _due(planned: PlannedBatch, hop: Hop) -> tuple[str, float] | None:
    """When a hop goes in by the boil's beginning; None for one that is in by then, or whose time is not known."""
    if hop.boiled is None or planned.batch.boil.time is None or hop.with_first_wort:
        return None
    start = planned.batch.boil.time.value - hop.boiled.value
    return (BOILS, start) if start > 0 else None


def _share(value: float) -> str:
    return f"{value * 100:.1f}{UNBROKEN}%"


def _from_to(what: str, time: Measure | None) -> tuple[Box, Box]:
    """Room for the times at which something begins and ends."""
    begins = Typed(f"{what} from", CLOCK, minutes=time.value if time else None)
    return Box("from", "", begins), Box("to", "", Typed(f"{what} to", CLOCK))


def boil(planned: PlannedBatch) -> Stage:
    """How long, hops by the clock, sugars."""
    time = planned.batch.boil.time
    first = Task("Boil", words.minutes(time.value) if time else "", "", "", _from_to("boil", time))
    if time is not None and time.value == 0:
        first = Task("Not boiled", note="What is not boiled is not made safe by the boil: keep everything clean.")
    tasks = (first, *_hops(planned), *planned.added("boil"))
    return Stage("Boil", tasks, (safety_note("boil-over"),))


def knockout(planned: PlannedBatch) -> Stage:
    """What is to be read at the end of the boil."""
    return Stage("Knockout", _vessel(planned, "knockout", "after"))


def fermenter(planned: PlannedBatch) -> Stage:
    """What is to be in the fermenter before yeast."""
    held = planned.batch.fermenter
    before = [(n, line) for n, line in enumerate(held.additions) if not joins_late(planned.batch, line)]
    tasks = [*planned.added("fermenter", before)]
    if held.top_up and held.top_up.value:
        tasks.append(_water(planned, held.top_up, "fermenter.top_up"))
    volume, gravity = read_at("fermenter", VOLUME), read_at("fermenter", GRAVITY)
    tasks.append(planned.volume(f"{volume.asked} at {words.temperature(20.0, planned.system)}", volume.figure))
    tasks.append(planned.gravity(gravity.asked, gravity.figure))
    return Stage("Fermenter", tuple(tasks))


def pitching(planned: PlannedBatch) -> Stage:
    """The yeast."""
    boxes = (
        planned.temperature_box("wort at", "fermenter.temperatures"),
        Box("pitched at", "", Typed("fermenter.pitched", MOMENT, "", "fermenter.pitched")),
    )
    held = planned.batch.fermenter
    amount = words.unbroken(planned.batch.written("fermenter.yeast.amount"))
    tasks = [Task(held.yeast.strain or "Yeast", amount, held.yeast.form or "", "", boxes)]
    if held.oxygen:
        tasks.append(Task("Oxygen", held.oxygen, boxes=(Box("given", "", Typed("fermenter.oxygen", WORDS)),)))
    return Stage("Pitching", tuple(tasks), (safety_note("carbon-dioxide"),))


def stand(planned: PlannedBatch) -> Stage | None:
    """The hot stand and the cooling; None where neither is planned."""
    held, cooling = planned.batch.stand, planned.batch.cooling
    if is_blank(held) and is_blank(cooling):
        return None
    tasks = []
    if not is_blank(held):
        at = words.temperature(held.temperature.value, planned.system) if held.temperature else ""
        time = f"for {words.minutes(held.time.value)}" if held.time else ""
        tasks.append(Task("Stand", at, time, "", _from_to("stand", held.time)))
        tasks += [*planned.hops("stand"), *planned.added("stand")]
    if not is_blank(cooling):
        to = f"to {words.temperature(cooling.to.value, planned.system)}" if cooling.to else ""
        time = f"in {words.minutes(cooling.time.value)}" if cooling.time else ""
        tasks.append(Task("Cooling", cooling.method or "", f"{to} {time}".strip(), "", _from_to("cooling", None)))
    return Stage("Stand and cooling", tuple(tasks))


def cellar(planned: PlannedBatch) -> Stage | None:
    """What is to be done while it ferments; None where nothing is planned."""
    held = planned.batch.fermenter
    late = [(n, line) for n, line in enumerate(held.additions) if joins_late(planned.batch, line)]
    warm = [
        Task(
            step.why or "Temperature",
            words.temperature(step.temperature.value, planned.system),
            day(step.on.date()).text,
        )
        for step in held.temperatures
        if step.temperature and step.on
    ]
    tasks = (*warm, *planned.added("fermenter", late), *planned.hops("fermenter"))
    return Stage("Fermentation", tasks) if tasks else None

"""The second half of the work: full kettle, boil, knockout, fermenter, yeast."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from journal.measures import Measure
from journal.pages.model import UNBROKEN
from journal.pages.parts.sheet import words
from journal.pages.parts.sheet.model import Box, Stage, Task
from journal.pages.parts.sheet.planned_batch import PlannedBatch
from journal.pages.parts.sheet.safety_notes import safety_note
from journal.reading.entry import Addition, Hop
from journal.reading.known_readings import GRAVITY, VOLUME, read_at


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
    top_up = planned.boil.top_up
    added = (_water(planned, top_up),) if top_up and top_up.value else ()
    return Stage("Full kettle", (*tasks, *added))


def _water(planned: PlannedBatch, water: Measure) -> Task:
    return Task("Water added", words.volume(water.value, planned.system), boxes=(Box("in"),))


def _hop_time(planned: PlannedBatch, hop: Hop) -> str:
    """When a hop goes in, on a clock that starts with the boil."""
    if hop.boiled is None:
        return ""
    if hop.boiled.value == 0:
        return "at knockout"
    boiled = f"boils {words.minutes(hop.boiled.value)}"
    if planned.boil.time is None:
        return boiled
    start = planned.boil.time.value - hop.boiled.value
    return f"before the boil, {boiled}" if start < 0 else f"at {words.minutes(start)}, {boiled}"


def _hops(planned: PlannedBatch) -> Iterator[Task]:
    """In order of time: what boils longest goes in first."""
    for hop in sorted(planned.boil.hops, key=lambda hop: -hop.boiled.value if hop.boiled else 0.0):
        alpha = f", {_share(hop.alpha.value)} alpha acid" if hop.alpha else ""
        amount = words.weight(hop.weight.value, planned.system) if hop.weight else ""
        yield Task(f"{hop.hop}{alpha}", amount, _hop_time(planned, hop), "", (Box("in at"),))


def _share(value: float) -> str:
    return f"{value * 100:.1f}{UNBROKEN}%"


def _sugars(planned: PlannedBatch, group: str, sugars: Sequence[Addition]) -> Iterator[Task]:
    for place, sugar in enumerate(sugars):
        yield planned.weighed(planned.view.names[f"{group}.additions[{place}]"], sugar.weight)


def boil(planned: PlannedBatch) -> Stage:
    """How long, hops by the clock, sugars."""
    time = planned.boil.time
    first = Task("Boil", words.minutes(time.value) if time else "", "", "", (Box("from"), Box("to")))
    tasks = (first, *_hops(planned), *_sugars(planned, "boil", planned.boil.additions))
    return Stage("Boil", tasks, (safety_note("boil-over"),))


def knockout(planned: PlannedBatch) -> Stage:
    """What is to be read at the end of the boil."""
    return Stage("Knockout", _vessel(planned, "knockout", "after"))


def fermenter(planned: PlannedBatch) -> Stage:
    """What is to be in the fermenter before yeast."""
    held = planned.fermenter
    tasks = [*_sugars(planned, "fermenter", held.additions)]
    if held.top_up and held.top_up.value:
        tasks.append(_water(planned, held.top_up))
    volume, gravity = read_at("fermenter", VOLUME), read_at("fermenter", GRAVITY)
    tasks.append(planned.volume(f"{volume.asked} at {words.temperature(20.0, planned.system)}", volume.figure))
    tasks.append(planned.gravity(gravity.asked, gravity.figure))
    return Stage("Fermenter", tuple(tasks))


def pitching(planned: PlannedBatch) -> Stage:
    """The yeast."""
    boxes = (Box("wort at", planned.sign("°C")), Box("pitched at"))
    yeast = Task(planned.fermenter.yeast.strain or "Yeast", boxes=boxes)
    return Stage("Pitching", (yeast,), (safety_note("carbon-dioxide"),))

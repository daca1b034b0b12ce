"""The second half of the work: full kettle, boil, knockout, fermenter, yeast."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from journal.measures import Measure
from journal.pages.make.sheet import words
from journal.pages.make.sheet.bench import Bench
from journal.pages.make.sheet.minds import mind
from journal.pages.models.common import UNBROKEN
from journal.pages.models.sheet import Box, Stage, Task
from journal.reading.entry import Hop, Sugar


def _read_at(bench: Bench, where: str) -> tuple[float, str]:
    """The temperature the marks are read at, and whether that is only common practice."""
    at, own = words.read_at(bench.earlier, where)
    return at, "" if own else "marks read hot as is common practice"


def _vessel(bench: Bench, where: str, figures: tuple[str, str]) -> tuple[Task, Task]:
    at, note = _read_at(bench, where)
    volume = f"Volume by the marks at {words.temperature(at, bench.system)}"
    return bench.volume(volume, figures[0], at, note), bench.gravity("Gravity", figures[1])


def full_kettle(bench: Bench) -> Stage:
    """What is to be read before the boil."""
    tasks = _vessel(bench, "before", ("kettle_volume", "kettle_gravity"))
    top_up = bench.boil.top_up
    added = (_water(bench, top_up),) if top_up and top_up.value else ()
    return Stage("Full kettle", (*tasks, *added))


def _water(bench: Bench, water: Measure) -> Task:
    return Task("Water added", words.volume(water.value, bench.system), boxes=(Box("in"),))


def _hop_time(bench: Bench, hop: Hop) -> str:
    """When a hop goes in, on a clock that starts with the boil."""
    if hop.boiled is None:
        return ""
    if hop.boiled.value == 0:
        return "at knockout"
    boiled = f"boils {words.minutes(hop.boiled.value)}"
    if bench.boil.time is None:
        return boiled
    start = bench.boil.time.value - hop.boiled.value
    return f"before the boil, {boiled}" if start < 0 else f"at {words.minutes(start)}, {boiled}"


def _hops(bench: Bench) -> Iterator[Task]:
    """In order of time: what boils longest goes in first."""
    for hop in sorted(bench.boil.hops, key=lambda hop: -hop.boiled.value if hop.boiled else 0.0):
        alpha = f", {_share(hop.alpha.value)} alpha acid" if hop.alpha else ""
        amount = words.weight(hop.weight.value, bench.system) if hop.weight else ""
        yield Task(f"{hop.hop}{alpha}", amount, _hop_time(bench, hop), "", (Box("in at"),))


def _share(value: float) -> str:
    return f"{value * 100:.1f}{UNBROKEN}%"


def _sugars(bench: Bench, group: str, sugars: Sequence[Sugar]) -> Iterator[Task]:
    for place, sugar in enumerate(sugars):
        yield bench.weighed(bench.desk.names[f"{group}.additions[{place}]"], sugar.weight)


def boil(bench: Bench) -> Stage:
    """How long, hops by the clock, sugars."""
    time = bench.boil.time
    first = Task("Boil", words.minutes(time.value) if time else "", "", "", (Box("from"), Box("to")))
    tasks = (first, *_hops(bench), *_sugars(bench, "boil", bench.boil.additions))
    return Stage("Boil", tasks, (mind("boil-over"),))


def knockout(bench: Bench) -> Stage:
    """What is to be read at the end of the boil."""
    return Stage("Knockout", _vessel(bench, "after", ("knockout_volume", "knockout_gravity")))


def fermenter(bench: Bench) -> Stage:
    """What is to be in the fermenter before yeast."""
    held = bench.fermenter
    tasks = [*_sugars(bench, "fermenter", held.additions)]
    if held.top_up and held.top_up.value:
        tasks.append(_water(bench, held.top_up))
    tasks.append(bench.volume(f"Volume at {words.temperature(20.0, bench.system)}", "fermenter_volume"))
    tasks.append(bench.gravity("Gravity before yeast", "original_gravity"))
    return Stage("Fermenter", tuple(tasks))


def pitching(bench: Bench) -> Stage:
    """The yeast."""
    boxes = (Box("wort at", bench.sign("°C")), Box("pitched at"))
    yeast = Task(bench.fermenter.yeast or "Yeast", boxes=boxes)
    return Stage("Pitching", (yeast,), (mind("carbon-dioxide"),))

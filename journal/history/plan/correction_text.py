"""A correction as plain text, for a brewer who types the readings."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from math import fsum
from typing import Any

from journal.balance import Priors
from journal.figures import BatchFigures
from journal.figures.corrected import gravity as corrected
from journal.figures.corrected import litres
from journal.figures.observe import Observer
from journal.figures.propagate import contributions, nominal, propagate
from journal.history.plan.correct import GRAVITY, VOLUME, Correction, Range, correct
from journal.history.plan.forecast import KETTLE, target_of
from journal.history.plan.from_batch import unknown_additions
from journal.history.plan.remedy import BOIL, DILUTE, MALT_EXTRACT, SUCROSE, Remedy, round_remedy
from journal.measures import Fault, Measure, read_gravity, read_measure, writing
from journal.measures.wording import METRIC, US, plain, show, show_range
from journal.numerics import Estimate
from journal.problems import in_words
from journal.reading import Batch, Journal
from journal.reading.values import VesselVolume
from journal.reading.vessel_dip import find_unknown_dips

#: Half-widths of its 90 % interval beyond which a reading is to be taken again: about five standard deviations.
_FAR = 3.0
#: Half-widths beyond which nothing is made of a reading: no remedy for a slip is better than a wrong one.
_BEYOND = 5.0
#: Half-widths below which a reading that is out of it is just out of it.
_JUST = 1.1
_NOTHING_PLANNED = (
    "is brewed already and states no target, so there is no plan to hold a reading to. "
    "If it is still under way, write what you are after into its entry, such as `target: {gravity: 1.048}`."
)
_READ_AT = {KETTLE: "boil.before", "knockout": "boil.after"}
_PLACES = {KETTLE: "the full kettle", "knockout": "knockout"}


def correction_text(
    batch: Batch, journal: Journal, recorded: BatchFigures, priors: Priors, place: str, gravity: str, volume: str
) -> tuple[str, bool]:
    """What the readings make of a planned batch, as text; or why there is no answer, and False.

    `gravity` and `volume` are as an entry would have them, empty for what was not read.
    """
    system = journal.brewery.units or METRIC
    observer, read_at = Observer(batch, journal.brewery, journal.malts), _READ_AT[place]
    if not batch.planned and target_of(batch) is None:
        return f"batch {batch.id} {_NOTHING_PLANNED}", False
    seen_gravity = _gravity(gravity, read_at, observer)
    seen_volume = _volume(volume, gravity, read_at, observer)
    if isinstance(seen_gravity, Fault):
        return f"--gravity: {seen_gravity.message}. {seen_gravity.hint}", False
    if isinstance(seen_volume, Fault):
        return f"--volume: {seen_volume.message}. {seen_volume.hint}", False
    found = correct(batch, recorded, priors, place, seen_gravity, seen_volume)
    if found is None:
        return _why_none(batch, recorded), False
    return "\n".join(_lines(batch, found, system)), True


def _why_none(batch: Batch, recorded: BatchFigures) -> str:
    """Why nothing can be said of readings: what the entry lacks, or that no wort of it could show them."""
    if recorded.get("potential_extract") is None or recorded.get("mash_liquor") is None:
        return f"batch {batch.id} needs its grist and liquor before a correction can be calculated."
    unknown = unknown_additions(batch, recorded)
    if unknown:
        why = f"what {in_words(unknown)} brings is not known, so nobody can say where batch {batch.id} lands"
        return f"{why}. Write it into its entry, such as extract_as_is: 70 %, and ask again."
    return "no wort of this batch could show that. Look at the readings again."


def _gravity(text: str, place: str, observer: Observer) -> Estimate | Fault | None:
    if not text:
        return None
    found = read_gravity(text)
    if isinstance(found, Fault):
        return found
    return _estimate(propagate(corrected, {"reading": observer.gravity(found, f"{place}.gravity").value}))


def _volume(text: str, gravity: str, place: str, observer: Observer) -> Estimate | Fault | None:
    """A volume by the marks, by weight or by the dip stick; `gravity` is what was read with it."""
    if not text:
        return None
    path = f"{place}.volume"
    found = read_measure(text, VesselVolume().kind_of(text), gallon=observer.brewery.own_gallon)
    if isinstance(found, Fault):
        return found
    read = _with_readings(observer, place, found, gravity)
    seen = read.volume(found, path)
    if not seen.wanting:
        return _estimate(propagate(litres, {"reading": seen.value}))
    dip = next((problem for problem in find_unknown_dips(read.batch, read.brewery) if problem.path == path), None)
    if dip is not None:
        return Fault(dip.code, f"“{text}” is a depth that no dip table makes a volume of", dip.hint, 0, len(text))
    return Fault(
        "field-missing", "what was weighed is a volume only by its strength", "Give --gravity too.", 0, len(text)
    )


def _with_readings(observer: Observer, place: str, volume: Measure, gravity: str) -> Observer:
    """An observer of the batch as if its entry held the readings: a volume by weight or by dip hangs on what else it says."""
    strength = read_gravity(gravity) if gravity else None
    name = place.rpartition(".")[2]
    boil = observer.batch.boil
    vessel = replace(getattr(boil, name), volume=volume, gravity=None if isinstance(strength, Fault) else strength)
    batch = replace(observer.batch, boil=replace(boil, **{name: vessel}))
    return Observer(batch, observer.brewery, observer.malts)


def _estimate(number: Any) -> Estimate:
    return Estimate(nominal(number), fsum(part * part for part in contributions(number).values()) ** 0.5)


def _lines(batch: Batch, found: Correction, system: str) -> Iterator[str]:
    yield f"batch {batch.id} {batch.title}, {_PLACES[found.place]}; {_target(batch, found.target)}"
    if not batch.planned:
        yield "  its entry holds readings of the day, or later ones: none of them counts here, only what you give now"
    yield from (
        f"  {name:<8} {_shown(name, each.recorded, 0.0, system)} as it counts{_beside(each)} {_range(name, each, system)}"
        for name, each in found.ranges.items()
    )
    off = {name: _distance(each) for name, each in found.ranges.items() if _distance(each) > _FAR}
    if off:
        yield f"Read the {' and the '.join(off)} again first: so far off, a slip is likelier than such a brew."
    if any(distance > _BEYOND for distance in off.values()):
        yield "If it shows the same again, see whether grist and liquor went in as the entry says; put that right, then ask again."
        return
    believed = (
        _shown(GRAVITY, found.gravity.value, found.gravity.sd, system),
        _shown(VOLUME, found.volume.value, found.volume.sd, system),
    )
    yield f"  best estimate {believed[0]} and {believed[1]} at 20 °C, readings and plan weighed together"
    left = _shown(VOLUME, found.fermenter_volume, 0.0, system)
    yield f"  as it is, {left} at {plain(found.original_gravity.value, 4)} will be in the fermenter"
    if found.leave:
        yield "Leave it: that is the target, within a point."
        return
    yield "To reach the target, one of these:"
    yield from (f"  {_remedy(remedy, batch, system)}" for remedy in found.remedies)


def _target(batch: Batch, target: float) -> str:
    """The target, and where it comes from if the entry states none."""
    if target_of(batch) is not None:
        return f"target {plain(target, 3)}"
    return (
        f"its entry states no target, so what the plan leads to is taken, {plain(target, 3)}: "
        f"to say what you are after, write `target: {{gravity: {plain(target, 3)}}}` with your number"
    )


def _beside(found: Range) -> str:
    """How a reading stands to what was expected, before the words for that."""
    if found.low <= found.recorded <= found.high:
        return "; expected"
    # so near the end of a range that both may be the same number on paper
    just = "just " if _distance(found) < _JUST else ""
    return f", {just}{'below' if found.recorded < found.low else 'above'} the expected"


def _distance(found: Range) -> float:
    """How far out a reading lies, in half-widths of the interval that was expected of it."""
    return abs(found.recorded - found.expected) / (found.high - found.expected)


def _shown(name: str, value: float, sd: float, system: str) -> str:
    if name == GRAVITY and not sd:
        return plain(value, 4)
    return str(show(value, sd, "L" if name == VOLUME else "SG", system))


def _range(name: str, found: Range, system: str) -> str:
    return show_range(found.low, found.high, "L" if name == VOLUME else "SG", system)


def amount_text(remedy: Remedy, system: str) -> str:
    """A remedy's amount as a brewer measures it out."""
    if remedy.kind == BOIL:
        return writing.time(round_remedy(remedy))
    if remedy.kind == DILUTE:
        return writing.volume(remedy.amount, system)
    return writing.weight(remedy.amount if system == US else round_remedy(remedy), system)


def _remedy(remedy: Remedy, batch: Batch, system: str) -> str:
    amount = amount_text(remedy, system)
    planned = batch.boil.time.value if batch.boil.time else None
    instead = f" instead of {writing.time(planned)}" if planned else ""
    do = {
        BOIL: f"boil {amount} in all{instead}",
        DILUTE: f"add {amount} of water",
        MALT_EXTRACT: f"stir in {amount} of dried malt extract",
        SUCROSE: f"stir in {amount} of sugar",
    }[remedy.kind]
    lands = _shown(VOLUME, remedy.fermenter_volume, 0.0, system)
    return f"{do}: {lands} at {plain(remedy.original_gravity, 4)} in the fermenter"

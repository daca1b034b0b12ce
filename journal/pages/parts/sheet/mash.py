"""The first half of the work: mill, liquor, mash, run-off."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from journal.history.plan import Strike, find_strike
from journal.history.plan.strike import ROOM, first_liquor, settles_at
from journal.measures.units import LENGTH, PH, TEMPERATURE, VOLUME, WEIGHT
from journal.measures.wording import US, plain, show, unit_for
from journal.pages.model import UNBROKEN
from journal.pages.parts.sheet import words
from journal.pages.parts.sheet.model import CLOCK, Box, Stage, Task, Typed
from journal.pages.parts.sheet.planned_batch import AT, PlannedBatch
from journal.pages.parts.sheet.safety_notes import heating, safety_note
from journal.pages.words import corrosive
from journal.reading.called import ordinal
from journal.reading.entry import WITHOUT_SPARGE, Rest
from journal.reading.known_readings import GRAVITY, read_at

#: By how much the grain's temperature is moved to show what that does to the strike liquor's, K: 5 °C, or 10 °F.
_COLDER = {US: 10 / 1.8}
#: A strike temperature that the entry states is spoken of where it is further from the one reckoned, as a share of its ±.
_AGREES = 0.5
#: No liquor is hotter, °C.
_BOILING = 100.0


def mill(planned: PlannedBatch) -> Stage:
    """Grist, its total, and the mill's gap as the brewer wrote it."""
    tasks = [_weighing(planned, place) for place in range(len(planned.batch.grains))]
    total = planned.view.figures.get("grain_weight")
    if total is not None and len(tasks) > 1:
        tasks.append(
            Task(
                "Grist in all",
                words.weight(total.value, planned.system),
                boxes=(Box("", planned.sign("kg"), planned.beside("grains", "in all", WEIGHT, "kg")),),
            )
        )
    crush = planned.batch.written("crush")
    gap = planned.typed("crush", LENGTH, "mm")
    gap = replace(gap, unit=words.unit_of(crush) or gap.unit)
    tasks.append(Task("Mill gap", words.unbroken(crush), boxes=(Box("set", "", gap),)))
    return Stage("Mill", tuple(tasks))


def _weighing(planned: PlannedBatch, place: int) -> Task:
    """A line of the grist to be weighed. What is typed is kept by its malt: lines may change places, or go, while it is kept."""
    grains = planned.batch.grains
    name, grain = planned.view.names[f"grains[{place}]"], grains[place]
    task = planned.weighed(name, grain.weight, f"grains[{place}].weight", _share(planned, place))
    again = sum(other.malt == grain.malt for other in grains[:place])
    key = f"weight of {grain.malt}{f', line {again + 1}' if again else ''}"
    return replace(
        task, boxes=tuple(replace(box, typed=box.typed and replace(box.typed, key=key)) for box in task.boxes)
    )


def _share(planned: PlannedBatch, place: int) -> str:
    """The share that a weight was calculated from; empty where the entry states the weight."""
    share = planned.batch.grains[place].share
    stated = f"grains[{place}].weight" in planned.batch.places
    return "" if share is None or stated else f"{plain(100 * share.value, 1)}{UNBROKEN}% of the grist"


def strike_of(planned: PlannedBatch, grain_temperature: float | None) -> Strike | None:
    """How hot the strike liquor must be; None where the entry lacks grist, liquor or a rest."""
    rest = planned.batch.mash.rests[0].temperature if planned.batch.mash.rests else None
    figures = planned.view.figures
    grain, moisture, liquor = (figures.get(name) for name in ("grain_weight", "grain_moisture", "mash_liquor"))
    if rest is None or grain is None or moisture is None or liquor is None:
        return None
    if grain.value <= 0 or liquor.value <= 0:
        return None
    poured = first_liquor(planned.batch.mash.rests, liquor.value)
    return (
        find_strike(rest.value, grain.value, poured, moisture.value / grain.value, grain_temperature)
        if poured > 0
        else None
    )


def _strike(planned: PlannedBatch, grain: float | None) -> Task:
    found = strike_of(planned, grain)
    boxes = (planned.temperature_box("read", "mash.strike"),)
    if found is None:
        return Task("Strike temperature", boxes=boxes)
    if found.temperature > _BOILING:
        return Task(
            "Strike temperature", boxes=boxes, note="No liquor is hot enough to get there in one step: mash in thinner."
        )
    shown = show(found.temperature, found.sd, "°C", planned.system)
    stated = planned.batch.mash.strike
    apart = stated is not None and abs(stated.value - found.temperature) > _AGREES * found.sd
    written = f"The entry says {words.temperature(stated.value, planned.system)}. " if stated and apart else ""
    return Task(
        "Strike temperature",
        words.unbroken(f"{shown.value} {shown.unit}"),
        words.unbroken(f"± {shown.sd} {shown.unit}"),
        f"{written}By heat balance; the heat that the tun takes up and the heat of wetting the grain are taken to cancel.",
        boxes,
    )


def _grain_temperature(planned: PlannedBatch, grain: float | None) -> Task:
    """The temperature the strike is reckoned with, and what a colder grist would make of it."""
    at = ROOM if grain is None else grain
    note = "" if grain is not None else "Not measured yet: taken as a cool room (common practice). "
    step = _COLDER.get(planned.system, 5.0)
    usual, colder = strike_of(planned, at), strike_of(planned, at - step)
    if usual is not None and colder is not None:
        kelvin, degree = unit_for("K", planned.system), planned.sign("°C")
        shown = [plain(kelvin.convert_difference(value), places) for value, places in (
            (step, 0), (colder.temperature - usual.temperature, 1))]  # fmt: skip
        note += f"Each {shown[0]}{UNBROKEN}{degree} colder needs {shown[1]}{UNBROKEN}{degree} more."
    box = planned.temperature_box("read", "mash.grain_temperature")
    return Task("Grain temperature", words.temperature(at, planned.system), "", note.strip(), (box,))


def _measured(planned: PlannedBatch, path: str) -> Box:
    return Box("measured", planned.sign("L"), planned.typed(path, VOLUME, "L"))


def liquor(planned: PlannedBatch) -> Stage:
    """The mash liquor, cold, and how hot it must be."""
    stated = planned.batch.mash.grain_temperature
    grain = stated.value if stated else None
    litres = planned.view.figures.get("mash_liquor")
    amount, note = "", ""
    if litres is not None:
        poured = first_liquor(planned.batch.mash.rests, litres.value)
        amount = words.volume(poured, planned.system)
        hot = strike_of(planned, grain)
        note = f"Measured at {words.temperature(20.0, planned.system)}"
        if hot is not None and hot.temperature <= _BOILING:
            swollen = poured * words.swelling(hot.temperature)
            note += f"; {words.volume(swollen, planned.system)} once it is hot"
        note += "."
    return Stage(
        "Mash liquor",
        (
            Task("Mash liquor", amount, "", note, (_measured(planned, "mash.liquor"),)),
            _grain_temperature(planned, grain),
            _strike(planned, grain),
        ),
        heating(),
    )


def _rest(planned: PlannedBatch, place: int, rest: Rest) -> Task:
    name = "Rest" if len(planned.batch.mash.rests) == 1 else f"{ordinal(place).capitalize()} rest"
    at = words.temperature(rest.temperature.value, planned.system) if rest.temperature else ""
    time = f"for {words.minutes(rest.time.value)}" if rest.time else ""
    path, minutes = f"mash.rests[{place}]", rest.time.value if rest.time else None
    boxes = (
        Box("settled at", planned.sign("°C"), planned.beside(path, "settled", TEMPERATURE, "°C")),
        Box("from", "", Typed(path, CLOCK, minutes=minutes)),
    )
    return Task(name, at, time, _brought(planned, place, rest), boxes)


def _brought(planned: PlannedBatch, place: int, rest: Rest) -> str:
    """What brings the mash to a rest, and where that lands it by heat balance."""
    said = ""
    if rest.infusion:
        hot = rest.infusion_temperature
        at = f" at {words.temperature(hot.value, planned.system)}" if hot else ""
        said = f"By an infusion of {words.volume(rest.infusion.value, planned.system)}{at}."
    elif rest.decoction:
        boiled = f", boiled {words.minutes(rest.boiled.value)}" if rest.boiled else ""
        said = f"By a decoction of {words.volume(rest.decoction.value, planned.system)}{boiled}."
    figures = planned.view.figures
    grain, moisture, liquor = (figures.get(name) for name in ("grain_weight", "grain_moisture", "mash_liquor"))
    if said and grain and moisture and liquor and grain.value > 0:
        rests = planned.batch.mash.rests
        lands = settles_at(rests, place, grain.value, liquor.value, moisture.value / grain.value)
        if lands is not None:
            said += f" By heat balance that lands at {words.temperature(lands, planned.system)}; what the tun takes comes off."
    return said


def mash(planned: PlannedBatch) -> Stage:
    """Salts and acids, rests, the mash's pH."""
    tasks = [*planned.added("mash"), *planned.hops("mash")]
    tasks += [_rest(planned, place, rest) for place, rest in enumerate(planned.batch.mash.rests)]
    at = Box("at", planned.sign("°C"), planned.beside("mash.ph", AT, TEMPERATURE, "°C"))
    boxes = (Box("read", "", planned.typed("mash.ph", PH)), at)
    tasks.append(Task("Mash pH", note="In a cooled sample.", boxes=boxes))
    acid = any(corrosive(addition.addition or "") for addition in planned.batch.mash.additions)
    return Stage("Mash", tuple(tasks), (safety_note("acids"),) if acid else ())


def _sparge(planned: PlannedBatch) -> Iterator[Task]:
    method = planned.batch.lauter.method
    if method in WITHOUT_SPARGE:
        yield Task(method.capitalize(), note="Nothing is rinsed.")
        return
    name = f"Sparge liquor{f', {method}' if method else ''}"
    fillings = [words.volume(filling.value, planned.system) for filling in planned.batch.lauter.fillings] or [""]
    for place, amount in enumerate(fillings):
        which = f"{name}, {ordinal(place)} filling" if len(fillings) > 1 else name
        path = f"lauter.liquor[{place}]" if len(fillings) > 1 else "lauter.liquor"
        yield Task(which, amount, boxes=(_measured(planned, path),))
    at = planned.batch.lauter.liquor_temperature
    warmth = words.temperature(at.value, planned.system) if at else ""
    yield Task("Sparge temperature", warmth, boxes=(planned.temperature_box("read", "lauter.liquor_temperature"),))


def run_off(planned: PlannedBatch) -> Stage:
    """The first wort as it is expected, and the sparge."""
    first_wort = read_at("first_wort", GRAVITY)
    first = planned.gravity(first_wort.asked, first_wort.figure)
    return Stage("Run-off", (first, *planned.added("lauter"), *_sparge(planned)))

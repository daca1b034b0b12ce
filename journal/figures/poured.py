"""A batch's numbers from pitching to the glass: the last gravity, the course it fell along, package and priming."""

from __future__ import annotations

from datetime import datetime, time
from typing import Any, ClassVar, NamedTuple

from journal.figures.as_read import Observed
from journal.figures.beer_gravities import Fermentation, fermentation_of, last_gravity, recorded_gravities
from journal.figures.borrowed import pitched_wort
from journal.figures.logistic import FEWEST_GRAVITIES
from journal.figures.observe import Called, Observer, observes
from journal.figures.plateau import level_for
from journal.measures import Measure, Scale
from journal.reading import Batch, Brewery, Malts
from journal.reading.entry import Package, Priming
from journal.reading.forms import in_days
from journal.reading.kinds import ingredient_named
from journal.science import carbonation

#: Standard uncertainty of a pressure gauge, bar, and of a count of cells or what a packet says, share of it (common practice).
GAUGE, CELLS_SHARE = 0.05, 0.20


class Primed(NamedTuple):
    """A sugar in a package, kg; `gives`: what it gives of what is typical of its kind, None for what is pure."""

    weight: Any
    sugar: str
    gives: Any = None


class PrimingPlan(NamedTuple):
    """The carbonation wanted, g/L, and the sugar to reach it by; `gives` as in `Primed`."""

    wanted: Any
    sugar: str
    gives: Any = None


class _Latest:
    """The fermentation that was looked at last: figures, checks and pages ask for one batch's several times in a row."""

    known: ClassVar[tuple[Batch, Brewery, Fermentation] | None] = None


def observe_fermentation(o: Observer) -> Fermentation:
    """What is known of a batch's fermentation; one object as long as no other batch is asked for."""
    latest = _Latest.known
    if latest is not None and latest[0] is o.batch and latest[1] is o.brewery:
        return latest[2]
    found = _observed(o)
    if not o.batch.relatives:  # what those lend may hang on their malts
        _Latest.known = o.batch, o.brewery, found
    return found


def _observed(o: Observer) -> Fermentation:
    seen = []
    for at, path, gravity in recorded_gravities(o.batch):
        # of the day of packaging no hour is stated, and without a day nobody knows how long the beer stood still
        when = datetime.combine(at.date(), time.min) if path == "package.gravity" else at
        if at != datetime.max:
            seen.append((path, when, o.gravity(gravity, path, fermented=True).value))
    seen.sort(key=lambda reading: reading[1])
    return fermentation_of(o.batch, seen, pitched_wort(o))


def recorded_fermentation(batch: Batch, brewery: Brewery) -> Fermentation:
    """What is known of a batch's fermentation, for pictures of it."""
    return observe_fermentation(Observer(batch, brewery, Malts()))


def why_not_primed(batch: Batch, brewery: Brewery) -> str | None:
    """Why the batch's beer may be given no sugar, in words; None where nothing in the record speaks against it."""
    return _why_not(batch, recorded_fermentation(batch, brewery))


def _why_not(batch: Batch, known: Fermentation) -> str | None:
    return carbonation.may_prime(known.by_calendar(), batch.package.container)


def _last(o: Observer) -> Observed:
    found = last_gravity(o.batch)
    if found is None:
        return Observed(wanting=("readings[0].gravity",))
    path, gravity = found
    # beer bends light by its alcohol too: without the wort's strength a refractometer's reading of it says nothing
    if gravity.scale is Scale.BRIX and (missing := pitched_wort(o).wanting):
        return Observed(wanting=missing)
    return o.gravity(gravity, path, fermented=True)


@observes(fermentation_course=Called("course of all gravities"))
def observe_course(o: Observer) -> dict[str, Observed]:
    """The course of all gravities; by itself, for to fit it takes longer than all other readings from pitching on."""
    known = observe_fermentation(o)
    if known.pitched is None:
        return {"fermentation_course": Observed(wanting=("fermenter.pitched",))}
    if known.course is not None:
        return {"fermentation_course": Observed(known.course)}
    # one more, be they too few or all of them too early
    count = len(o.batch.readings)
    return {"fermentation_course": Observed(wanting=(f"readings[{max(count, FEWEST_GRAVITIES - 1)}].gravity",))}


def priming_sugar_of(priming: Priming) -> str | None:
    """The sugar of a priming as `carbonation.SUGARS` calls it, whichever of its names the brewer wrote; None for another."""
    named = ingredient_named(priming.addition) if priming.addition else None
    for name in (priming.addition, named.name if named else None):
        if name is not None and name in carbonation.SUGARS:
            return name
    return None


def _sugar(priming: Priming) -> Observed:
    known = priming_sugar_of(priming)
    return Observed(known) if known else Observed(wanting=("package.priming.addition",))


def _priming(o: Observer, package: Package, known: Fermentation) -> dict[str, Observed]:
    priming = package.priming
    sugar = _sugar(priming)
    weight = o.hop_weight(priming.weight, "package.priming.weight")
    wanted = o.exact(package.carbonation, "package.carbonation")
    asked = (*wanted.wanting, *sugar.wanting) or _level(o.batch, known)
    given = (*weight.wanting, *sugar.wanting)
    differs = carbonation.SUGARS_DIFFER.get(sugar.value or "", 0.0)
    gives = o.once(f"kinds.{sugar.value}.fermentable_share", 1.0, differs) if differs else None
    return {
        "priming_plan": Observed(wanting=asked) if asked else Observed(PrimingPlan(wanted.value, sugar.value, gives)),
        "priming_given": Observed(wanting=given) if given else Observed(Primed(weight.value, sugar.value, gives)),
    }


def _level(batch: Batch, known: Fermentation) -> tuple[str, ...]:
    """What is missing of a beer that may be primed."""
    refused = _why_not(batch, known)
    if refused is None:
        return ()
    if batch.package.container is None:
        return ("package.container",)
    return (f"two gravities three days apart that agree ({refused})",)


class GasOver(NamedTuple):
    """Gauge pressure, bar, over beer at a temperature, degC, of a gas with this share of carbon dioxide."""

    pressure: Any
    at: Any
    share: Any


def _pressure(o: Observer, package: Package) -> Observed:
    pressure, share = package.pressure, package.carbon_dioxide
    if pressure is None or pressure.at is None:
        return Observed(
            wanting=("package.pressure" if pressure is None else "the beer's temperature in package.pressure",)
        )
    read = o.measure(pressure, "package.pressure", lambda m: m.sd if m.sd is not None else GAUGE)
    part = 1.0 if share is None else share.value
    return Observed(GasOver(read.value, o.temperature(pressure.at, "package.pressure"), part))


def _vented(package: Package) -> Observed:
    """A fermenter that was closed keeps its gas, and how much nobody knows without a pressure."""
    closed = package.closed is not None or package.spund is not None
    return Observed(wanting=("a fermenter that stood open to the end",)) if closed else Observed(1.0)


def _day(o: Observer) -> Observed:
    times = in_days(o.batch.clock)
    if len(times) < 2:
        return Observed(wanting=("clock",))
    return o.clock(Measure(float(times[-1].minutes - times[0].minutes), "minute"), "clock")


@observes(
    package_gas=Called("the gas over the beer"),
    vented=Called("a fermenter that stood open"),
    clock_minutes=Called("the first to the last time of the day's clock", "min"),
    yeast_cells=Called("the cells pitched", "billion"),
    last_gravity=Called("the last gravity as read"),
    level_stretch=Called("level stretch", "days"),
    priming_plan=Called("the carbonation wanted"),
    priming_given=Called("the priming sugar"),
)
def observe_after_pitching(o: Observer) -> dict[str, Observed]:
    """Every reading from pitching on that a figure may take, by the name of the figure's parameter."""
    known = observe_fermentation(o)
    package = o.batch.package
    readings = known.readings()
    level = (
        Observed(level_for(readings))
        if len(readings) > 1
        else Observed(wanting=(f"readings[{len(readings)}].gravity",))
    )
    return {
        "package_gas": _pressure(o, package),
        "vented": _vented(package),
        "clock_minutes": _day(o),
        "yeast_cells": o.measure(
            o.batch.fermenter.yeast.cells,
            "fermenter.yeast.cells",
            lambda m: m.sd if m.sd is not None else CELLS_SHARE * m.value,
        ),
        "last_gravity": _last(o),
        "level_stretch": level,
        **_priming(o, package, known),
    }

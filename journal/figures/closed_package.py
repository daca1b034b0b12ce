"""What a closed bottle or keg would hold: gas beyond what was asked for or what it can take, beer closed before its end.

Glass that bursts blinds. So each of these is a warning, with its reason, and none waits for a figure that is missing: where
what the beer held already is not known, the sugar's own gas is held against what a bottle can take.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from journal.figures.poured import priming_sugar_of, recorded_fermentation, why_not_primed
from journal.figures.resolve import BatchFigures
from journal.measures.units import convert
from journal.problems import Problem
from journal.reading import Batch, Brewery
from journal.reading.kinds import ingredient_named
from journal.science import carbonation as gas

#: Volumes of carbon dioxide that bottles bear (common practice): those of unknown make, and such as are made for pressure.
MOST_IN_BOTTLES, MOST_IN_HEAVY_BOTTLES = 3.5, 4.0
#: The warmest that a full package may come to lie, degC (common practice: a room in summer).
WARMEST_ROOM = 30.0
_BOTTLES = {"bottles": MOST_IN_BOTTLES, "heavy bottles": MOST_IN_HEAVY_BOTTLES}
_FILLED = (
    "Bottles filled already: keep them cold, covered and out of reach, and protect eyes and hands before touching one."
)


@dataclass(frozen=True)
class ExpectedEnd:
    """The apparent attenuation that yeast and mash led to expect: fractions of 1, `low` the least in nine of ten."""

    value: float
    low: float


@dataclass(frozen=True)
class _Gas:
    """Carbon dioxide, g/L; `alone` where it is the sugar's only, for nobody knows what the beer held."""

    value: float
    sd: float
    alone: bool

    @property
    def volumes(self) -> float:
        return _volumes(self.value)

    @property
    def words(self) -> str:
        spread = f" ± {_volumes(self.sd):.1f}" if self.sd and not self.alone else ""
        return f"{self.volumes:.1f}{spread} volumes{' by itself' if self.alone else ''}"


def _volumes(grams: float) -> float:
    return convert(grams, "gram / litre", "carbon_dioxide_volume")


def check_closed_package(
    batch: Batch, brewery: Brewery, figures: BatchFigures, expected: ExpectedEnd | None
) -> Iterator[Problem]:
    """Every danger of a batch's package, as warnings. `expected` is the end that was to be expected, None where unknown."""
    package = batch.package
    if package.container == "cask":
        # a cask is vented, and meant to be filled before the end
        return
    yield from _uncomputed(batch)
    brought = _gas(batch, figures)
    yield from _beyond_bottle(batch, brought)
    yield from _above_wanted(batch, brought)
    yield from _over_rating(batch, brought)
    yield from _closed_early(batch, brewery, figures, expected)


def _gas(batch: Batch, figures: BatchFigures) -> _Gas | None:
    known = figures.get("carbonation")
    if known is not None:
        return _Gas(known.value, known.sd, alone=False)
    priming = batch.package.priming
    sugar = priming_sugar_of(priming)
    volume = figures.get("package_volume") or figures.get("fermenter_volume")
    if priming.weight is None or sugar is None or volume is None or volume.value <= 0:
        return None
    brought = gas.from_sugar(priming.weight.value, volume.value, sugar)
    return _Gas(brought, brought * gas.SUGARS_DIFFER.get(sugar, 0.0), alone=True)


def _uncomputed(batch: Batch) -> Iterator[Problem]:
    priming = batch.package.priming
    if priming.addition and priming_sugar_of(priming) is None:
        message = f"how much gas {priming.addition} brings can't be calculated, so nothing here says that it is safe"
        named = ingredient_named(priming.addition)
        if named is not None and named.name in gas.UNFERMENTED:
            message = f"brewer’s yeast ferments next to nothing of {priming.addition}, and what else gets in may ferment all of it"
        hint = f"Prime with one of {', '.join(gas.SUGARS)}, weighed; or work it out by another source."
        yield Problem("priming-uncomputed", message, hint, batch.place("package.priming.addition"))


def _beyond_bottle(batch: Batch, brought: _Gas | None) -> Iterator[Problem]:
    package = batch.package
    wanted = _volumes(package.carbonation.value) if package.carbonation else 0.0
    most = _BOTTLES.get(package.container or "")
    if most is None:
        # what it goes into is not stated: beyond this no bottle holds it
        most = math.inf if package.container else MOST_IN_HEAVY_BOTTLES
    bears = f"{most:g} volumes are the most for {_called(batch)} (common practice)"
    hint = f"Use less, or a keg made for the pressure. {_FILLED}"
    if most == MOST_IN_BOTTLES:
        hint = f"Use less; bottles made for pressure are `container: heavy bottles`, up to {MOST_IN_HEAVY_BOTTLES:g} volumes. {_FILLED}"
    if brought is not None and brought.volumes > most:
        message = f"{batch.package.priming.addition} brings {brought.words} of carbon dioxide; {bears}"
        yield Problem("carbonation-beyond-bottle", message, hint, batch.place("package.priming"))
    elif wanted > most:
        message = f"{wanted:.1f} volumes of carbon dioxide are asked for; {bears}"
        yield Problem("carbonation-beyond-bottle", message, hint, batch.place("package.carbonation"))


def _called(batch: Batch) -> str:
    container = batch.package.container
    return {"bottles": "bottles not said to be made for pressure", "heavy bottles": "any bottle"}.get(
        container or "", "any bottle"
    )


def _above_wanted(batch: Batch, brought: _Gas | None) -> Iterator[Problem]:
    wanted = batch.package.carbonation
    if wanted is None or brought is None:
        return
    over = brought.value - wanted.value
    if over > math.hypot(brought.sd, wanted.sd or 0.0):
        asked = f"{_volumes(wanted.value):.1f} are asked for"
        message = f"{batch.package.priming.addition} brings {brought.words} of carbon dioxide, and {asked}"
        hint = f"Check the sugar, its weight and the volume packaged. {_FILLED}"
        yield Problem(
            "carbonation-above-wanted",
            message,
            hint,
            batch.place("package.priming.weight"),
            expected_by=batch.place("package.carbonation"),
        )


def _over_rating(batch: Batch, brought: _Gas | None) -> Iterator[Problem]:
    rated = batch.package.rated
    if rated is None or brought is None:
        return
    pressure = gas.pressure_for(brought.value, WARMEST_ROOM)
    if pressure > rated.value:
        message = (
            f"with {brought.words} of carbon dioxide it comes to {pressure:.1f} bar at {WARMEST_ROOM:g} °C, "
            f"and it is made for {rated.value:g} bar"
        )
        hint = "Prime with less, keep it cold, or use one that is made for more; never without a relief valve."
        yield Problem(
            "pressure-over-rating",
            message,
            hint,
            batch.place("package.priming"),
            expected_by=batch.place("package.rated"),
        )


def _closed_early(
    batch: Batch, brewery: Brewery, figures: BatchFigures, expected: ExpectedEnd | None
) -> Iterator[Problem]:
    package = batch.package
    if package.container not in _BOTTLES or package.on is None:
        return
    primed = package.priming.weight is not None
    reason = why_not_primed(batch, brewery)
    # sugar given too early is told of where it is given
    if reason and not primed and recorded_fermentation(batch, brewery).readings():
        message = f"the beer was bottled, and it may not have finished: {reason}"
        hint = f"Bottle when two readings three days apart agree. {_FILLED}"
        yield Problem("packaged-unready", message, hint, batch.place("package.on"))
        return
    reached, original = figures.get("apparent_attenuation"), figures.get("original_extract")
    if expected is None or reached is None or original is None or reached.value >= expected.low:
        return
    now, end = (original.value * (1.0 - share) for share in (reached.value, expected.value))
    more = gas.from_spunding(original.value, now, end) if end < now else 0.0
    message = (
        f"the beer was bottled at {100 * reached.value:.0f} % attenuation, and yeast and mash led to expect at least "
        f"{100 * expected.low:.0f} %: going on, it would make {_volumes(more):.1f} volumes more; a stuck beer looks level too"
    )
    hint = f"Warm and rouse a sample and read it again after some days before bottling. {_FILLED}"
    yield Problem("packaged-unready", message, hint, batch.place("package.gravity"))

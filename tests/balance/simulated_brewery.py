"""A brewery that exists only as numbers, with a known truth, read through imperfect instruments.

It shares no formula with the code it judges: densities of sucrose solutions are interpolated in a handbook's table, those
of hot water in a table of reference values, specific gravity comes from the same densities weighed in air, and the
run-off drains a stirred bed in many small steps. Entries come out as the text a brewer would write.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from handbook import CRC, IAPWS, density, gravity

#: kg of water in a litre of liquor.
LIQUOR = IAPWS[20] / 1000
_MOISTURE = 0.04
_MINUTES_OF_BOIL = 60.0

BREWERY = """instruments:
  malt_scale: 20 g
  volume: 0.25 L
  hydrometer: {uncertainty: 0.0007}
"""
VOLUMES = ("mash.liquor", "lauter.liquor", "boil.before.volume", "boil.after.volume", "fermenter.volume")
GRAVITIES = ("mash.first_wort", "boil.before.gravity", "boil.after.gravity", "fermenter.gravity")


@dataclass(frozen=True)
class Habits:
    """What one brewhouse does on average; as the same names with `_spread`, how much it varies from batch to batch.

    `conversion`: fraction; `water_held`: kg a kg of grain keeps; `dead_space`, `kettle_loss`: L; `shortfall`: share of
    the dissolved extract that lags behind the stirred bed; `boil_off`: L/h; `malt_extract`: what the lot's sheet says,
    dry.
    """

    conversion: float = 0.945
    water_held: float = 1.30
    dead_space: float = 0.5
    shortfall: float = 0.015
    boil_off: float = 3.3
    kettle_loss: float = 1.5
    malt_extract: float = 0.81
    conversion_spread: float = 0.012
    water_held_spread: float = 0.04
    shortfall_spread: float = 0.006
    boil_off_spread: float = 0.2
    kettle_loss_spread: float = 0.15


@dataclass(frozen=True)
class Instruments:
    """Standard deviations of readings: L, SG, kg; `sheet`: of a lot's extract, fraction, one for all its batches."""

    volume: float = 0.25
    gravity: float = 0.0007
    weight: float = 0.02
    sheet: float = 0.005


@dataclass(frozen=True)
class Truth:
    """What really happened in one batch: the readings without error by path, and the efficiencies."""

    readings: dict[str, float]
    efficiency: dict[str, float]


@dataclass(frozen=True)
class Wort:
    """Water and extract, kg."""

    water: float
    extract: float

    @property
    def strength(self) -> float:
        """Per cent by weight."""
        return 100 * self.extract / (self.extract + self.water)

    @property
    def volume(self) -> float:
        """L at 20 °C."""
        return (self.extract + self.water) / density(self.strength)


def some_brewery(rng: np.random.Generator) -> Habits:
    """A brewhouse somebody might have."""
    return replace(
        Habits(),
        conversion=min(rng.normal(0.94, 0.018), 0.98),
        water_held=rng.normal(1.30, 0.08),
        dead_space=max(rng.normal(0.5, 0.15), 0.1),
        shortfall=max(rng.normal(0.015, 0.008), 0.0),
        boil_off=rng.normal(3.3, 0.7),
        kettle_loss=max(rng.normal(1.5, 0.4), 0.4),
    )


def steady(habits: Habits) -> Habits:
    """The same brewhouse without any variation from batch to batch."""
    names = ("conversion", "water_held", "shortfall", "boil_off", "kettle_loss")
    return replace(habits, **{f"{name}_spread": 0.0 for name in names})


@dataclass(frozen=True)
class Bed:
    """What stays behind when a mash has drained: the water that the grain holds, kg, and the wort of the dead space, L."""

    held: float
    dead_space: float

    def drained(self, tun: Wort, steps: int = 200) -> Wort:
        """What it keeps of a stirred mash that drains in small steps."""
        water, extract = tun.water, tun.extract
        # what stays in the dead space is as strong as all of a stirred mash
        kept = self.held + self.dead_space * density(tun.strength) * (1 - tun.strength / 100)
        share = (water - kept) / steps
        # a stirred bed drains wort of one strength: each step takes water and extract in the proportion they stand in
        for _ in range(steps):
            extract -= extract / water * share
            water -= share
        return Wort(water, extract)


def run_off(mash: Wort, fillings: tuple[float, ...], bed: Bed, shortfall: float) -> Wort:
    """The full kettle after the first wort and as many rinses, kg of water each, of a stirred bed."""
    left = bed.drained(mash)
    for filling in fillings:
        left = bed.drained(Wort(left.water + filling, left.extract))
    return Wort(mash.water + sum(fillings) - left.water, mash.extract * (1 - shortfall) - left.extract)


@dataclass(frozen=True)
class Recipe:
    """What the brewer weighs and measures out: kg, L."""

    grain: float
    mash_liquor: float
    sparge_liquor: float


@dataclass(frozen=True)
class Weather:
    """What one brew's luck is: conversion, water held (kg/kg), shortfall, boil-off (L/h), kettle loss (L)."""

    conversion: float
    water_held: float
    shortfall: float
    boil_off: float
    kettle_loss: float


def _mash_luck(habits: Habits, rng: np.random.Generator) -> tuple[float, float]:
    conversion = min(rng.normal(habits.conversion, habits.conversion_spread), 0.995)
    return conversion, rng.normal(habits.water_held, habits.water_held_spread)


def _later_luck(habits: Habits, rng: np.random.Generator) -> tuple[float, float, float]:
    shortfall = max(rng.normal(habits.shortfall, habits.shortfall_spread), 0.0)
    boil_off = rng.normal(habits.boil_off, habits.boil_off_spread)
    return shortfall, boil_off, max(rng.normal(habits.kettle_loss, habits.kettle_loss_spread), 0.2)


def weather(habits: Habits, rng: np.random.Generator) -> Weather:
    """One brew's luck, as the habits have it."""
    return Weather(*_mash_luck(habits, rng), *_later_luck(habits, rng))


def measured_out(recipe: Recipe, instruments: Instruments, rng: np.random.Generator) -> Recipe:
    """What really went in, of what the brewer weighed and measured as the recipe has it."""
    return Recipe(
        recipe.grain + rng.normal(0, instruments.weight),
        recipe.mash_liquor + rng.normal(0, instruments.volume),
        recipe.sparge_liquor + rng.normal(0, instruments.volume),
    )


@dataclass(frozen=True)
class Brew:
    """One planned batch on its way: the mash, the full kettle, and its luck."""

    recipe: Recipe
    luck: Weather
    potential: float
    mash: Wort
    kettle: Wort


def mash_and_run_off(recipe: Recipe, habits: Habits, sheet_error: float, luck: Weather) -> Brew:
    """The full kettle of a recipe, as it really came."""
    potential = recipe.grain * (1 - _MOISTURE) * (habits.malt_extract + sheet_error)
    mash = Wort(recipe.mash_liquor * LIQUOR + recipe.grain * _MOISTURE, luck.conversion * potential)
    bed = Bed(luck.water_held * recipe.grain, habits.dead_space)
    kettle = run_off(mash, (recipe.sparge_liquor * LIQUOR,), bed, luck.shortfall)
    return Brew(recipe, luck, potential, mash, kettle)


def boiled(wort: Wort, luck: Weather, minutes: float) -> Wort:
    """What is left after a boil."""
    return replace(wort, water=wort.water - luck.boil_off * minutes / 60 * LIQUOR)


def readings(brew: Brew, knockout: Wort) -> dict[str, float]:
    """What perfect instruments would show, by path."""
    return {
        "grain": brew.recipe.grain,
        "mash.liquor": brew.recipe.mash_liquor,
        "lauter.liquor": brew.recipe.sparge_liquor,
        "mash.first_wort": gravity(brew.mash.strength),
        "boil.before.volume": brew.kettle.volume,
        "boil.before.gravity": gravity(brew.kettle.strength),
        "boil.after.volume": knockout.volume,
        "boil.after.gravity": gravity(knockout.strength),
        "fermenter.volume": knockout.volume - brew.luck.kettle_loss,
        "fermenter.gravity": gravity(knockout.strength),
    }


def brew(habits: Habits, sheet_error: float, rng: np.random.Generator) -> Truth:
    """One batch sparge brew, as it really went."""
    grain = rng.uniform(4.0, 6.5)
    of_mash = _mash_luck(habits, rng)
    recipe = Recipe(grain, grain * rng.uniform(2.7, 3.3), rng.uniform(13.0, 17.0))
    brewing = mash_and_run_off(recipe, habits, sheet_error, Weather(*of_mash, *_later_luck(habits, rng)))
    knockout = boiled(brewing.kettle, brewing.luck, _MINUTES_OF_BOIL)
    shown = readings(brewing, knockout)
    kettle = brewing.kettle.extract / brewing.potential
    efficiency = {
        "conversion_efficiency": brewing.luck.conversion,
        "mash_efficiency": kettle,
        "brewhouse_efficiency": kettle * shown["fermenter.volume"] / knockout.volume,
    }
    return Truth(shown, efficiency)


def read(truth: Truth, instruments: Instruments, rng: np.random.Generator) -> dict[str, float]:
    """The readings with the instruments' errors, as written down."""
    readings = {path: truth.readings[path] + rng.normal(0, instruments.volume) for path in VOLUMES}
    readings |= {path: truth.readings[path] + rng.normal(0, instruments.gravity) for path in GRAVITIES}
    readings["grain"] = truth.readings["grain"] + rng.normal(0, instruments.weight)
    return readings


def entry(number: int, readings: dict[str, float], habits: Habits) -> str:
    """The entry a brewer would write of it; a day a number, from 2020 on."""
    r = readings
    sheet = f"extract: {habits.malt_extract * 100:.2f} %, moisture: 4.0 ± 0.1 %, source: certificate"
    return f"""---
batch: {number}
title: Simulated
brewed: {2020 + number // 300}-{1 + number % 300 // 25:02d}-{1 + number % 25:02d}
grains:
  - {{malt: pale lot, weight: {r["grain"]:.3f} kg, {sheet}}}
mash: {{liquor: {r["mash.liquor"]:.2f} L, first_wort: {r["mash.first_wort"]:.4f}}}
lauter: {{method: batch sparge, liquor: {r["lauter.liquor"]:.2f} L}}
boil:
  before: {{volume: {r["boil.before.volume"]:.2f} L, gravity: {r["boil.before.gravity"]:.4f}}}
  after: {{volume: {r["boil.after.volume"]:.2f} L, gravity: {r["boil.after.gravity"]:.4f}}}
  time: 60 min
fermenter: {{volume: {r["fermenter.volume"]:.2f} L, gravity: {r["fermenter.gravity"]:.4f}}}
---
"""


#: Points that a 20 °C hydrometer reads low at 30, 40 and 60 °C, by °P: densities of ICUMSA SPS-4, glass that swells by
#: 25e-6 per K (common practice).
_POINTS_LOW = {10: (2.72, 6.22, 15.19), 15: (2.92, 6.58, 15.77)}


def warm_hydrometer(true: float) -> float:
    """What a 20 °C hydrometer shows in wort of 50 °C: by the quadratic through its table."""
    strength = float(np.interp(true, [gravity(s) for s in CRC], list(CRC)))
    # a quadratic through 30, 40 and 60 has these weights at 50: -1/3, 1, 1/3
    at_50 = {plato: at_40 + (at_60 - at_30) / 3 for plato, (at_30, at_40, at_60) in _POINTS_LOW.items()}
    return true - (at_50[10] + (at_50[15] - at_50[10]) * (strength - 10) / 5) / 1000


def swapped(reading: float) -> float:
    """The last two of three decimals the wrong way round: 1.045 for 1.054."""
    thousandths = round((reading - 1) * 1000)
    tens, ones = divmod(thousandths % 100, 10)
    return 1 + (thousandths // 100 * 100 + ones * 10 + tens) / 1000

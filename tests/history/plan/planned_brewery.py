"""The simulated brewery brews what a plan asks for, and mends its wort on the day.

Nothing here shares a formula with the planner: the run-off, densities and gravities are those of
`balance/simulated_brewery.py`, and what is stirred in or boiled off is counted in kg of water and extract.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from balance import simulated_brewery as brewery
from balance.simulated_brewery import Habits, Instruments, Wort

#: kg of water in a litre at 20 °C: IAPWS-95.
WATER = brewery.IAPWS[20] / 1000
#: Extract and water in dried malt extract by weight (common practice); a sucrose crystal is all extract.
_DRY_EXTRACT = 0.95


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


def weather(habits: Habits, rng: np.random.Generator) -> Weather:
    """One brew's luck, as the habits have it."""
    return Weather(
        min(rng.normal(habits.conversion, habits.conversion_spread), 0.995),
        rng.normal(habits.water_held, habits.water_held_spread),
        max(rng.normal(habits.shortfall, habits.shortfall_spread), 0.0),
        rng.normal(habits.boil_off, habits.boil_off_spread),
        max(rng.normal(habits.kettle_loss, habits.kettle_loss_spread), 0.2),
    )


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
    moisture = brewery._MOISTURE
    potential = recipe.grain * (1 - moisture) * (habits.malt_extract + sheet_error)
    mash = Wort(recipe.mash_liquor * WATER + recipe.grain * moisture, luck.conversion * potential)
    held = luck.water_held * recipe.grain + habits.dead_space * brewery._DEAD_SPACE_WATER
    kettle = brewery._run_off(mash, recipe.sparge_liquor * WATER, held, luck.shortfall)
    return Brew(recipe, luck, potential, mash, kettle)


def boiled(wort: Wort, luck: Weather, minutes: float) -> Wort:
    """What is left after a boil."""
    return replace(wort, water=wort.water - luck.boil_off * minutes / 60 * WATER)


def watered(wort: Wort, litres: float) -> Wort:
    """With cold water stirred in."""
    return replace(wort, water=wort.water + litres * WATER)


def enriched(wort: Wort, kilograms: float) -> Wort:
    """With dried malt extract stirred in."""
    return Wort(wort.water + (1 - _DRY_EXTRACT) * kilograms, wort.extract + _DRY_EXTRACT * kilograms)


def readings(brew: Brew, knockout: Wort) -> dict[str, float]:
    """What perfect instruments would show, by the paths of `simulated_brewery.read`."""
    return {
        "grain": brew.recipe.grain,
        "mash.liquor": brew.recipe.mash_liquor,
        "lauter.liquor": brew.recipe.sparge_liquor,
        "mash.first_wort": brewery.gravity(brew.mash.strength),
        "boil.before.volume": brew.kettle.volume,
        "boil.before.gravity": brewery.gravity(brew.kettle.strength),
        "boil.after.volume": knockout.volume,
        "boil.after.gravity": brewery.gravity(knockout.strength),
        "fermenter.volume": knockout.volume - brew.luck.kettle_loss,
        "fermenter.gravity": brewery.gravity(knockout.strength),
    }


def planned_entry(number: int, recipe: Recipe, habits: Habits, target: float) -> str:
    """The entry a brewer would write on the eve."""
    sheet = f"extract: {habits.malt_extract * 100:.2f} %, moisture: 4.0 ± 0.1 %, source: certificate"
    return f"""---
batch: {number}
title: Planned
brewed: 2020-06-01
target: {{gravity: {target:.4f}}}
grains:
  - {{malt: pale lot, weight: {recipe.grain:.3f} kg, {sheet}}}
mash: {{liquor: {recipe.mash_liquor:.2f} L}}
lauter: {{method: batch sparge, liquor: {recipe.sparge_liquor:.2f} L}}
boil: {{time: 60 min}}
---
"""

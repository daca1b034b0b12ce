"""The simulated brewery brews what a plan asks for, and mends its wort on the day: what is stirred in is counted in kg of water
and extract, as everything else of it is.
"""

from __future__ import annotations

from dataclasses import replace

from balance.simulated_brewery import LIQUOR, Habits, Recipe, Wort

#: Extract and water in dried malt extract by weight (common practice); a sucrose crystal is all extract.
_DRY_EXTRACT = 0.95


def watered(wort: Wort, litres: float) -> Wort:
    """With cold water stirred in."""
    return replace(wort, water=wort.water + litres * LIQUOR)


def enriched(wort: Wort, kilograms: float) -> Wort:
    """With dried malt extract stirred in."""
    return Wort(wort.water + (1 - _DRY_EXTRACT) * kilograms, wort.extract + _DRY_EXTRACT * kilograms)


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

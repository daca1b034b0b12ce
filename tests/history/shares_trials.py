"""Grists by shares of simulated breweries: do the weights that are calculated for them bring what they aim at.

`python tests/history/shares_trials.py [JOURNALS]` prints the table; the tests run a small share. Each journal knows twelve batches
of one malt; from these, four are planned by shares of that malt and a darker one, weighed out and brewed. Everything goes through
the entries' text; the truth shares no formula with the planner.
"""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1]))

from balance.simulated_brewery import (
    BREWERY,
    Habits,
    Instruments,
    Recipe,
    boiled,
    brew,
    entry,
    mash_and_run_off,
    measured_out,
    read,
    readings,
    some_brewery,
    weather,
)
from texts import brewery_of

from journal.figures import figures_of
from journal.history.fold import balance_all
from journal.history.plan.by_shares import WeighedOut, weigh_out
from journal.problems import Source
from journal.reading import Batch, Brewery, Entry, Journal, Malts, read_entry

KNOWN, PLANNED = 12, 4
#: Extract of the darker malt, dry basis, and its share of the grist: from a stout's to a pale ale's.
DARK, LEAST_DARK, MOST_DARK = 0.72, 0.03, 0.15


def batch_of(text: str) -> Batch:
    batch, problems = read_entry(Source("entries/01.md", text))
    assert batch is not None, problems
    return batch


def planned_entry(number: int, habits: Habits, dark: float, target: tuple[float, float]) -> str:
    """A recipe by shares: its target, two malts with their sheets, and how it is rinsed."""
    sheet = "moisture: 4.0 ± 0.1 %, source: certificate"
    return f"""---
batch: {number}
title: By shares
brewed: 2020-06-{number:02d}
target: {{gravity: {target[0]:.4f}, volume: {target[1]:.1f} L}}
grains:
  - {{malt: pale lot, share: {100 * (1 - dark):.2f} %, extract: {habits.malt_extract * 100:.2f} %, {sheet}}}
  - {{malt: dark lot, share: {100 * dark:.2f} %, extract: {DARK * 100:.2f} %, {sheet}}}
lauter: {{method: batch sparge}}
boil: {{time: 60 min}}
---
"""


def trial(seed: int, settings: Brewery) -> list[float]:
    """How far the original gravities of one journal's planned brews were off, points."""
    rng = np.random.default_rng(seed)
    habits = replace(some_brewery(rng), conversion=rng.normal(0.91, 0.01))
    sheet_error = rng.normal(0, Instruments().sheet)
    known = [
        batch_of(entry(number, read(brew(habits, sheet_error, rng), Instruments(), rng), habits))
        for number in range(1, KNOWN + 1)
    ]
    plans = [
        (rng.uniform(LEAST_DARK, MOST_DARK), (rng.uniform(1.038, 1.070), rng.uniform(15, 25))) for _ in range(PLANNED)
    ]
    planned = [
        batch_of(planned_entry(KNOWN + 1 + number, habits, dark, target)) for number, (dark, target) in enumerate(plans)
    ]
    off = []
    for recipe, (dark, target) in zip(weighed(planned, known, settings), plans, strict=True):
        # to the simulator the two malts are one that has the extract of both
        mixed = replace(habits, malt_extract=(1 - dark) * habits.malt_extract + dark * DARK)
        real = mash_and_run_off(measured_out(recipe, Instruments(), rng), mixed, sheet_error, weather(mixed, rng))
        off.append(1000 * (readings(real, boiled(real.kettle, real.luck, 60.0))["fermenter.gravity"] - target[0]))
    return off


def weighed(planned: list[Batch], known: list[Batch], settings: Brewery) -> list[Recipe]:
    """What the record makes of each plan's shares: kg of grain in all, L of both liquors."""
    entries = tuple(Entry(f"{batch.id}.md", batch, (), ()) for batch in (*known, *planned))
    journal = Journal(Path(), settings, Malts(), entries)
    figures = {batch.id: figures_of(batch, settings, journal.malts) for batch in journal.batches}
    balances, recipes = balance_all(journal, figures), []
    for batch in planned:
        found = weigh_out(batch, journal, figures, balances)
        assert isinstance(found, WeighedOut), found
        weights = [grain.weight.value for grain in found.batch.grains if grain.weight]
        recipes.append(Recipe(sum(weights), found.plan.mash_liquor, found.plan.sparge_liquor))
    return recipes


def within(off: list[float], points: float = 2.0) -> float:
    """The share of brews whose gravity lies no further off."""
    return float(np.mean(np.abs(off) <= points))


def table(count: int) -> str:
    settings = brewery_of(BREWERY)
    off = [each for seed in range(9500, 9500 + count) for each in trial(seed, settings)]
    rows = (
        f"{'brews planned by shares':<52}{len(off):>9}",
        f"{'original gravity within ±2 points':<52}{within(off):>9.1%}",
        f"{'bias of the original gravity, points':<52}{np.mean(off):>9.2f}",
        f"{'root mean square error, points':<52}{np.sqrt(np.mean(np.square(off))):>9.2f}",
    )
    return "\n".join(rows)


if __name__ == "__main__":
    print(table(int(sys.argv[1]) if len(sys.argv) > 1 else 60))

"""One brew without any error of reading, as text: what tests put a single slip into."""

from __future__ import annotations

from pathlib import Path

import numpy as np
from balance.simulated_brewery import BREWERY, Habits, Truth, brew, steady
from texts import batch_of, settings_at

from journal.balance import Balance, Expectation, Priors, balance_of
from journal.figures import figures_of
from journal.reading import Batch, Brewery, Malts

#: The malt and the habits of the simulated brewery, as a brewer who has long brewed there would expect them.
USUAL = Habits()
OWN = Priors(
    conversion=Expectation(USUAL.conversion, 0.015, 20),
    water_held=Expectation(USUAL.water_held, 0.05, 20),
    dead_space=Expectation(USUAL.dead_space, 0.15, 20),
    shortfall=Expectation(USUAL.shortfall, 0.008, 20),
    boil_off=Expectation(USUAL.boil_off, 0.25, 20),
    kettle_loss=Expectation(USUAL.kettle_loss, 0.2, 20),
)


def truth(seed: int = 5) -> Truth:
    """A brew of a brewery that never varies, from a malt that is what its sheet says."""
    return brew(steady(USUAL), 0.0, np.random.default_rng(seed))


def written(readings: dict[str, float]) -> dict[str, str]:
    """What a brewer writes of each reading, by path."""
    text = {path: f"{value:.2f} L" for path, value in readings.items() if path.endswith(("volume", "liquor"))}
    text |= {path: f"{value:.4f}" for path, value in readings.items() if path.endswith(("gravity", "wort"))}
    base, crystal = readings["grain"] * 0.88, readings["grain"] * 0.12
    return text | {"grains[0].weight": f"{base:.3f} kg", "grains[1].weight": f"{crystal:.3f} kg"}


def entry_fields(text: dict[str, str], more: str = "") -> str:
    """The fields of the entry; paths whose text is empty are not recorded."""

    def group(**paths: str) -> str:
        return "{" + ", ".join(f"{name}: {text[path]}" for name, path in paths.items() if text.get(path)) + "}"

    sheet = f"extract: {USUAL.malt_extract * 100:.1f} %, moisture: 4.0 ± 0.1 %, source: certificate"
    grains = [
        f"  - {{malt: {name}, weight: {text[f'grains[{index}].weight']}, {sheet}}}"
        for index, name in enumerate(("pale lot", "crystal lot"))
    ]
    fermenter = group(volume="fermenter.volume", gravity="fermenter.gravity", top_up="fermenter.top_up")
    return "\n".join(
        [
            "grains:",
            *grains,
            f"mash: {group(liquor='mash.liquor', first_wort='mash.first_wort')}",
            f"lauter: {group(method='lauter.method', liquor='lauter.liquor')}",
            "boil:",
            f"  before: {group(volume='boil.before.volume', gravity='boil.before.gravity')}",
            f"  after: {group(volume='boil.after.volume', gravity='boil.after.gravity')}",
            *([f"  top_up: {text['boil.top_up']}"] if text.get("boil.top_up") else []),
            "  time: 60 min",
            f"fermenter: {fermenter}",
            more,
        ]
    )


def brewery_at(folder: Path, settings: str = BREWERY) -> Brewery:
    """The simulated brewery's settings, or others."""
    return settings_at(folder, settings)[0]


def struck(batch: Batch, brewery: Brewery, priors: Priors = OWN) -> Balance:
    """The balance of a batch with what its brewer expects."""
    return balance_of(batch, figures_of(batch, brewery, Malts()), brewery, Malts(), priors)


def batch_with(slips: dict[str, str], seed: int = 5, more: str = "") -> Batch:
    """The exact brew with some readings written otherwise."""
    text = written(truth(seed).readings) | {"lauter.method": "batch sparge"} | slips
    return batch_of(entry_fields(text, more))

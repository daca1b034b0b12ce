"""Simulated breweries that can do something otherwise: brewed with and without a change, the truth of what it brings beside the texts.

The brewing is that of `balance/simulated_brewery.py`: a stirred bed drained in many small steps, densities from tables. Here it gets
more than one filling, liquor shared otherwise, less left behind. Shares no formula with the code judged.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
from balance.simulated_brewery import (
    LIQUOR,
    Bed,
    Brew,
    Habits,
    Instruments,
    Recipe,
    Truth,
    Weather,
    Wort,
    boiled,
    entry,
    mash_and_run_off,
    measured_out,
    read,
    readings,
    run_off,
    weather,
)

BATCHES, LATEST, LOT = 24, 20, 8
CRUSHES = (0.95, 1.05, 1.15, 1.25, 1.35)


@dataclass(frozen=True)
class House:
    """A brewhouse with how it brews: `thickness` L/kg and `sparge` L from, to; `fillings` of sparge; `crush`: conversion by mm of gap.

    `method` as entries name it; `stated` is what its brewer believes of the dead space, L, within 0.1.
    """

    habits: Habits
    method: str
    thickness: tuple[float, float]
    sparge: tuple[float, float]
    fillings: int
    crush: float
    stated: float


@dataclass(frozen=True)
class Doing:
    """How one batch is brewed: recipe, luck, fillings, hours of boil."""

    recipe: Recipe
    luck: Weather
    dead_space: float
    fillings: int
    minutes: float = 60.0


def some_house(rng: np.random.Generator) -> House:
    """A batch sparger with any of the usual weaknesses."""
    dead = rng.uniform(0.1, 1.6)
    habits = replace(
        Habits(),
        conversion=rng.normal(0.91, 0.015),
        water_held=rng.normal(1.25, 0.1),
        dead_space=dead,
        shortfall=rng.uniform(0.0, 0.035),
        boil_off=rng.uniform(2.4, 4.2),
        kettle_loss=rng.uniform(0.4, 3.2),
    )
    thick = rng.uniform(2.3, 3.8)
    sparge = rng.uniform(11.0, 18.0)
    return House(
        habits,
        "batch sparge",
        (thick - 0.2, thick + 0.2),
        (sparge - 1.5, sparge + 1.5),
        1,
        -rng.uniform(0.0, 0.15),
        max(dead + rng.normal(0, 0.1), 0.05),
    )


def some_bag(rng: np.random.Generator) -> House:
    """Somebody who mashes in a bag, all the liquor at once."""
    habits = replace(
        Habits(),
        conversion=rng.normal(0.91, 0.015),
        water_held=rng.normal(1.0, 0.12),
        dead_space=0.0,
        shortfall=rng.uniform(0.0, 0.03),
        boil_off=rng.uniform(2.0, 3.5),
        kettle_loss=rng.uniform(0.4, 2.0),
    )
    return House(habits, "bag", (5.0, 5.6), (0.0, 0.0), 1, 0.0, 0.0)


def limit_house(rng: np.random.Generator) -> House:
    """A brewhouse that leaves next to nothing behind but what its vessels must."""
    habits = replace(
        Habits(),
        conversion=rng.normal(0.975, 0.004),
        conversion_spread=0.006,
        water_held=rng.normal(1.2, 0.06),
        dead_space=0.08,
        shortfall=0.0,
        shortfall_spread=0.003,
        boil_off=rng.uniform(3.0, 4.0),
        kettle_loss=0.3,
        kettle_loss_spread=0.08,
    )
    return House(habits, "fly sparge", (3.0, 3.3), (22.0, 25.0), 3, 0.0, 0.1)


def _run_off(doing: Doing, mash: Wort) -> Wort:
    sparge = doing.recipe.sparge_liquor * LIQUOR
    fillings = (sparge / doing.fillings,) * doing.fillings if sparge > 0 else ()
    bed = Bed(doing.luck.water_held * doing.recipe.grain, doing.dead_space)
    return run_off(mash, fillings, bed, doing.luck.shortfall)


def brewed(doing: Doing, habits: Habits, sheet: float) -> tuple[Truth, np.ndarray]:
    """What came of it, and the share of the potential that stayed in the mash, the tun (with the dead space) and the kettle, and that
    came out.
    """
    begun = mash_and_run_off(doing.recipe, habits, sheet, doing.luck)
    kettle = _run_off(doing, begun.mash)
    knockout = boiled(kettle, doing.luck, doing.minutes)
    shown = readings(Brew(doing.recipe, doing.luck, begun.potential, begun.mash, kettle), knockout)
    passed = shown["fermenter.volume"] / knockout.volume
    into = kettle.extract / begun.potential
    shares = np.array([1 - doing.luck.conversion, doing.luck.conversion - into, into * (1 - passed), into * passed])
    return Truth(shown, {}), shares


@dataclass(frozen=True)
class Brewed:
    """A brewery's entries, its settings, and how each batch was really done, with its gap."""

    house: House
    entries: list[str]
    settings: str
    doings: list[Doing]
    gaps: list[float]


def _doing(house: House, rng: np.random.Generator) -> tuple[Doing, Recipe, float]:
    grain = rng.uniform(4.0, 6.5)
    recipe = Recipe(grain, grain * rng.uniform(*house.thickness), rng.uniform(*house.sparge))
    gap = float(rng.choice(CRUSHES))
    habits = replace(house.habits, conversion=house.habits.conversion + house.crush * (gap - 1.15))
    real = measured_out(recipe, Instruments(), rng)
    if recipe.sparge_liquor == 0.0:
        real = replace(real, sparge_liquor=0.0)
    return Doing(real, weather(habits, rng), habits.dead_space, house.fillings), recipe, gap


def _text(number: int, house: House, shown: dict[str, float], recipe: Recipe, lot: int, gap: float) -> str:
    shown |= {"grain": recipe.grain, "mash.liquor": recipe.mash_liquor, "lauter.liquor": recipe.sparge_liquor}
    text = entry(number, shown, house.habits).replace("pale lot", f"pale lot {lot}")
    liquor = f"{{method: batch sparge, liquor: {recipe.sparge_liquor:.2f} L}}"
    lauter = f"{{method: {house.method}}}" if house.method == "bag" else liquor.replace("batch sparge", house.method)
    return text.replace(liquor, lauter).replace("mash: {liquor", f"crush: {gap:.2f} mm\nmash: {{liquor")


def brewery_of_house(house: House, settings: str, rng: np.random.Generator) -> Brewed:
    """BATCHES of a house as texts, a lot every LOT of them."""
    texts, doings, gaps, sheet = [], [], [], 0.0
    for number in range(1, BATCHES + 1):
        if number % LOT == 1:
            sheet = rng.normal(0, Instruments().sheet)
        doing, recipe, gap = _doing(house, rng)
        truth, _ = brewed(doing, house.habits, sheet)
        texts.append(_text(number, house, read(truth, Instruments(), rng), recipe, number // LOT, gap))
        doings.append(doing)
        gaps.append(gap)
    stated = "" if house.method == "bag" else f"mash_tun: {{dead_space: {house.stated:.2f} ± 0.1 L}}, "
    return Brewed(house, texts, f"{settings}brewhouses: {{shed: {{{stated}name: Shed}}}}\n", doings, gaps)


def _even(doing: Doing) -> Doing:
    """Liquor shared until what runs off first is as much as what runs off each later time, by halving."""
    total = doing.recipe.mash_liquor + doing.recipe.sparge_liquor
    # a brewer who shares out liquor takes what fills the dead space for water
    stays = doing.luck.water_held * doing.recipe.grain + doing.dead_space * LIQUOR
    low, high = 0.0, total
    for _ in range(60):
        mash = (low + high) / 2
        first = mash * LIQUOR + doing.recipe.grain * 0.04 - stays
        low, high = (mash, high) if first < (total - mash) * LIQUOR / doing.fillings else (low, mash)
    return replace(doing, recipe=replace(doing.recipe, mash_liquor=low, sparge_liquor=total - low))


def _recipe(doing: Doing, mash: float, sparge: float) -> Doing:
    recipe = doing.recipe
    return replace(
        doing,
        recipe=replace(recipe, mash_liquor=recipe.mash_liquor + mash, sparge_liquor=recipe.sparge_liquor + sparge),
    )


def _more_sparge(doing: Doing) -> Doing:
    more = _recipe(doing, 0.0, 2.0)
    return replace(more, minutes=doing.minutes + 2.0 / doing.luck.boil_off * 60)


def _luck(**times: float) -> Callable[[Doing], Doing]:
    return lambda doing: replace(
        doing, luck=replace(doing.luck, **{name: getattr(doing.luck, name) * by for name, by in times.items()})
    )


def _crushed(conversion: float) -> Callable[[Doing], Doing]:
    """Another gap dissolves so much more of the potential."""
    return lambda doing: replace(doing, luck=replace(doing.luck, conversion=doing.luck.conversion + conversion))


#: What could be done otherwise, by the key that it is told under.
DONE: dict[str, Callable[[Doing], Doing]] = {
    "more-sparge": _more_sparge,
    "equal-run-offs": _even,
    "one-filling-more": lambda doing: (
        replace(doing, fillings=doing.fillings + 1) if doing.recipe.sparge_liquor > 0 else _even(doing)
    ),
    "thinner-mash": lambda doing: _recipe(doing, 0.5 * doing.recipe.grain, -0.5 * doing.recipe.grain),
    "half-dead-space": lambda doing: replace(doing, dead_space=doing.dead_space / 2),
    "half-kettle-loss": _luck(kettle_loss=0.5),
    "evener-run-off": _luck(shortfall=0.5),
    "squeezed-bag": lambda doing: replace(doing, luck=replace(doing.luck, water_held=doing.luck.water_held - 0.2)),
}


def truth_of(made: Brewed, rng: np.random.Generator, gap: float, draws: int = 3) -> tuple[np.ndarray, dict[str, float]]:
    """The house's mean account over brews like its latest, and what each change really brings; each brewed `draws` times.

    `gap`: by how many mm the crush would change.
    """
    habits, doings = made.house.habits, []
    for doing, at in zip(made.doings[-LATEST:], made.gaps[-LATEST:], strict=True):
        then = replace(habits, conversion=habits.conversion + made.house.crush * (at - 1.15))
        doings += [replace(doing, luck=weather(then, rng)) for _ in range(draws)]
    now = np.array([brewed(doing, habits, 0.0)[1] for doing in doings])
    gains = {}
    for key, change in (DONE | {"crush": _crushed(made.house.crush * gap)}).items():
        if key == "squeezed-bag" and made.house.method != "bag":
            continue
        changed = np.array([brewed(change(doing), habits, 0.0)[1][-1] for doing in doings])
        gains[key] = float(np.mean(changed - now[:, -1]))
    return np.mean(now, axis=0), gains

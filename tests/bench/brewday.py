"""A day in an invented brewhouse as plain mass balance: where the water and the extract go.

It shares no code with the journal, so a generated entry is also a small check from outside. Water and extract are counted
in kg, volumes in L at 20 °C.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from random import Random

from handbook import density, gravity


def water_density(celsius: float) -> float:
    """kg/L of water, 0–100 °C, within 0.0003 (Thiesen's form, 1900; from memory)."""
    return 1 - (celsius - 3.9863) ** 2 * (celsius + 288.9414) / (508929.2 * (celsius + 68.12963))


def swollen(celsius: float) -> float:
    """How many times its volume at 20 °C water takes up."""
    return water_density(20) / water_density(celsius)


@dataclass(frozen=True)
class Wort:
    """Water and extract, both in kg."""

    water: float
    extract: float

    @property
    def strength(self) -> float:
        """Degrees Plato: per cent of extract by mass."""
        return 100 * self.extract / (self.extract + self.water)

    @property
    def gravity(self) -> float:
        """Specific gravity 20/20."""
        return gravity(self.strength)

    @property
    def litres(self) -> float:
        return (self.water + self.extract) / density(self.strength)

    def plus(self, water: float, extract: float = 0.0) -> Wort:
        return Wort(self.water + water, self.extract + extract)

    def share(self, part: float) -> Wort:
        return Wort(self.water * part, self.extract * part)


@dataclass(frozen=True)
class Grain:
    """One line of the grist: kg, what truly dissolves of its dry matter, its moisture, and what its sheet says."""

    malt: str
    weight: float
    extract: float
    moisture: float
    lab: dict[str, str] = field(default_factory=dict)

    @property
    def potential(self) -> float:
        return self.weight * (1 - self.moisture) * self.extract


@dataclass(frozen=True)
class Brewhouse:
    """Vessels (L), what they keep back, and how their brewer works."""

    key: str
    name: str
    methods: tuple[str, ...]
    grist: float  # kg of base malt, about
    full_kettle: float  # L before the boil, about
    tun: float
    kettle: float
    dead_space: float
    loss: float
    boil_off: float  # L/h
    water_held: float  # kg of water a kg of grain keeps
    absorption: float  # L/kg, as the trade reckons it


BREWHOUSES = (
    Brewhouse(
        "loft", "The loft, 30 L kettle", ("batch sparge", "fly sparge"), 4.3, 24.5, 27, 32, 0.6, 1.4, 3.2, 1.25, 0.9
    ),
    Brewhouse(
        "barn", "The barn, 60 L kettle", ("fly sparge", "batch sparge"), 8.6, 49.0, 60, 65, 1.1, 2.5, 5.0, 1.22, 0.9
    ),
    Brewhouse("pot", "One pot and a bag", ("bag", "no sparge"), 3.2, 21.0, 36, 36, 0.0, 0.8, 2.6, 0.85, 0.55),
)

#: The water and extract that a kilogram of each sugar brings.
SUGARS = {"dextrose": (0.09, 0.91), "heather honey": (0.19, 0.81)}


@dataclass(frozen=True)
class BrewDay:
    """What truly happened; temperatures in °C, times in minutes, volumes in L at 20 °C."""

    brewhouse: Brewhouse
    method: str
    grains: tuple[Grain, ...]
    crush: float
    mash_liquor: float
    sparge_liquor: float
    rest: float
    grain_temperature: float
    first_wort: Wort
    last_runnings: Wort
    full_kettle: Wort
    kettle_top_up: float
    kettle_sugar: float
    boil_time: float
    knockout: Wort
    fermenter_top_up: float
    fermenter_honey: float
    pitched: Wort
    final_gravity: float

    @property
    def strike(self) -> float:
        """°C of the liquor that makes the rest with cold grain; grain takes 0.4 of water's heat (common practice)."""
        ratio = self.mash_liquor / sum(grain.weight for grain in self.grains)
        return self.rest + 0.4 / ratio * (self.rest - self.grain_temperature) + 1

    def gravity_on_day(self, day: float) -> float:
        """Specific gravity of the fermenting beer: a plain exponential towards its final gravity."""
        return self.final_gravity + (self.pitched.gravity - self.final_gravity) * math.exp(-day / 1.4)


def run_off(mash: Wort, sparges: list[float], held: float) -> tuple[Wort, Wort]:
    """All wort run off from a stirred bed that keeps `held` kg of water after each portion, and the last runnings."""
    kettle, bed = Wort(0, 0), mash
    for sparge in (0.0, *sparges):
        bed = bed.plus(sparge)
        leaves = 1 - held / bed.water
        kettle = kettle.plus(bed.water * leaves, bed.extract * leaves)
        last, bed = bed, bed.share(1 - leaves)
    return kettle, last


def _liquors(house: Brewhouse, method: str, grist: float, held: float, rng: Random) -> tuple[float, list[float]]:
    """L of mash liquor, and of each portion of the sparge."""
    wanted = house.full_kettle * rng.uniform(0.96, 1.02) * 0.96 + held
    if method in ("bag", "no sparge"):
        return wanted, []
    mash = grist * rng.uniform(2.7, 3.2)
    portions = 1 if method == "batch sparge" else 4
    return mash, [(wanted - mash) / portions] * portions


def brew(number: int, grains: tuple[Grain, ...], house: Brewhouse, rng: Random) -> BrewDay:
    """Brew batch `number`: the brewhouse's habits, give or take, and extras that follow from the number."""
    method = house.methods[number // 3 % 2]
    grist = sum(grain.weight for grain in grains)
    held = house.water_held * grist * rng.gauss(1, 0.02) + house.dead_space
    liquor, sparges = _liquors(house, method, grist, held, rng)
    crush = rng.choice((1.05, 1.1, 1.15, 1.2, 1.25))
    conversion = 0.955 - 0.1 * (crush - 1.05) + rng.gauss(0, 0.008)
    moisture = sum(grain.weight * grain.moisture for grain in grains)
    mash = Wort(liquor * water_density(20) + moisture, conversion * sum(grain.potential for grain in grains))
    full, last = run_off(mash, sparges, held)
    boil_time = rng.choice((60, 60, 60, 75, 90))
    top_up = 1.0 if number % 5 == 0 else 0.0
    sugar = 0.3 if number % 6 == 5 else 0.0
    water, extract = (sugar * part for part in SUGARS["dextrose"])
    driven_off = house.boil_off * rng.gauss(1, 0.04) * boil_time / 60 * water_density(20)
    knockout = full.plus(top_up + water - driven_off, extract)
    let_down = 1.5 if number % 4 == 3 else 0.0
    honey = 0.4 if number % 12 == 7 else 0.0
    water, extract = (honey * part for part in SUGARS["heather honey"])
    kept = house.loss * rng.gauss(1, 0.05) / knockout.litres
    pitched = knockout.share(1 - kept).plus(let_down + water, extract)
    attenuation = rng.gauss(0.76, 0.02)
    return BrewDay(
        brewhouse=house,
        method=method,
        grains=grains,
        crush=crush,
        mash_liquor=liquor,
        sparge_liquor=sum(sparges),
        rest=rng.choice((64, 65, 66, 67, 68)),
        grain_temperature=rng.uniform(8, 21),
        first_wort=mash,
        last_runnings=last,
        full_kettle=full,
        kettle_top_up=top_up,
        kettle_sugar=sugar,
        boil_time=boil_time,
        knockout=knockout,
        fermenter_top_up=let_down,
        fermenter_honey=honey,
        pitched=pitched,
        final_gravity=1 + (pitched.gravity - 1) * (1 - attenuation),
    )

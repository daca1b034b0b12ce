"""Water and extract in every vessel of one batch, from the mash to the fermenter, by the unknowns.

Everything is reckoned in mass, for mass is conserved and volume is not. The unknowns are what the brewer did (liquor,
grain, sugar, top-up) and what the brewhouse did (conversion, water held by the grain, dead space, the bed's shortfall,
evaporation, loss in the kettle); from them follow water and extract in every vessel. Which unknowns and which equations a
batch has is said in `equations.py`.

The run-off is the well-mixed bed: each run-off leaves behind the share of the extract that the water left behind is of
the water in the tun (standard mass balance), less a shortfall with a tolerance of its own.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np

from journal.numerics import stacked
from journal.science import water, wort

WATER = water.density(20.0)
#: kg of water in a litre of the weak wort that fills a dead space, 2 to 8 °P.
DEAD_SPACE_WATER = 0.97
#: Where the strength of wort is read.
FIRST_WORT = "first_wort"
_STATIONS = (FIRST_WORT, "kettle", "knockout", "fermenter")


def gravity_of(strength: Any) -> Any:
    """SG 20/20 of a strength, °P, or of an array of them; nan in an array where no wort is so strong."""
    if not isinstance(strength, np.ndarray):
        return wort.gravity_from_plato(strength)
    return wort.gravities_from_plato(np.where((strength > -60.0) & (strength < 200.0), strength, np.nan))


@dataclass(frozen=True)
class Vessel:
    """Water and extract in a vessel, kg; or of several states at once, each number an array."""

    water: float
    extract: float

    @cached_property
    def strength(self) -> float:
        """°P; water that isn't there counts as a trace."""
        whole = self.water + self.extract
        return 100.0 * self.extract / (np.maximum(whole, 1e-6) if isinstance(whole, np.ndarray) else max(whole, 1e-6))

    @cached_property
    def volume(self) -> float:
        """L at 20 °C."""
        return (self.water + self.extract) / wort.density(self.strength)

    @property
    def gravity(self) -> float:
        """SG 20/20."""
        gravity: float = gravity_of(self.strength)
        return gravity


@dataclass(frozen=True)
class BrewState:
    """Every vessel of one batch, as the model has it; `fermenter_share` of the kettle's wort went on to the fermenter.

    `early` kg of the full kettle's extract are not the grist's. Of the extract that the grist could give, kg, `sheet` is what the
    malts' sheets say and `potential` what the balance has.
    """

    sheet: float
    potential: float
    dissolved: float
    first_wort: float
    kettle: Vessel
    knockout: Vessel
    fermenter: Vessel
    left_water: float
    evaporated: float
    fermenter_share: float
    early: float = 0.0

    def gravity_at(self, station: str) -> float:
        """SG 20/20 of the wort at a station."""
        gravity: float = (
            self._gravities[station]
            if isinstance(self.knockout.strength, np.ndarray)
            else gravity_of(self._strength_at(station))
        )
        return gravity

    def _strength_at(self, station: str) -> float:
        strength: float = self.first_wort if station == FIRST_WORT else getattr(self, station).strength
        return strength

    @cached_property
    def _gravities(self) -> dict[str, Any]:
        """Those of several states: to numpy the numbers of all stations are hardly more work than those of one."""
        strengths = stacked([self._strength_at(station) for station in _STATIONS], np.size(self.knockout.strength))
        return dict(zip(_STATIONS, gravity_of(strengths), strict=True))


@dataclass(frozen=True)
class Facts:
    """What is taken as it stands, with no uncertainty of its own.

    `sheet` is the extract that the grist could give by its sheets, kg; `grain` in kg, `moisture` the water in it in kg, `run_offs`
    into which the sparge is split, `hours` of boil; the rest is water that came with sugars, kg.
    """

    sheet: float
    grain: float
    moisture: float
    run_offs: int
    hours: float
    kettle_sugar_water: float
    fermenter_sugar_water: float
    mash_sugar_water: float = 0.0
    early_sugar_water: float = 0.0


def rinse(dissolved: float, left: float, mash_water: float, sparge_water: float, run_offs: int) -> float:
    """Extract left behind, kg, by a well-mixed bed that keeps `left` kg of water, the sparge split into equal parts."""
    remaining = dissolved * left / mash_water
    for _ in range(run_offs if np.all(sparge_water > 0) else 0):
        part = sparge_water / run_offs
        remaining *= left / (left + part)
    return remaining


def water_in_mash(u: dict[str, float], facts: Facts) -> tuple[float, float]:
    """kg of water in the mash, the grain's moisture included, and in the sparge."""
    return u["mash_liquor"] * WATER + facts.moisture, u["sparge_liquor"] * WATER


def vessels(u: dict[str, float], facts: Facts) -> BrewState:
    """Water and extract in every vessel, from the unknowns by name."""
    potential = u["potential_extract"]
    dissolved = u["conversion"] * potential
    in_mash = u.get("mash_sugar", 0.0)
    early = in_mash + u.get("early_sugar", 0.0)
    if "kettle_water" in u:
        kettle, first_wort, left = Vessel(u["kettle_water"], u["kettle_extract"]), 0.0, 0.0
    else:
        mash_water, sparge_water = water_in_mash(u, facts)
        left = u["water_held"] * facts.grain + u["dead_space"] * DEAD_SPACE_WATER
        behind = rinse(dissolved, left, mash_water, sparge_water, facts.run_offs) + u["shortfall"] * dissolved
        joined = facts.mash_sugar_water + facts.early_sugar_water
        kettle = Vessel(mash_water + sparge_water - left + joined, dissolved - behind + early)
        in_wort = dissolved + in_mash
        first_wort = 100.0 * in_wort / (in_wort + mash_water + facts.mash_sugar_water)
    evaporated = u["boil_off"] * facts.hours * WATER
    knockout = Vessel(
        kettle.water + u["top_up"] * WATER + facts.kettle_sugar_water - evaporated, kettle.extract + u["kettle_sugar"]
    )
    passed = 1.0 - u["kettle_loss"] / knockout.volume
    fermenter = Vessel(
        knockout.water * passed + u["fermenter_top_up"] * WATER + facts.fermenter_sugar_water,
        knockout.extract * passed + u["fermenter_sugar"],
    )
    return BrewState(
        facts.sheet, potential, dissolved, first_wort, kettle, knockout, fermenter, left, evaporated, passed, early
    )

"""Where the water went."""

from __future__ import annotations

from math import fsum

from journal.figures.as_read import VolumeReading
from journal.figures.catalogue import figure
from journal.figures.corrected import litres
from journal.science import water, wort

GROUP = "Volumes and losses"


def _mass(volume: float, gravity: float) -> float:
    return wort.mass(volume, wort.plato_from_gravity(gravity))


@figure(
    unit="L/h",
    group=GROUP,
    formula="(mass of {kettle_volume} at {kettle_gravity} + {boil_addition_weights} + mass of {kettle_top_up}"
    " − mass of {knockout_volume} at {knockout_gravity}) / ρw(20 °C) / {boil_time}",
    source="mass balance of the boil",
)
def boil_off(
    kettle_volume: float,
    kettle_gravity: float,
    knockout_volume: float,
    knockout_gravity: float,
    boil_time: float,
    boil_addition_weights: tuple[float, ...],
    kettle_top_up: float,
) -> float:
    """Water driven off by the boil, as litres at 20 °C an hour."""
    before = _mass(kettle_volume, kettle_gravity) + fsum(boil_addition_weights)
    before += kettle_top_up * water.density(20.0)
    return (before - _mass(knockout_volume, knockout_gravity)) / water.density(20.0) / (boil_time / 60.0)


@figure(
    unit="L/kg",
    group=GROUP,
    formula="({total_liquor} − {dead_space} − {kettle_volume}) / {grain_weight}",
    source="liquor in less wort out, as the trade calculates it; about 0.8 to 1.1, common practice",
    given=("mashed",),
)
def absorption(
    total_liquor: float,
    dead_space: VolumeReading,
    kettle_volume: float,
    grain_weight: float,
) -> float:
    """Liquor that the grain kept, calculated from volumes alone."""
    return (total_liquor - litres(dead_space) - kettle_volume) / grain_weight


@figure(
    unit="kg",
    group=GROUP,
    formula="mass of {total_liquor} + {grain_moisture} + {dissolved_extract} + {early_addition_weights}"
    " − mass of {kettle_volume} at {kettle_gravity}",
    source="mass balance of mash and run-off",
)
def wort_left(
    total_liquor: float,
    grain_moisture: float,
    dissolved_extract: float,
    early_addition_weights: tuple[float, ...],
    kettle_volume: float,
    kettle_gravity: float,
) -> float:
    """Mass of the wort left with the grain and in the dead space."""
    water_mass = total_liquor * water.density(20.0) + grain_moisture
    return water_mass + dissolved_extract + fsum(early_addition_weights) - _mass(kettle_volume, kettle_gravity)


@figure(
    unit="°P",
    group=GROUP,
    formula="100 × {unlautered_extract} / {wort_left}",
    source="mass balance of mash and run-off",
)
def wort_left_strength(unlautered_extract: float, wort_left: float) -> float:
    """Mean strength of the wort left with the grain and in the dead space."""
    return 100.0 * unlautered_extract / wort_left


@figure(
    unit="L/kg",
    group=GROUP,
    formula="({wort_left} / ρ({wort_left_strength}) − {dead_space}) / {grain_weight}",
    source="mass balance of mash and run-off; about 1.1 to 1.5: weighed grains of 1847 the lower, common practice the higher",
)
def wort_held(wort_left: float, wort_left_strength: float, dead_space: VolumeReading, grain_weight: float) -> float:
    """Wort that the spent grain keeps, by mass balance; this is what a run-off model takes."""
    return (wort_left / wort.density(wort_left_strength) - litres(dead_space)) / grain_weight


@figure(
    unit="L", group=GROUP, formula="{knockout_volume} − ({fermenter_volume} − {fermenter_top_up})", source="definition"
)
def kettle_loss(knockout_volume: float, fermenter_volume: float, fermenter_top_up: float) -> float:
    """Wort left in the kettle with hops and trub, at 20 °C."""
    return knockout_volume - (fermenter_volume - fermenter_top_up)

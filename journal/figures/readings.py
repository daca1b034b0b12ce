"""The readings of wort and beer, brought to 20 degC and to specific gravity 20/20."""

from __future__ import annotations

from journal.figures.catalogue import figure
from journal.figures.corrected import fermented_gravity, gravity, litres
from journal.figures.observe import GravityReading, VolumeReading
from journal.science import mash, wort

GROUP = "Readings at 20 °C"
_VOLUME = {"unit": "L", "group": GROUP, "source": "V·ρw(T)/ρw(20 °C), density of water by Kell 1975 (ITS-90 form)"}
_GRAVITY = {
    "unit": "SG",
    "group": GROUP,
    "source": "hydrometers by buoyancy with ICUMSA SPS-4 densities; °P by the ASBC table's cubic; °Bx divided by the wort factor",
}


@figure(formula="{mash_first_wort} as SG 20/20", **_GRAVITY)
def first_wort_gravity(mash_first_wort: GravityReading) -> float:
    """Gravity of the first wort, before any sparge."""
    return gravity(mash_first_wort)


@figure(formula="{lauter_last_runnings} as SG 20/20", **_GRAVITY)
def last_runnings_gravity(lauter_last_runnings: GravityReading) -> float:
    """Gravity of the last runnings."""
    return gravity(lauter_last_runnings)


@figure(formula="{boil_before_volume} at 20 °C", **_VOLUME)
def kettle_volume(boil_before_volume: VolumeReading) -> float:
    """Volume of the full kettle, before the boil."""
    return litres(boil_before_volume)


@figure(formula="{boil_before_gravity} as SG 20/20", **_GRAVITY)
def kettle_gravity(boil_before_gravity: GravityReading) -> float:
    """Gravity of the full kettle, before the boil."""
    return gravity(boil_before_gravity)


@figure(formula="{boil_after_volume} at 20 °C", **_VOLUME)
def knockout_volume(boil_after_volume: VolumeReading) -> float:
    """Volume at knockout, everything still in the kettle."""
    return litres(boil_after_volume)


@figure(formula="{boil_after_gravity} as SG 20/20", **_GRAVITY)
def knockout_gravity(boil_after_gravity: GravityReading) -> float:
    """Gravity at knockout."""
    return gravity(boil_after_gravity)


@figure(formula="{fermenter_volume_reading} at 20 °C", **_VOLUME)
def fermenter_volume(fermenter_volume_reading: VolumeReading) -> float:
    """Volume in the fermenter."""
    return litres(fermenter_volume_reading)


@figure(formula="{fermenter_gravity} as SG 20/20", **_GRAVITY)
def original_gravity(fermenter_gravity: GravityReading) -> float:
    """Gravity of the wort pitched."""
    return gravity(fermenter_gravity)


@figure(
    unit="SG",
    group=GROUP,
    formula="{last_gravity} as SG 20/20 (a refractometer's also from {original_extract})",
    source="hydrometers as above; refractometers after pitching by the cubic of S. Terrill, 2011, ± 0.002",
)
def final_gravity(last_gravity: GravityReading, original_extract: float | None = None) -> float:
    """The last gravity that was read."""
    return fermented_gravity(last_gravity, original_extract)


@figure(
    unit="pH",
    group=GROUP,
    formula="{mash_ph_reading} brought to 20 °C",
    source="about 0.35 lower at 65 °C than at 20 °C: Briggs et al., from memory",
)
def mash_ph(mash_ph_reading: tuple[float, float]) -> float:
    """pH of the mash as a sample at 20 °C would show it."""
    return mash.ph_at_20(*mash_ph_reading)


@figure(unit="°P", group=GROUP, formula="P({fermenter_gravity})", source="ASBC table's cubic")
def original_extract(fermenter_gravity: GravityReading) -> float:
    """Strength of the wort pitched."""
    return wort.plato_from_gravity(gravity(fermenter_gravity))

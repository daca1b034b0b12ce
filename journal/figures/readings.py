"""The readings of wort and beer, brought to 20 degC and to specific gravity 20/20."""

from __future__ import annotations

from journal.figures.as_read import GravityReading
from journal.figures.brought import enter_readings
from journal.figures.catalogue import figure
from journal.figures.corrected import fermented_gravity, gravity
from journal.science import mash, wort

GROUP = "Readings at 20 °C"
enter_readings(GROUP)


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
    source="about 0.35 lower at 65 °C than in a room, common practice",
)
def mash_ph(mash_ph_reading: tuple[float, float]) -> float:
    """pH of the mash as a sample at 20 °C would show it."""
    return mash.ph_at_20(*mash_ph_reading)


@figure(unit="°P", group=GROUP, formula="P({fermenter_gravity})", source="ASBC table's cubic")
def original_extract(fermenter_gravity: GravityReading) -> float:
    """Strength of the wort pitched."""
    return wort.plato_from_gravity(gravity(fermenter_gravity))

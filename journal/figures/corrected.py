"""Instruments' readings corrected: hot volumes brought to 20 degC, any gravity to specific gravity 20/20."""

from __future__ import annotations

from journal.figures.as_read import GravityReading, VolumeReading
from journal.measures import Scale
from journal.science import beer, water, wort


def litres(reading: VolumeReading) -> float:
    """L at 20 degC of a volume read at its own temperature; wort contracts as water does within 0.1 %."""
    return float(reading.volume) if reading.at is None else water.volume_at_20(reading.volume, reading.at)


def gravity(reading: GravityReading) -> float:
    """SG 20/20 of unfermented wort."""
    if reading.scale == Scale.BRIX.value:
        return wort.gravity_from_plato(wort.brix_to_plato(reading.value, reading.wort_factor))
    if reading.scale == Scale.PLATO.value:
        return wort.gravity_from_plato(reading.value)
    if reading.at is None and reading.calibrated_at == 20.0:
        return float(reading.value)
    at = reading.calibrated_at if reading.at is None else reading.at
    return wort.gravity_at_20(reading.value, at, reading.calibrated_at)


def fermented_gravity(reading: GravityReading, original_extract: float | None) -> float:
    """SG 20/20 of fermented beer.

    A refractometer's reading needs the original extract, °P, and raises ValueError without it.
    """
    if reading.scale != Scale.BRIX.value:
        return gravity(reading)
    if original_extract is None:
        raise ValueError("a refractometer's reading of beer means nothing without the original extract")
    now = wort.brix_to_plato(reading.value, reading.wort_factor)
    return beer.final_gravity_from_refractometer(original_extract, now) + (reading.model or 0.0)

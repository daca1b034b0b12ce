"""Two small strips for the brew day: what a warm sample does to a hydrometer, and heat to a volume."""

from __future__ import annotations

from journal.figures.as_read import GravityReading
from journal.figures.corrected import gravity as corrected
from journal.measures import Scale
from journal.measures.wording import METRIC, US, plain, signed
from journal.pages.parts.sheet import words
from journal.pages.parts.sheet.model import Strip
from journal.pages.parts.sheet.planned_batch import PlannedBatch

#: Temperatures of a sample and of a volume, in the degrees that the brewery's thermometer has.
_SAMPLES = {METRIC: (10, 15, 20, 25, 30, 35, 40, 45, 50), US: (50, 60, 68, 75, 85, 95, 105, 115, 122)}
_VOLUMES = {
    METRIC: (20, 30, 40, 50, 60, 65, 70, 75, 80, 90, 95, 98),
    US: (68, 90, 105, 120, 140, 150, 160, 170, 180, 190, 200, 208),
}
#: The wort that the hydrometer's strip is for where nothing is expected, SG.
_ORDINARY = 1.045


def _celsius(degrees: float, system: str) -> float:
    return (degrees - 32.0) / 1.8 if system == US else degrees


def _points(value: float) -> str:
    return signed(plain(value * 1000.0, 1))


def hydrometer(planned: PlannedBatch, gravity: float | None) -> Strip:
    """What to add to a hydrometer's reading, in points, by the sample's temperature."""
    reading = gravity or _ORDINARY
    calibrated, degrees = planned.view.deviations.calibrated_at, _SAMPLES[planned.system]
    values = tuple(
        _points(corrected(GravityReading(Scale.HYDROMETER.value, reading, celsius, calibrated, None, None)) - reading)
        for celsius in (_celsius(each, planned.system) for each in degrees)
    )
    return Strip(
        "Hydrometer in a warm or cold sample",
        f"sample, {planned.sign('°C')}",
        "add, points",
        tuple(str(each) for each in degrees),
        values,
        f"A point is 0.001; for a reading near {words.gravity(reading)}, a hydrometer made for "
        f"{words.temperature(calibrated, planned.system)}. Above {words.temperature(40.0, planned.system)}, cool the sample instead.",
    )


def volume(planned: PlannedBatch) -> Strip:
    """By what to multiply a volume read hot."""
    degrees = _VOLUMES[planned.system]
    values = tuple(plain(1.0 / words.swelling(_celsius(each, planned.system)), 3) for each in degrees)
    cold = words.temperature(20.0, planned.system)
    return Strip(
        "Volume read hot",
        f"read at, {planned.sign('°C')}",
        "times",
        tuple(str(each) for each in degrees),
        values,
        f"Multiply the reading by this for the volume at {cold}. The vessel’s own expansion is not in it.",
    )

"""How uncertain a reading is: its own statement first, then the brewery's instrument, then common practice."""

from __future__ import annotations

from dataclasses import dataclass

from journal.measures import Gravity, Measure, Scale
from journal.reading.instruments import Instruments
from journal.reading.malts import StatedValue
from journal.science import wort

#: Standard uncertainty of a malt's extract and moisture by how good its source is, fractions (common practice).
EXTRACT_BY_SOURCE = {"certificate": 0.005, "datasheet": 0.010, "typical": 0.015, "guess": 0.030}
MOISTURE_BY_SOURCE = {"certificate": 0.003, "datasheet": 0.005, "typical": 0.008, "guess": 0.015}
#: Diastatic power, share of the value: laboratories of one ring test differ by 51 to 110 WK at 200 to 600 WK (EBC's R95, quoted
#: at second hand), which is a standard deviation of 6 to 9 %; a sheet's mean is not the lot's (common practice).
POWER_SHARE = {"certificate": 0.08, "datasheet": 0.12, "typical": 0.20, "guess": 0.30}
#: Malt colour, share of the value; a hop's alpha acid, share of the value (common practice).
COLOUR_SHARE = {"certificate": 0.05, "datasheet": 0.10, "typical": 0.20, "guess": 0.30}
ALPHA_SHARE = 0.10
#: A time read off a clock in a busy brewhouse, min (common practice).
CLOCK = 1.0
#: How deep a dip stick was wet, mm (common practice).
DIP = 2.0
#: What a refractometer's reading of wort is divided by, where the brewery states none.
WORT_FACTOR = (1.04, 0.02)
#: Standard uncertainty of a final gravity from a refractometer, SG: published correlations differ by 2 to 4 points.
REFRACTOMETER_FINAL = 0.002


@dataclass(frozen=True)
class Deviations:
    """Standard uncertainties (k = 1) of a brewery's readings, in kept units."""

    instruments: Instruments

    def weight(self, measure: Measure) -> float:
        """kg, of malt or sugar: 1 % of the reading or 10 g, the larger, where nothing is stated."""
        return self._stated(measure, self.instruments.malt_scale.uncertainty, max(0.01 * measure.value, 0.010))

    def hop_weight(self, measure: Measure) -> float:
        """kg, of hops: 1 g where nothing is stated."""
        return self._stated(measure, self.instruments.hop_scale.uncertainty, 0.001)

    def volume(self, measure: Measure) -> float:
        """L: 2 % of the reading or 0.2 L, the larger, where nothing is stated."""
        return self._stated(measure, self.instruments.volume.uncertainty, max(0.02 * measure.value, 0.2))

    def temperature(self, measure: Measure | None = None) -> float:
        """K: 0.5 where nothing is stated."""
        return self._stated(measure, self.instruments.thermometer.uncertainty, 0.5)

    def ph(self, measure: Measure) -> float:
        """pH: 0.05 where nothing is stated."""
        return self._stated(measure, self.instruments.ph_meter.uncertainty, 0.05)

    def gravity(self, reading: Gravity) -> float:
        """On the reading's own scale.

        0.001 of a hydrometer, 0.2 °Bx of a refractometer; °P as the hydrometer they were read on.
        """
        if reading.sd is not None:
            return reading.sd
        if reading.scale is Scale.BRIX:
            known = self.instruments.refractometer.uncertainty
            return known.value if known else 0.2
        known = self.instruments.hydrometer.uncertainty
        points = known.value if known else 0.001
        if reading.scale is Scale.HYDROMETER:
            return points
        gravity = wort.gravity_from_plato(reading.value)
        return (wort.plato_from_gravity(gravity + points) - wort.plato_from_gravity(gravity - points)) / 2

    @staticmethod
    def _stated(measure: Measure | None, instrument: Measure | None, otherwise: float) -> float:
        if measure is not None and measure.sd is not None:
            return measure.sd
        return instrument.value if instrument is not None else otherwise

    @property
    def calibrated_at(self) -> float:
        """degC, of the hydrometer."""
        known = self.instruments.hydrometer.calibrated_at
        return known.value if known else 20.0

    @property
    def wort_factor(self) -> tuple[float, float]:
        """The refractometer's, with its standard uncertainty."""
        known = self.instruments.refractometer.wort_factor
        return (known.value, known.sd if known.sd is not None else 0.01) if known else WORT_FACTOR


def malt_deviation(stated: StatedValue, by_source: dict[str, float], share: bool = False) -> float:
    """The standard uncertainty of a malt's value: stated, or by how good its source is; `share`: of the value."""
    if stated.sd is not None:
        return stated.sd
    return by_source[stated.source] * (abs(stated.value) if share else 1.0)

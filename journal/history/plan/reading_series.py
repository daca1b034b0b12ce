"""What a batch's instruments make of a reading of wort, in a form that needs no formula: numbers and series.

The way from what was read to L at 20 °C and SG 20/20 is `Observer`'s: corrected by the instrument's last check, brought to
20 °C, uncertain by the instrument, its check and the thermometer.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

import numpy as np

from journal.figures.as_read import GravityReading, VolumeReading
from journal.figures.checked import InstrumentError
from journal.figures.corrected import gravity, litres
from journal.figures.instruments import DIP
from journal.figures.observe import Observer
from journal.frozen import dataclass
from journal.measures import Gravity, Measure, Scale
from journal.measures.grammar import HYDROMETER_RANGE, SAMPLE_RANGE, STRENGTH_RANGE
from journal.numerics import Vector
from journal.numerics.chebyshev import ChebyshevSeries, series_of
from journal.reading.known_readings import VOLUME, read_at
from journal.reading.vessel_dip import dip_of
from journal.science import wort

#: By how much a volume, a share, and a gravity, SG, may be off.
_SHARE, _POINTS = 2e-8, 2e-8
#: So much that only the share of the reading is left of its uncertainty, L or kg.
_LARGE = 1e9


@dataclass(frozen=True)
class ReadingCurve:
    """A series with the ranges of what it is a function of: from `low` to `high` each, which are -1 and 1 to the series."""

    ranges: tuple[tuple[float, float], ...]
    series: ChebyshevSeries


@dataclass(frozen=True)
class ReadingSeries:
    """Everything between a reading of wort and what it says at 20 °C.

    `volume_sd` are the least standard uncertainty, L, and the share of the reading; `points_sd` SG, `brix_sd` °Bx,
    `temperature_sd` K, `wort_factor` with its own. The errors are what the instruments' checks found, None where there was none.
    `weight_sd` as `volume_sd`, kg; `dip_sd` mm. `kettle_dip` and `fermenter_dip` are the tables that hold, marks of mm and L, None
    where there is none. `fills` is by SG the litres that a kilogram of wort fills at 20 °C; `shrinks` by temperature, °C, what a
    litre then is at 20 °C; `warm` by what the hydrometer shows and the sample's temperature, SG; `strength` by °P, SG.
    `calibrated_at` °C.
    """

    volume_sd: tuple[float, float]
    weight_sd: tuple[float, float]
    dip_sd: float
    temperature_sd: float
    points_sd: float
    brix_sd: float
    wort_factor: tuple[float, float]
    calibrated_at: float
    kettle: InstrumentError | None
    fermenter: InstrumentError | None
    malt_scale: InstrumentError | None
    thermometer: InstrumentError | None
    hydrometer: InstrumentError | None
    refractometer: InstrumentError | None
    kettle_dip: tuple[tuple[float, float], ...] | None
    fermenter_dip: tuple[tuple[float, float], ...] | None
    fills: ReadingCurve
    shrinks: ReadingCurve
    warm: ReadingCurve
    strength: ReadingCurve


def reading_series(observer: Observer) -> ReadingSeries:
    """The series for one batch's readings of wort."""
    known, checked = observer.deviations, observer.checked
    return ReadingSeries(
        _least_and_share(known.volume),
        _least_and_share(known.weight),
        DIP,
        known.temperature(),
        known.gravity(Gravity(1.0, Scale.HYDROMETER)),
        known.gravity(Gravity(1.0, Scale.BRIX)),
        known.wort_factor,
        known.calibrated_at,
        checked.kettle,
        checked.fermenter,
        checked.malt_scale,
        checked.thermometer,
        checked.hydrometer,
        checked.refractometer,
        _marks(observer, "kettle"),
        _marks(observer, "fermenter"),
        _fills(),
        _shrinks(),
        _warm(known.calibrated_at),
        _strength(),
    )


def _least_and_share(deviation: Callable[[Measure], float]) -> tuple[float, float]:
    """What an uncertainty is at least, and which share of the reading where that is more."""
    return deviation(Measure(0.0, "")), deviation(Measure(_LARGE, "")) / _LARGE


def _marks(observer: Observer, station: str) -> tuple[tuple[float, float], ...] | None:
    table = dip_of(observer.batch, observer.brewery, read_at(station, VOLUME).path).table
    return table and tuple((mark.depth, mark.litres) for mark in table)


def _between(ranges: tuple[float, float], x: float) -> float:
    low, high = ranges
    return (low + high) / 2 + x * (high - low) / 2


@cache
def _fills() -> ReadingCurve:
    def look(x: float, y: float) -> Vector:
        del y
        return np.array([wort.volume(1.0, wort.plato_from_gravity(_between(HYDROMETER_RANGE, x)))])

    return _curve((HYDROMETER_RANGE,), series_of(look, (12, 0), np.array([_SHARE])))


@cache
def _shrinks() -> ReadingCurve:
    def look(x: float, y: float) -> Vector:
        del y
        return np.array([litres(VolumeReading(1.0, _between(SAMPLE_RANGE, x)))])

    return _curve((SAMPLE_RANGE,), series_of(look, (16, 0), np.array([_SHARE])))


@cache
def _strength() -> ReadingCurve:
    def look(x: float, y: float) -> Vector:
        del y
        return np.array([_gravity(Scale.PLATO, _between(STRENGTH_RANGE, x), None, 20.0)])

    return _curve((STRENGTH_RANGE,), series_of(look, (16, 0), np.array([_POINTS])))


@cache
def _warm(calibrated_at: float) -> ReadingCurve:
    def look(x: float, y: float) -> Vector:
        shown, at = _between(HYDROMETER_RANGE, x), _between(SAMPLE_RANGE, y)
        return np.array([_gravity(Scale.HYDROMETER, shown, at, calibrated_at)])

    return _curve((HYDROMETER_RANGE, SAMPLE_RANGE), series_of(look, (12, 16), np.array([_POINTS])))


def _gravity(scale: Scale, value: float, at: float | None, calibrated_at: float) -> float:
    return gravity(GravityReading(scale.value, value, at, calibrated_at, 1.0, None))


def _curve(ranges: tuple[tuple[float, float], ...], found: tuple[ChebyshevSeries, ...] | None) -> ReadingCurve:
    if found is None:
        raise ValueError("a formula of science has become too crooked for its series: give that more terms")
    return ReadingCurve(ranges, found[0])

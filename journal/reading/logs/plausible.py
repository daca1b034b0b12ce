"""Whether a column's readings can be in the unit its header gives, and which readings no instrument can have meant.

The limits are common practice: wort boils near 100 degC, mashes stand between 35 and 80 degC, no yeast of the trade works
above 45 degC, beer freezes near -2 degC.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from journal.measures.grammar import HYDROMETER_RANGE
from journal.measures.units import TEMPERATURE
from journal.reading.logs.header import HYDROMETER, PLATO

Numbers = NDArray[np.float64]
Marks = NDArray[np.bool_]

#: degC: outside of these no reading is of a mash or a beer.
COLDEST, HOTTEST = -20.0, 110.0
#: SG: the range of a bare gravity in an entry.
LEAST_GRAVITY, GREATEST_GRAVITY = HYDROMETER_RANGE
#: degC that a digital probe shows before its first measurement (common practice); its other sign, -127, is below COLDEST.
POWER_ON = 85.0
_NEAR_POWER_ON = 5.0
#: A probe out of the mash falls below ROOM, degC, from above HOT within SUDDEN minutes, and is back within AWAY minutes.
ROOM, HOT, SUDDEN, AWAY = 40.0, 50.0, 3.0, 15.0
#: Readings beside the fall that stand further than this under the mash, K, belong to it.
_BESIDE = 2.0

#: code, message, hint
Words = tuple[str, str, str]


def mash_unit(readings: Numbers, unit: str) -> Words | None:
    """Why the temperatures of a mash can't well be in this unit; readings without nan."""
    if unit == "celsius":
        hot = readings[(readings >= 105.0) & (readings <= 180.0)]
        # a quarter of a course is enough: a logger may well lie in the room before and after
        return _fahrenheit(float(np.median(hot)), "a mash") if len(hot) >= max(1, len(readings) / 4) else None
    middle = float(np.median(readings))
    return _celsius(middle, "no mash") if middle > 30.0 and readings.max() < 100.0 else None


def beer_unit(readings: Numbers, unit: str) -> Words | None:
    """Why the temperatures of a fermenting beer can't well be in this unit; readings without nan."""
    middle = float(np.median(readings))
    if unit == "celsius":
        return _fahrenheit(middle, "a fermenting beer") if 45.0 < middle <= HOTTEST else None
    return _celsius(middle, "a beer would be frozen") if -5.0 < middle < 28.0 else None


def _fahrenheit(reading: float, what: str) -> Words:
    message = f"{reading:.4g} °C is no temperature of {what}; {reading:.4g} °F is {_to_celsius(reading):.1f} °C"
    return "log-unit", message, "If the logger wrote Fahrenheit, say so in the header: temperature (degF)."


def _celsius(reading: float, what: str) -> Words:
    message = f"the readings are about {reading:.3g} °F, which is {_to_celsius(reading):.1f} °C: {what}"
    return "log-unit-doubtful", message, "If the logger wrote Celsius, say so in the header: temperature (degC)."


def _to_celsius(fahrenheit: float) -> float:
    return TEMPERATURE.to_kept(fahrenheit, "fahrenheit")


def gravity_unit(readings: Numbers, unit: str) -> Words | None:
    """Why the gravities can't well be in this unit; readings without nan."""
    middle = float(np.median(readings))
    if unit == HYDROMETER and 900.0 <= middle <= 1300.0:
        return (
            "log-unit",
            f"the gravities are about {middle:g}",
            f"Write them as {middle / 1000:.4g}, water being 1.000.",
        )
    if unit == HYDROMETER and 1.3 < middle <= 45.0:
        message = f"the gravities are about {middle:.3g}, which no hydrometer shows"
        return "log-unit", message, "If the logger wrote degrees Plato, say so in the header: gravity (°P)."
    if unit == PLATO and readings.min() > 0.95 and readings.max() < GREATEST_GRAVITY:
        message = f"the readings are about {middle:.4g} °P, which looks like a hydrometer's gravity"
        return "log-unit-doubtful", message, "If it is one, write gravity in the header, without a unit."
    return None


def no_temperature(temperature: Numbers) -> Marks:
    """Readings that no probe in a mash or a beer can have meant, degC."""
    return (temperature < COLDEST) | (temperature > HOTTEST)


def no_gravity(gravity: Numbers) -> Marks:
    """Readings that no wort or beer has, SG."""
    return (gravity < LEAST_GRAVITY) | (gravity > GREATEST_GRAVITY)


def power_on(temperature: Numbers) -> Marks:
    """Readings of exactly 85 degC whose nearest other readings on both sides, nan and 85 left out, are not near it."""
    marks = np.abs(temperature - POWER_ON) < 1e-6
    if not marks.any():
        return marks
    others = np.flatnonzero(np.isfinite(temperature) & ~marks)
    if not len(others):
        return np.zeros_like(marks)
    rows = np.flatnonzero(marks)
    after = np.searchsorted(others, rows)
    far = np.abs(temperature[others] - POWER_ON) > _NEAR_POWER_ON
    marks[rows] = far[np.maximum(after - 1, 0)] & far[np.minimum(after, len(others) - 1)]
    return marks


def pulled_out(minutes: Numbers, temperature: Numbers) -> Marks:
    """Readings of a mash's probe that was out of it for some minutes: a sudden fall to the room's temperature, and back."""
    marks = np.zeros(len(temperature), dtype=np.bool_)
    rows = np.flatnonzero(np.isfinite(temperature))
    times, heights = minutes[rows], temperature[rows]
    edges = np.flatnonzero(np.diff(heights < ROOM, prepend=False, append=False))
    starts, ends = edges.reshape(-1, 2).T
    within = (starts > 0) & (ends < len(rows))
    starts, ends = starts[within], ends[within]
    brief = (times[ends - 1] - times[starts] <= AWAY) & (times[ends] - times[starts - 1] <= AWAY + 2 * SUDDEN)
    starts, ends = starts[brief], ends[brief]
    lefts = np.minimum(starts - 1, np.searchsorted(times, times[starts] - SUDDEN))
    rights = np.maximum(ends + 1, np.searchsorted(times, times[ends - 1] + SUDDEN, side="right"))
    for left, start, end, right in zip(*(part.tolist() for part in (lefts, starts, ends, rights)), strict=True):
        before, after = heights[left:start], heights[end:right]
        if min(before.max(), after.max()) >= HOT:
            marks[rows[start - _until_back(before[::-1]) : end + _until_back(after)]] = True
    return marks


def _until_back(beside: Numbers) -> int:
    """How many readings, going away from a fall, stand clearly under the highest of them before one does not."""
    return int(np.argmax(beside >= beside.max() - _BESIDE))

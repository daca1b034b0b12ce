"""Hydrometers read off their temperature."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from journal.science import wort

AIR = 0.0012  # kg/L
TEMPERATURES = (10.0, 15.0, 15.56, 25.0, 30.0, 40.0, 60.0)
# Reading less true gravity, in thousandths, at the temperatures above, for an instrument of 20 degC; reckoned apart
# from this package with ICUMSA SPS-4 and a glass expansion of 25e-6 per K, the gravities as ratios of densities.
POINTS_OFF = {
    0.0: (1.25, 0.77, 0.70, -1.04, -2.31, -5.50, -14.05),
    5.0: (1.51, 0.89, 0.81, -1.14, -2.51, -5.86, -14.62),
    10.0: (1.77, 1.02, 0.92, -1.25, -2.72, -6.22, -15.19),
    15.0: (2.04, 1.14, 1.03, -1.36, -2.92, -6.58, -15.77),
    20.0: (2.31, 1.27, 1.14, -1.47, -3.13, -6.95, -16.36),
}
# Table C440 of the US National Bureau of Standards, also in AOAC's methods, row of 15 degC: degBx to take off the
# reading of a 20 degC saccharometer. From memory.
NBS_AT_15 = {0.0: 0.20, 5.0: 0.22, 10.0: 0.24, 15.0: 0.26, 20.0: 0.28}


def true_gravity(plato: float) -> float:
    """SG 20/20 in air."""
    return (wort.density(plato) - AIR) / (wort.density(0.0) - AIR)


def strength(gravity: float) -> float:
    """degP whose density gives this gravity; by bisection, so as not to borrow the package's own root finder."""
    low, high = -10.0, 50.0
    while high - low > 1e-10:
        middle = (low + high) / 2.0
        low, high = (middle, high) if true_gravity(middle) < gravity else (low, middle)
    return (low + high) / 2.0


@pytest.mark.parametrize("plato", POINTS_OFF)
def test_correction(plato: float) -> None:
    cold_water = wort.density(0.0)
    for temperature, off in zip(TEMPERATURES, POINTS_OFF[plato], strict=True):
        ratio = wort.density(plato) / cold_water + off / 1000.0
        corrected = wort.gravity_at_20((ratio * cold_water - AIR) / (cold_water - AIR), temperature)
        assert 1000.0 * (corrected - true_gravity(plato)) == pytest.approx(0.0, abs=0.01)


@pytest.mark.parametrize("plato", NBS_AT_15)
def test_against_the_saccharometer_table(plato: float) -> None:
    """Within one unit of the table's last digit, plus what that digit rounds away."""
    reading = true_gravity(plato + NBS_AT_15[plato])
    corrected = wort.gravity_at_20(reading, 15.0)
    assert strength(corrected) == pytest.approx(plato, abs=0.01 + 0.005)


@given(st.floats(0.98, 1.20))
def test_nothing_to_correct_at_20(reading: float) -> None:
    assert wort.gravity_at_20(reading, 20.0) == pytest.approx(reading, abs=1e-12)


@pytest.mark.parametrize("temperature", [15.0, 15.5556, 20.0, 25.0])
def test_water_reads_1_at_the_instruments_own_temperature(temperature: float) -> None:
    assert wort.gravity_at_20(1.0, temperature, temperature) == pytest.approx(1.0, abs=1e-12)


@pytest.mark.parametrize(
    ("plato", "at_60"), [(5.0, 1.01976), (10.0, 1.04022), (12.0, 1.04861), (15.0, 1.06143), (20.0, 1.08341)]
)
def test_an_instrument_of_60_fahrenheit(plato: float, at_60: float) -> None:
    """SG 60 degF/60 degF in air of sucrose solutions, reckoned apart with ICUMSA SPS-4."""
    corrected = wort.gravity_at_20(at_60, 15.5556, 15.5556)
    assert corrected == pytest.approx(true_gravity(plato), abs=1.1e-5)


@given(st.floats(0.98, 1.19), st.floats(1e-4, 0.01), st.floats(0.0, 70.0), st.floats(15.0, 25.0))
def test_higher_reading_means_higher_gravity(reading: float, more: float, sample: float, instrument: float) -> None:
    low = wort.gravity_at_20(reading, sample, instrument)
    assert wort.gravity_at_20(reading + more, sample, instrument) > low


@given(st.floats(0.99, 1.13), st.floats(8.0, 69.0))
def test_warmer_sample_means_higher_gravity(reading: float, sample: float) -> None:
    """Above the few degrees where water, near its greatest density, swells less than glass."""
    assert wort.gravity_at_20(reading, sample + 1.0) > wort.gravity_at_20(reading, sample)

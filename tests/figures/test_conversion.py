"""The course of conversion against scipy's own fit, and its intervals against many mashes whose truth is known."""

import numpy as np
import pytest
from scipy.optimize import curve_fit
from texts import figures

from journal.figures.conversion import approach_of, fit_approach
from journal.figures.propagate import nominal
from journal.figures.uncertain import ErrorSource, source

MINUTES = np.array([5.0, 10.0, 15.0, 20.0, 30.0, 45.0, 60.0, 75.0, 90.0])


def course(minutes: np.ndarray, end: float, start: float, constant: float) -> np.ndarray:
    return end * (1.0 - np.exp(-np.maximum(minutes - start, 0.0) / constant))


def test_against_scipy() -> None:
    chance = np.random.default_rng(3)
    read = course(MINUTES, 0.24, 2.0, 14.0) + chance.normal(0, 0.001, len(MINUTES))
    # so precise that what is expected of any mash weighs nothing
    sds = np.full(len(MINUTES), 1e-5)
    theirs, _ = curve_fit(course, MINUTES, read, p0=(0.25, 1.0, 12.0), sigma=sds)
    found = fit_approach(MINUTES, read, sds)
    assert found is not None
    assert tuple(found.at) == pytest.approx(tuple(theirs), rel=1e-4)


def test_uncertainty_against_scipy() -> None:
    """Of readings that scatter by what they are uncertain by; the weak expectations narrow it a little at most."""
    minutes = np.linspace(2.0, 90.0, 200)
    chance = np.random.default_rng(5)
    read = course(minutes, 0.24, 2.0, 14.0) + chance.normal(0, 0.002, 200)
    theirs, covariance = curve_fit(
        course, minutes, read, p0=(0.25, 1.0, 12.0), sigma=np.full(200, 0.002), absolute_sigma=True
    )
    found = approach_of(
        list(minutes), [source(value, 0.002, ErrorSource(str(at))) for at, value in enumerate(read.tolist())]
    )
    assert found is not None
    assert [nominal(number) for number in found] == pytest.approx(theirs.tolist(), rel=2e-3)
    assert [number.sd for number in found] == pytest.approx(np.sqrt(np.diag(covariance)).tolist(), rel=0.15)


def test_how_often_the_truth_is_inside() -> None:
    """Seven readings of a hydrometer a mash, mashes as they differ: two standard uncertainties should hold 95 %."""
    chance = np.random.default_rng(11)
    minutes = np.array([6.0, 12.0, 20.0, 30.0, 45.0, 60.0, 75.0])
    inside = known = 0
    for _ in range(200):
        start, constant = chance.normal(2.0, 2.0), np.exp(chance.normal(np.log(15.0), 0.4))
        true = course(minutes, 0.24, start, constant)
        read = true + chance.normal(0, 0.003, len(minutes))
        found = approach_of(
            minutes.tolist(), [source(value, 0.003, ErrorSource(str(at))) for at, value in enumerate(read.tolist())]
        )
        if found is None:
            continue
        known += 1
        ninety_five = found.start.value + found.constant.value * np.log(20.0)
        parts = {
            tag: part + np.log(20.0) * found.constant.parts.get(tag, 0.0) for tag, part in found.start.parts.items()
        }
        off = abs(ninety_five - start - constant * np.log(20.0))
        inside += off < 2.0 * float(np.hypot.reduce(list(parts.values())))
    assert known > 150
    assert inside / known >= 0.90


def test_an_end_that_is_not_in_sight_is_not_told() -> None:
    early = np.array([3.0, 5.0, 7.0, 9.0])
    assert fit_approach(early, course(early, 0.24, 0.0, 40.0), np.full(4, 0.003)) is None


def test_too_few_readings_and_readings_of_one_time() -> None:
    assert fit_approach(np.array([10.0, 60.0]), np.array([0.1, 0.2]), np.full(2, 0.003)) is None
    assert fit_approach(np.array([10.0, 10.0, 60.0]), np.array([0.1, 0.1, 0.2]), np.full(3, 0.003)) is None
    assert fit_approach(MINUTES, np.zeros(len(MINUTES)), np.full(len(MINUTES), 0.003)) is None


def entry(*readings: str) -> str:
    looks = ", ".join(f"{{at: {at} min, gravity: {gravity}}}" for at, gravity in map(str.split, readings))
    return f"grains: [{{malt: pale malt, weight: 4 kg}}]\nmash: {{liquor: 12 L, readings: [{looks}]}}\n"


def test_figures_of_a_mash_that_ends_at_all_there_is() -> None:
    """4 kg of 81 % dry extract and 4 % moisture in 12 L: 3.1104 kg in 12.138 kg of water, 20.398 °P, is everything.

    The gravities are those of 1 − exp(−t/15) of it, by the ASBC table's cubic, to the nearest thousandth.
    """
    share = [1.0 - np.exp(-minutes / 15.0) for minutes in (10, 20, 30, 45, 60, 90)]
    water_mass = 12 * 0.998207 + 0.16
    gravities = []
    for part in share:
        plato = 100 * part * 3.1104 / (part * 3.1104 + water_mass)
        fits = [g / 10000 for g in range(10000, 11200)]
        gravities.append(min(fits, key=lambda s: abs(135.997 * s**3 - 630.272 * s**2 + 1111.14 * s - 616.868 - plato)))
    found = figures(entry(*(f"{m} {g:.3f}" for m, g in zip((10, 20, 30, 45, 60, 90), gravities, strict=True))))
    assert found["conversion_end"].value == pytest.approx(1.0, abs=0.01)
    assert found["conversion_time_95"].value == pytest.approx(15 * np.log(20), abs=3.0)
    assert abs(found["conversion_time_95"].value - 15 * np.log(20)) < 2 * found["conversion_time_95"].sd
    # the balance by hand: 100 · 3.1104 / (3.1104 + 12.1385)
    assert found["first_wort_maximum"].value == pytest.approx(20.398, abs=0.002)


def test_readings_out_of_order_are_the_same_mash() -> None:
    one = figures(entry("10 1.040", "30 1.065", "60 1.073"))
    other = figures(entry("60 1.073", "10 1.040", "30 1.065"))
    assert one["conversion_time_95"].value == pytest.approx(other["conversion_time_95"].value, rel=1e-9)


def test_what_is_wanting_is_one_more_reading() -> None:
    assert figures(entry()).wanting["conversion_time_95"] == ("mash.readings[2].gravity",)
    assert figures(entry("10 1.040", "30 1.065")).wanting["conversion_end"] == ("mash.readings[2].gravity",)
    too_early = figures(entry("3 1.010", "5 1.015", "7 1.020", "9 1.024"))
    assert too_early.wanting["conversion_time_95"] == ("mash.readings[4].gravity",)


def test_uncertainty_names_readings_times_and_what_is_expected() -> None:
    parts = dict(figures(entry("10 1.040", "30 1.065", "60 1.073"))["conversion_time_95"].parts)
    named = {"mash.readings[0].gravity", "mash.readings[0].at", "model of conversion_time_95"}
    assert named <= {str(source) for source in parts}

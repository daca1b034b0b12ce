"""The course of a fermentation and its plateau, against scipy, statsmodels, and courses that are known."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import curve_fit
from scipy.stats import linregress

from journal.figures.logistic import fit_logistic
from journal.figures.plateau import level_for, slope_test
from journal.science.fermentation import Logistic

#: °P: a hydrometer's 0.001.
SD = 0.26


def logistic(t: np.ndarray, end: float, drop: float, rate: float, middle: float) -> np.ndarray:
    return end + drop / (1 + np.exp(rate * (t - middle)))


def seen(truth: Logistic, days: np.ndarray, sd: float, seed: int) -> np.ndarray:
    return np.asarray(logistic(days, *truth) + np.random.default_rng(seed).normal(0, sd, len(days)))


@pytest.mark.parametrize("seed", range(5))
def test_with_many_readings_it_is_scipy_s_least_squares(seed: int) -> None:
    """Errors small enough that Huber's weights stay at one and the weak expectations say nothing."""
    truth, days = Logistic(2.6, 9.8, 1.3, 2.2), np.linspace(0, 12, 40)
    readings = np.random.default_rng(seed).uniform(-1, 1, 40) * 0.02 + logistic(days, *truth)
    sds = np.full(40, 0.02)
    found = fit_logistic(days, readings, sds)
    assert found is not None
    best, covariance = curve_fit(logistic, days, readings, p0=[2, 10, 1, 2], sigma=sds, absolute_sigma=True)
    assert np.array(found.at) == pytest.approx(best, rel=1e-3)
    own = found.gain * sds
    assert np.sqrt(np.diag(own @ own.T)) == pytest.approx(np.sqrt(np.diag(covariance)), rel=0.01)
    assert found.birge_ratio == 1.0


def test_intervals_cover_what_is_known() -> None:
    """90 % intervals of end, fall, rate and middle from five to eight readings besides the wort's own."""
    rng = np.random.default_rng(8)
    inside = []
    for seed in range(300):
        truth = Logistic(
            rng.uniform(1.5, 4), rng.uniform(7, 14), np.exp(rng.normal(np.log(1.5), 0.4)), rng.uniform(1, 4)
        )
        days = np.concatenate([[0], np.sort(rng.uniform(0.5, 14, rng.integers(5, 9)))])
        found = fit_logistic(days, seen(truth, days, SD, seed), np.full(len(days), SD))
        if found is not None:
            own = np.concatenate([found.gain * SD * found.birge_ratio, found.expected], axis=1)
            inside.append(np.abs(np.array(found.at) - truth) <= 1.645 * np.sqrt(np.sum(own**2, axis=1)))
    assert len(inside) > 280
    # 300 trials know a share of 0.9 to 0.017
    assert np.mean(inside, axis=0) == pytest.approx([0.9] * 4, abs=0.052)


def test_one_wrong_reading_does_little() -> None:
    truth, days = Logistic(2.6, 9.8, 1.3, 2.2), np.linspace(0, 12, 13)
    readings = seen(truth, days, 0.05, 1)
    readings[9] += 3.0
    found = fit_logistic(days, readings, np.full(13, 0.05))
    assert found is not None
    assert found.at.end == pytest.approx(2.6, abs=0.15)
    plain, _ = curve_fit(logistic, days, readings, p0=[2, 10, 1, 2])
    assert abs(plain[0] - 2.6) > 2 * abs(found.at.end - 2.6)


@pytest.mark.parametrize(
    ("days", "strengths"),
    [
        # too few; nothing fell; still on the slope
        ([0, 1, 3, 9], [12, 9, 4, 2.6]),
        ([0, 1, 3, 5, 9, 12], [12, 12.1, 11.9, 12, 12.1, 12]),
        ([0, 0.5, 1, 1.5, 2, 2.5], [12, 11.9, 11.7, 11.5, 11.1, 10.6]),
    ],
)
def test_no_course_where_its_end_was_not_seen(days: list[float], strengths: list[float]) -> None:
    count = len(days)
    assert fit_logistic(np.array(days, dtype=float), np.array(strengths, dtype=float), np.full(count, SD)) is None


anything = st.lists(st.tuples(st.floats(0, 60), st.floats(-4, 35)), min_size=5, max_size=9)


@st.composite
def courses(draw: st.DrawFn) -> list[tuple[float, float]]:
    """Readings of a beer that ferments, scattered, and now and then one that is quite wrong."""
    within = ((-1.0, 6.0), (2.0, 16.0), (0.3, 4.0), (0.5, 8.0))
    truth = [draw(st.floats(low, high)) for low, high in within]
    days = sorted(draw(st.lists(st.floats(0, 30), min_size=5, max_size=9, unique=True)))
    scatter = draw(st.lists(st.floats(-0.3, 0.3), min_size=len(days), max_size=len(days)))
    wild = draw(st.integers(0, 4 * len(days)))
    return [
        (day, float(logistic(np.array(day), *truth)) + off + (5.0 if place == wild else 0.0))
        for place, (day, off) in enumerate(zip(days, scatter, strict=True))
    ]


@given(st.one_of(anything, courses(), courses(), courses()), st.one_of(st.floats(0.01, 0.5), st.floats(0.01, 3.0)))
def test_no_readings_whatever_are_too_odd(points: list[tuple[float, float]], sd: float) -> None:
    """Every fit has finite numbers, a fall and a rate above nothing, and an end known to better than 1 °P."""
    days, strengths = np.array(sorted(points)).T
    found = fit_logistic(days.copy(), strengths.copy(), np.full(len(days), sd))
    if found is not None:
        assert np.all(np.isfinite([*found.at, *found.gain.ravel(), found.birge_ratio]))
        assert min(found.at.drop, found.at.rate) > 0.0
        assert found.birge_ratio >= 1.0
        of_readings, of_what_is_usual = found.gain[0] * sd * found.birge_ratio, found.expected[0] * found.birge_ratio
        assert np.hypot(np.linalg.norm(of_readings), np.linalg.norm(of_what_is_usual)) < 1.0


@pytest.mark.parametrize("seed", range(4))
def test_slope_by_scipy_and_statsmodels(seed: int) -> None:
    import statsmodels.api as sm  # noqa: PLC0415  # it takes a second, of whoever runs this alone

    rng = np.random.default_rng(seed)
    days, gravities = np.sort(rng.uniform(0, 10, 7)), 1.012 - 0.0002 * np.arange(7) + rng.normal(0, 5e-4, 7)
    slope, chance = slope_test([(d, g, 0.001) for d, g in zip(days, gravities, strict=True)])
    by_scipy = linregress(days, gravities)
    by_statsmodels = sm.OLS(gravities, sm.add_constant(days)).fit()
    assert (slope, chance) == pytest.approx((by_scipy.slope, by_scipy.pvalue), rel=1e-8)
    assert (slope, chance) == pytest.approx((by_statsmodels.params[1], by_statsmodels.pvalues[1]), rel=1e-8)


def test_a_slope_without_scatter_is_certain() -> None:
    assert slope_test([(0, 1.0, 0.001), (1, 1.0, 0.001), (2, 1.0, 0.001)]) == (0.0, 1.0)
    assert slope_test([(0, 1.25, 0.001), (1, 1.125, 0.001), (2, 1.0, 0.001)]) == (-0.125, 0.0)


@pytest.mark.parametrize(
    ("gravities", "days"),
    [
        ([1.020, 1.010, 1.010, 1.010], 2.0),
        ([1.012, 1.011, 1.010, 1.010], 2.0),
        ([1.014, 1.012], 0.0),
        ([1.010], 0.0),
        ([1.020, 1.010, 1.011, 1.010, 1.010, 1.011], 4.0),
        # each step is less than can be told, the fall is not: it is level as far as it can't be seen to fall
        ([1.0120, 1.0117, 1.0114, 1.0111, 1.0108, 1.0105], 2.0),
    ],
)
def test_level_for(gravities: list[float], days: float) -> None:
    assert level_for([(float(day), gravity, 0.001) for day, gravity in enumerate(gravities)]) == days


def test_a_level_beer_is_found_level_and_a_falling_one_is_not() -> None:
    rng = np.random.default_rng(3)
    level, falling = [], []
    for _ in range(300):
        errors = rng.normal(0, 2e-4, 6)
        level.append(level_for([(float(day), 1.010 + errors[day], 0.001) for day in range(6)]))
        falling.append(level_for([(float(day), 1.013 - 5e-4 * day + errors[day], 0.001) for day in range(6)]))
    # 5 % is the chance of taking scatter for a fall, at three lengths of stretch
    assert np.mean(np.array(level) == 5.0) > 0.85
    assert np.mean(np.array(falling) >= 4.0) < 0.05

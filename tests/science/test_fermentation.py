"""The logistic course against its definition, by numbers and by scipy."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq, minimize_scalar
from scipy.special import expit

from journal.science import fermentation
from journal.science.fermentation import Logistic, days_until, peak_rate, strength, unchanged

courses = st.builds(Logistic, st.floats(0.5, 5.0), st.floats(2.0, 16.0), st.floats(0.2, 6.0), st.floats(-2.0, 8.0))


@given(courses, st.floats(0.0, 40.0))
def test_strength_is_the_logistic(course: Logistic, days: float) -> None:
    falling = course.end + course.drop * expit(-course.rate * (days - course.middle))
    assert strength(course, days) == pytest.approx(float(falling), rel=1e-9)


@given(courses)
def test_the_peak_is_the_steepest_place(course: Logistic) -> None:
    step = 1e-5

    def fall(days: float) -> float:
        return (strength(course, days - step) - strength(course, days + step)) / (2 * step)

    steepest = minimize_scalar(lambda days: -fall(days), bounds=(0.0, 12.0), method="bounded", options={"xatol": 1e-9})
    assert peak_rate(course) == pytest.approx(max(-steepest.fun, fall(0.0)), rel=1e-4)


@given(courses, st.floats(0.05, 1.0))
def test_days_until(course: Logistic, above: float) -> None:
    def excess(days: float) -> float:
        return strength(course, days) - course.end - above

    wanted = 0.0 if excess(0.0) <= 0.0 else brentq(excess, 0.0, 300.0)
    assert days_until(course, above) == pytest.approx(wanted, abs=1e-6)


def test_the_end_itself_is_never_reached() -> None:
    with pytest.raises(ValueError, match="never"):
        days_until(Logistic(2.5, 9.5, 2.0, 1.5), 0.0)
    assert days_until(Logistic(2.5, 0.1, 2.0, 1.5), 0.2) == 0.0


def test_a_long_time_is_no_overflow() -> None:
    assert strength(Logistic(2.5, 9.5, 6.0, 1.5), 1e6) == pytest.approx(2.5)
    assert math.isfinite(strength(Logistic(2.5, 9.5, 6.0, 1.5), -1e6))


def test_unchanged_goes_by_the_uncertainty_of_both_up_to_2_points() -> None:
    for points, sd, same in [
        (0.0014, 0.001, True),
        (0.0015, 0.001, False),
        (0.002, 0.01, True),
        (0.00201, 0.01, False),
    ]:
        assert unchanged((1.0, 1.010 + points, sd), (4.0, 1.010, sd)) is same
        assert unchanged((1.0, 1.010 - points, sd), (4.0, 1.010, sd)) is same
    assert np.sqrt(2) * 0.001 == pytest.approx(0.0014, abs=5e-5)


def test_pitching_rate_by_hand() -> None:
    """180 billion cells in 20 L: 9 million to the mL; of 12 degP 0.75 for each, the rate that is common practice for ales."""
    assert fermentation.pitching_rate(180.0, 20.0, 12.0) == pytest.approx(0.75)
    with pytest.raises(ValueError, match="needs wort"):
        fermentation.pitching_rate(180.0, 20.0, 0.0)

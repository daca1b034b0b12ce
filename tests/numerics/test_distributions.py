"""Distributions, roots and curves against the general library, over the range that the journal uses and beyond."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy import optimize, special

from journal.figures import logistic
from journal.numerics import distributions as own
from journal.numerics.curve import fit_curve
from journal.numerics.roots import highest_between, root_between

#: Also such as an approximate count of degrees of freedom has (Welch, Satterthwaite), and those on both sides of a series' beginning.
FREEDOMS = (0.3, 1, 1.5, 2, 2.7, 3, 4, 5, 7.3, 10, 20, 37, 99, 199, 200, 201, 998)
DISTANCES = np.concatenate([[0.0], np.linspace(0.05, 5.0, 67), np.geomspace(5.0, 100.0, 20)])


@pytest.mark.parametrize("freedom", FREEDOMS)
def test_students_tail_as_the_general_library_has_it(freedom: float) -> None:
    t = np.concatenate([-DISTANCES, DISTANCES])
    expected = special.stdtr(freedom, t)
    assert own.stdtr(freedom, t) == pytest.approx(expected, rel=1e-12, abs=1e-290)
    assert [own.stdtr(freedom, each) for each in t.tolist()] == pytest.approx(expected, rel=1e-12, abs=1e-290)


@pytest.mark.parametrize("freedom", FREEDOMS)
def test_students_quantile_as_the_general_library_has_it(freedom: float) -> None:
    chances = np.concatenate(
        [np.geomspace(1e-100 if freedom >= 3 else 1e-20, 0.4, 60), np.linspace(0.01, 0.99, 21), [0.95, 0.5]]
    )
    assert own.stdtrit(freedom, chances) == pytest.approx(special.stdtrit(freedom, chances), rel=1e-12, abs=1e-15)


def test_student_at_the_ends_of_his_range() -> None:
    ends = np.array([-math.inf, math.inf, math.nan])
    assert own.stdtr(3, ends) == pytest.approx([0.0, 1.0, math.nan], nan_ok=True)
    assert [own.stdtr(3, end) for end in ends.tolist()] == pytest.approx([0.0, 1.0, math.nan], nan_ok=True)
    assert own.stdtr(math.inf, ends[:2]).tolist() == [0.0, 1.0]
    # of very many degrees of freedom the difference of x from 1 has fewer digits, in the library's own fraction too
    assert own.stdtr(1e5, -DISTANCES) == pytest.approx(special.stdtr(1e5, -DISTANCES), rel=1e-10)


def test_normal_and_chi_square_as_the_general_library_has_them() -> None:
    z = np.linspace(-9.0, 9.0, 91)
    assert own.ndtr(z) == pytest.approx(special.ndtr(z), rel=1e-12)
    for chance in np.geomspace(1e-20, 0.999, 40).tolist():
        assert own.ndtri(chance) == pytest.approx(float(special.ndtri(chance)), rel=1e-12)
    for degrees in (*range(1, 31), 100, 333):
        sums = np.linspace(0.0, 4.0 * degrees + 20.0, 50)
        found = [own.chi_square_tail(degrees, each) for each in sums.tolist()]
        assert found == pytest.approx(special.gammaincc(degrees / 2, sums / 2), rel=1e-12)


def test_sums_of_exponentials_of_any_size() -> None:
    a = np.array([[1000.0, 1001.0, -2000.0], [-1e4, -1e4, -1e4]])
    assert own.logsumexp(a, axis=-1) == pytest.approx(special.logsumexp(a, axis=-1), rel=1e-15)
    assert own.logsumexp(a, axis=0) == pytest.approx(special.logsumexp(a, axis=0), rel=1e-15)


@pytest.mark.parametrize(
    "function",
    [lambda x: x**3 - 0.1, lambda x: math.exp(9.0 * x) - 5.0, lambda x: math.atan(1e4 * (x - 0.7)), lambda x: x],
)
def test_a_root_as_the_general_library_finds_it(function: object) -> None:
    assert callable(function)
    calls: list[float] = []
    found = root_between(lambda x: calls.append(x) or function(x), -0.5, 2.0, within=1e-10)  # type: ignore[func-returns-value]
    assert found == pytest.approx(optimize.brentq(function, -0.5, 2.0, xtol=1e-13), abs=1e-10)
    assert len(calls) < 45
    with pytest.raises(ValueError, match="one sign"):
        root_between(lambda x: 1.0 + x**2, -0.5, 2.0, within=1e-9)


def test_a_summit_as_the_general_library_finds_it() -> None:
    # as extract over grain: a rise that flattens, then a cut
    def hill(x: float) -> float:
        return min(1.0 - math.exp(-x), 3.0 - x)

    expected = optimize.minimize_scalar(
        lambda x: -hill(x), bounds=(0.0, 4.0), method="bounded", options={"xatol": 1e-9}
    ).x
    assert highest_between(hill, 0.0, 4.0, within=1e-7) == pytest.approx(expected, abs=1e-6)


def test_courses_end_at_least_as_low_as_the_general_librarys() -> None:
    """Falling gravities with few readings on the slope, from which a plain Gauss step swings to and fro."""
    rng = np.random.default_rng(6)
    usual, usual_sd = np.array([0.0, 0.0, 0.4, 2.5]), np.array([np.inf, np.inf, 1.0, 5.0])
    for _ in range(40):
        days = np.array([0.0, 2.0, 4.0, 8.0, 13.0, 14.0]) + rng.uniform(0.0, 0.5, 6)
        at = np.array(
            [rng.uniform(1.5, 4.0), np.log(rng.uniform(6.0, 14.0)), rng.normal(0.4, 0.5), rng.uniform(0.5, 3.0)]
        )
        sds = np.full(6, 0.15)
        strengths = logistic.curve(at, days)[0] + rng.normal(0.0, 0.15, 6)
        start = np.array([strengths[-1], 2.3, 0.4, 1.6])

        def off(theta: np.ndarray, days: np.ndarray = days, strengths: np.ndarray = strengths) -> np.ndarray:
            return np.concatenate(
                [(logistic.curve(theta, days)[0] - strengths) / 0.15, ((theta - usual) / usual_sd)[2:]]
            )

        found = fit_curve(lambda theta, days=days: logistic.curve(theta, days), start, strengths, sds, usual, usual_sd)
        other, *_, code = optimize.leastsq(off, start, full_output=True, ftol=1e-13, xtol=1e-13, maxfev=2000)
        if code in {1, 2, 3, 4}:
            assert found is not None
            assert np.sum(off(found.theta) ** 2) <= np.sum(off(other) ** 2) * (1 + 1e-9)
            sd = np.sqrt(np.diagonal(found.covariance))
            assert (found.theta - other) / sd == pytest.approx(0.0, abs=1e-4)

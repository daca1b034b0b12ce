"""Slopes, robust weights and curves against closed forms and the general library."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import optimize

from journal.numerics import jacobian, slope, variances
from journal.numerics.curve import fit_curve
from journal.numerics.robust import EFFICIENT, huber_weights, reweight


def polynomial(x: np.ndarray) -> np.ndarray:
    return np.stack([x[0] ** 2 * x[1], np.exp(x[0]) - x[2], x[1] * x[2]])


def test_the_jacobian_of_closed_forms():
    a, b, c = 0.7, -1.3, 20.0
    exact = [[2 * a * b, a**2, 0.0], [np.exp(a), 0.0, -1.0], [0.0, c, b]]
    assert jacobian(polynomial, np.array([a, b, c])) == pytest.approx(np.array(exact), rel=1e-8, abs=1e-8)
    at = np.array([a, b, c])

    def along(row: int, place: int) -> float:
        return slope(lambda x: float(polynomial(np.where(np.arange(3) == place, x, at))[row]), at[place])

    rows = [[along(row, place) for place in range(3)] for row in range(3)]
    assert np.array(rows) == pytest.approx(np.array(exact), rel=1e-8, abs=1e-8)


def test_a_jacobian_of_no_numbers_is_refused():
    with pytest.raises(ValueError, match="nothing"):
        jacobian(lambda x: np.sqrt(x - 2.0), np.array([1.0]))


def test_variances_are_the_diagonal_of_the_sandwich():
    rng = np.random.default_rng(3)
    slopes, root = rng.normal(size=(5, 3)), rng.normal(size=(3, 3))
    assert variances(slopes, root @ root.T) == pytest.approx(np.diag(slopes @ root @ root.T @ slopes.T))


def test_weighted_residuals_are_hubers_psi():
    away = np.linspace(-6, 6, 41)
    assert away * huber_weights(away, EFFICIENT) == pytest.approx(np.clip(away, -EFFICIENT, EFFICIENT))


def test_a_robust_line_as_the_general_library_fits_it():
    # scipy's "huber" loss with its f_scale is the same estimate, found by another algorithm
    rng = np.random.default_rng(8)
    x = np.linspace(0, 1, 30)
    y = 2.0 + 3.0 * x + rng.normal(0, 0.1, 30)
    y[[4, 17]] += 4.0
    columns = np.stack([np.ones(30), x], axis=1)
    found, weights = reweight(
        np.zeros(2),
        away=lambda at: (y - columns @ at) / 0.1,
        solve=lambda w, _: np.linalg.lstsq(columns * np.sqrt(w)[:, None], y * np.sqrt(w), rcond=None)[0],
        bend=EFFICIENT,
        rounds=200,
        settled=lambda before, now: bool(np.max(np.abs(now - before)) < 1e-10),
    )
    other = optimize.least_squares(
        lambda at: (columns @ at - y) / 0.1, np.zeros(2), loss="huber", f_scale=EFFICIENT, xtol=1e-14, ftol=1e-14
    ).x
    assert found == pytest.approx(other, abs=1e-5)
    assert np.flatnonzero(weights < 0.1).tolist() == [4, 17]


def test_a_curve_with_its_uncertainty_as_the_general_library_has_it():
    rng = np.random.default_rng(2)
    x, sds = np.linspace(0, 4, 12), np.full(12, 0.05)
    y = 3.0 * np.exp(-0.8 * x) + rng.normal(0, 0.05, 12)

    def curve(theta: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        left = np.exp(-theta[1] * x)
        return theta[0] * left, np.stack([left, -theta[0] * x * left], axis=1)

    nothing = np.full(2, np.inf)
    found = fit_curve(curve, np.array([1.0, 1.0]), y, sds, np.zeros(2), nothing)
    theta, covariance = optimize.curve_fit(
        lambda x, a, k: a * np.exp(-k * x), x, y, [1.0, 1.0], sds, absolute_sigma=True
    )
    assert found is not None
    assert found.theta == pytest.approx(theta, rel=1e-6)
    assert found.covariance == pytest.approx(covariance, rel=1e-4)
    assert found.expected.shape == (2, 0)
    # the gain is what a small change of each value does, where the values lie on the curve
    true = curve(np.array([3.0, 0.8]))[0]
    gain = fit_curve(curve, np.array([3.0, 0.8]), true, sds, np.zeros(2), nothing)
    moved = fit_curve(curve, np.array([3.0, 0.8]), true + 1e-3 * (np.arange(12) == 3), sds, np.zeros(2), nothing)
    assert gain is not None
    assert moved is not None
    assert (moved.theta - gain.theta) / 1e-3 == pytest.approx(gain.gain[:, 3], rel=0.01)

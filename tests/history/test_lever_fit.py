"""The regression of levers against certified values and an independent library."""

from __future__ import annotations

import math

import numpy as np
import pytest
import statsmodels.api as sm
from statsmodels.datasets import longley
from statsmodels.robust.norms import HuberT, estimate_location

from journal.history.levers.fit import LeverFit, fit

# NIST StRD, Norris: y then x of 36 readings of an ozone monitor
NORRIS = """0.1 0.2; 338.8 337.4; 118.1 118.2; 888.0 884.6; 9.2 10.1; 228.1 226.5; 668.5 666.3; 998.5 996.3; 449.1 448.6;
778.9 777.0; 559.2 558.2; 0.3 0.4; 0.1 0.6; 778.1 775.5; 668.8 666.9; 339.3 338.0; 448.9 447.5; 10.8 11.6; 557.7 556.0;
228.3 228.1; 998.0 995.8; 888.8 887.6; 119.6 120.2; 0.3 0.3; 0.6 0.3; 557.6 556.8; 339.3 339.1; 888.0 887.2; 998.5 999.0;
778.9 779.0; 10.2 11.1; 117.6 118.3; 228.9 229.2; 668.4 669.1; 449.2 448.9; 0.2 0.5"""


def plain(columns: np.ndarray, values: np.ndarray) -> LeverFit:
    """Equal weights, no lots, nothing bent: what ordinary least squares does."""
    return fit(columns, values, np.zeros(len(values)), np.zeros((len(values), 0)), 0.0, math.inf)


def sds(found: LeverFit) -> np.ndarray:
    return np.sqrt(np.diag(found.covariance))


# Certified values: NIST Statistical Reference Datasets, linear regression


def test_norris():
    y, x = np.array([pair.split() for pair in NORRIS.split(";")], dtype=float).T
    found = plain(np.column_stack([np.ones_like(x), x]), y)
    assert found.effects == pytest.approx([-0.262323073774029, 1.00211681802045], rel=1e-10)
    assert sds(found) == pytest.approx([0.232818234301152, 0.000429796848199937], rel=1e-10)
    assert found.spread == pytest.approx(0.884796396144373, rel=1e-10)
    assert found.degrees_of_freedom == 34


@pytest.mark.parametrize(
    ("x", "y", "effect", "sd", "spread"),
    [
        (range(60, 71), range(130, 141), 2.07438016528926, 0.0165289256198347, 3.56753034006338),
        (range(4, 7), (3, 4, 4), 0.727272727272727, 0.0420827318078432, 0.369274472937998),
    ],
    ids=["NoInt1", "NoInt2"],
)
def test_no_intercept(x, y, effect, sd, spread):
    found = plain(np.array(x, dtype=float)[:, None], np.array(y, dtype=float))
    assert found.effects[0] == pytest.approx(effect, rel=1e-12)
    assert sds(found)[0] == pytest.approx(sd, rel=1e-12)
    assert found.spread == pytest.approx(spread, rel=1e-12)


def test_longley():
    data = longley.load()
    columns = np.column_stack([np.ones(16), np.asarray(data.exog, dtype=float)])
    found = plain(columns, np.asarray(data.endog, dtype=float))
    assert found.effects[0] == pytest.approx(-3482258.63459582, rel=1e-8)
    assert found.spread == pytest.approx(304.854073561965, rel=1e-8)
    general = sm.OLS(np.asarray(data.endog, dtype=float), columns).fit()
    assert found.effects == pytest.approx(general.params, rel=1e-7)
    assert sds(found) == pytest.approx(general.bse, rel=1e-7)


def test_stated_uncertainties_make_no_difference_where_all_are_alike():
    # less scatter than stated, as much, and more: the scatter about the line is what counts
    y, x = np.array([pair.split() for pair in NORRIS.split(";")], dtype=float).T
    columns = np.column_stack([np.ones_like(x), x])
    for stated in (0.1, 0.88, 50.0):
        found = fit(columns, y, np.full(36, stated), np.zeros((36, 0)), 0.0, math.inf)
        assert sds(found) == pytest.approx([0.232818234301152, 0.000429796848199937], rel=1e-9)


def test_a_thermometers_calibration_line():
    # JCGM 100:2008 (GUM), H.3; printed digits
    t = np.array([21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511])
    b = np.array([-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.160])
    found = plain(np.column_stack([np.ones(11), t - 20]), b)
    assert found.effects == pytest.approx([-0.1712, 0.00218], abs=5e-5)
    assert found.effects[1] == pytest.approx(0.00218, abs=5e-6)
    assert sds(found)[0] == pytest.approx(0.0029, abs=5e-5)
    assert sds(found)[1] == pytest.approx(0.00067, abs=5e-6)
    assert found.spread == pytest.approx(0.0035, abs=5e-5)
    assert found.covariance[0, 1] / np.prod(sds(found)) == pytest.approx(-0.930, abs=5e-4)


# The general library


def of_lots(seed: int) -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray]:
    rng = np.random.default_rng(seed)
    shares = rng.dirichlet([0.4] * 6, 30)
    columns = np.column_stack([np.ones(30), rng.normal(size=30), np.arange(30) // 10 == 1])
    stated = rng.uniform(0.005, 0.02, 30)
    values = rng.normal(0, stated) + rng.normal(0, 0.01, 30) + shares @ rng.normal(0, 0.02, 6)
    return columns, values, stated, shares


@pytest.mark.parametrize("seed", range(4))
def test_lots_as_correlated_errors(seed):
    columns, values, stated, shares = of_lots(seed)
    found = fit(columns, values, stated, shares, 0.02, math.inf)
    general = sm.GLS(values, columns, sigma=np.diag(found.variance) + 0.02**2 * shares @ shares.T).fit()
    assert found.effects == pytest.approx(general.params, rel=1e-9)
    # the spread is found where generalised least squares has a residual variance of 1
    assert general.scale == pytest.approx(1.0, abs=2e-3)
    assert sds(found) == pytest.approx(general.bse, rel=2e-3)


def test_a_lots_error_is_the_best_linear_unbiased_prediction():
    # G. K. Robinson, Stat. Sci. 6 (1991) 15, equation 1.2, written out with the whole covariance matrix
    columns, values, stated, shares = of_lots(7)
    found = fit(columns, values, stated, shares, 0.02, math.inf)
    whole = np.diag(found.variance) + 0.02**2 * shares @ shares.T
    expected = 0.02**2 * shares.T @ np.linalg.solve(whole, values - columns @ found.effects)
    assert found.lots == pytest.approx(expected, rel=1e-8)


@pytest.mark.parametrize("seed", range(4))
def test_bending_is_hubers(seed):
    # P. J. Huber, Ann. Math. Stat. 35 (1964) 73; for a constant alone every batch has a leverage of 1/n
    values = np.random.default_rng(seed).normal(0.8, 0.02, 15)
    values[3] += 0.15
    found = fit(np.ones((15, 1)), values, np.full(15, 0.01), np.zeros((15, 0)), 0.0)
    norm = HuberT(2.0 * math.sqrt(1 - 1 / 15))
    scale = float(np.sqrt(found.variance[0]))
    expected = estimate_location(values, scale, norm=norm, initial=np.median(values), maxiter=500, tol=1e-10)
    assert found.effects[0] == pytest.approx(float(expected), abs=5e-4 * scale)

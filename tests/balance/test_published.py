"""The balance against published reconciliations and tables."""

import numpy as np
import pytest
from scipy import stats
from scipy.linalg import null_space

from journal.balance.verdict import measurement_test_limit, p_value
from journal.numerics.least_squares import Fit, fit

# S. Narasimhan & C. Jordache, Data Reconciliation and Gross Error Detection (2000), chapter 1: a heat exchanger with a
# bypass. Six flows: feed, to the exchanger, to the bypass, from the exchanger, from the bypass, product; every standard
# deviation 1. Balances of splitter, exchanger, valve and mixer.
BYPASS = np.array([[1, -1, -1, 0, 0, 0], [0, 1, 0, -1, 0, 0], [0, 0, 1, 0, -1, 0], [0, 0, 0, 1, 1, -1]], dtype=float)
GOOD = [101.91, 64.45, 34.65, 64.20, 36.44, 98.88]
BIASED = [101.91, 68.45, 34.65, 64.20, 36.44, 98.88]
# the limits of the chi-square distribution at 0.05, and Šidák's of the normal one, as any statistical table has them
CHI_SQUARE_95 = {1: 3.8415, 2: 5.9915, 3: 7.8147, 4: 9.4877, 5: 11.0705, 6: 12.5916}
SIDAK_95 = {2: 2.2365, 3: 2.3877, 4: 2.4909, 5: 2.5688, 6: 2.6310, 8: 2.7270, 10: 2.7996}


def reconciled(balances: np.ndarray, measured: list[float], sd: list[float]) -> Fit:
    """Linear balances as the model of a state that obeys them: every flow is a combination of the null space's columns."""
    free = null_space(balances)
    start = np.linalg.lstsq(free, np.array(measured), rcond=None)[0]
    return fit(lambda state: free @ state, start * 0.9 + 1.0, np.array(measured), np.array(sd))


def test_the_heat_exchanger_with_a_bypass_as_published():
    found = reconciled(BYPASS, GOOD, [1.0] * 6)
    assert found.predicted == pytest.approx([100.22, 64.50, 35.72, 64.50, 35.72, 100.22], abs=0.005)
    assert found.chi_square == pytest.approx(6.4075, abs=5e-5)
    assert found.degrees_of_freedom == 4
    assert found.measurement_test == pytest.approx([2.0698, 0.0612, 1.3105, 0.3674, 0.8818, 1.6412], abs=5e-5)
    assert p_value(found.chi_square, 4) > 0.05
    assert found.measurement_test.max() < measurement_test_limit(6, 0.05)


def test_a_limit_for_one_test_would_accuse_the_good_set():
    found = reconciled(BYPASS, GOOD, [1.0] * 6)
    assert list(np.flatnonzero(found.measurement_test > 1.96)) == [0]
    assert not np.any(found.measurement_test > measurement_test_limit(6, 0.05))


def test_the_heat_exchanger_with_a_biased_flow():
    found = reconciled(BYPASS, BIASED, [1.0] * 6)
    assert found.predicted == pytest.approx([100.887, 65.833, 35.053, 65.833, 35.053, 100.887], abs=5e-4)
    assert found.chi_square == pytest.approx(16.6742, abs=5e-5)
    assert found.measurement_test == pytest.approx([1.2533, 3.2047, 0.4940, 2.0004, 1.6983, 2.4577], abs=5e-5)
    assert p_value(found.chi_square, 4) < 0.05
    assert list(np.flatnonzero(found.measurement_test > measurement_test_limit(6, 0.05))) == [1]


@pytest.mark.parametrize("measured", [GOOD, BIASED])
def test_every_reconciled_flow_of_the_exchanger_is_known_to_0_577(measured):
    # six flows of deviation 1 under four balances leave each a third of its variance
    found = reconciled(BYPASS, measured, [1.0] * 6)
    sd = np.sqrt(np.diag(found.slopes @ found.covariance @ found.slopes.T))
    assert sd == pytest.approx([0.5774] * 6, abs=5e-5)


@pytest.mark.parametrize("measured", [GOOD, BIASED])
def test_the_closed_form_of_the_same_reconciliation(measured):
    # R. Kuehn & H. Davidson, Chem. Eng. Prog. 57(6) (1961) 44: adjustment = V A' (A V A')^-1 A y, with unequal deviations
    y, variance = np.array(measured), np.diag(np.array([1.0, 0.5, 2.0, 1.0, 0.7, 1.5]) ** 2)
    into = variance @ BYPASS.T @ np.linalg.inv(BYPASS @ variance @ BYPASS.T)
    adjustment = into @ BYPASS @ y
    adjusted_by = np.sqrt(np.diag(into @ BYPASS @ variance))
    found = reconciled(BYPASS, measured, list(np.sqrt(np.diag(variance))))
    assert found.residuals == pytest.approx(adjustment, rel=1e-6)
    assert found.measurement_test == pytest.approx(np.abs(adjustment) / adjusted_by, rel=1e-6)
    assert found.chi_square == pytest.approx(y @ BYPASS.T @ np.linalg.inv(BYPASS @ variance @ BYPASS.T) @ BYPASS @ y)


def test_by_hand_one_balance_singles_nothing_out():
    # x1 = x2 + x3; 100, 60, 45 with 2, 1, 1: the balance is off by 5 with variance 6, so chi-square is 25/6, and each reading
    # is adjusted by its share of the variance
    found = reconciled(np.array([[1.0, -1.0, -1.0]]), [100.0, 60.0, 45.0], [2.0, 1.0, 1.0])
    assert found.predicted == pytest.approx([100 + 10 / 3, 60 - 5 / 6, 45 - 5 / 6])
    assert found.chi_square == pytest.approx(25 / 6)
    assert found.degrees_of_freedom == 1
    sd = np.sqrt(np.diag(found.slopes @ found.covariance @ found.slopes.T))
    assert sd == pytest.approx([1.15470, 0.91287, 0.91287], abs=5e-6)
    assert p_value(found.chi_square, 1) < 0.05
    assert found.measurement_test == pytest.approx([5 / 6**0.5] * 3)
    assert found.measurement_test[0] == pytest.approx(2.04124, abs=5e-6)


@pytest.mark.parametrize(("freedom", "limit"), CHI_SQUARE_95.items())
def test_the_tables_of_chi_square(freedom, limit):
    assert p_value(limit, freedom) == pytest.approx(0.05, abs=5e-6)


@pytest.mark.parametrize("freedom", range(1, 13))
@pytest.mark.parametrize("chi_square", [0.0, 0.3, 2.0, 7.5, 20.0, 80.0])
def test_p_values_as_the_general_library_has_them(freedom, chi_square):
    assert p_value(chi_square, freedom) == pytest.approx(stats.chi2.sf(chi_square, freedom), rel=1e-10)


def test_nothing_to_test_is_no_evidence():
    assert p_value(0.0, 0) == 1.0


@pytest.mark.parametrize(("readings", "limit"), SIDAK_95.items())
def test_the_tables_of_sidaks_limit(readings, limit):
    # Z. Šidák, J. Am. Stat. Assoc. 62 (1967) 626
    assert measurement_test_limit(readings, 0.05) == pytest.approx(limit, abs=5e-5)


@pytest.mark.parametrize("readings", range(2, 11))
@pytest.mark.parametrize("alpha", [0.05, 0.01])
def test_sidaks_limit_as_the_general_library_has_it(readings, alpha):
    each = 1 - (1 - alpha) ** (1 / readings)
    assert measurement_test_limit(readings, alpha) == pytest.approx(stats.norm.isf(each / 2), rel=1e-9)

"""Strike temperature."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from journal.science import heat


@pytest.mark.parametrize(
    ("liquor_to_grist", "moisture", "strike"),
    [(3.0, 0.04, 73.27), (2.5, 0.04, 74.52), (3.0, 0.00, 72.95), (3.0, 0.08, 73.58)],
)
def test_strike_temperature(liquor_to_grist: float, moisture: float, strike: float) -> None:
    """Heat balance with c = 0.40 (Lewis & Young, from memory), 0.38 and 0.42; a mash at 67 degC, grain at 20 degC."""
    assert heat.strike_temperature(67.0, 20.0, liquor_to_grist, moisture) == pytest.approx(strike, abs=0.005)


def test_initial_heat_of_the_textbook() -> None:
    """Pauls & Whites Brewing Room Book (1984/85): 2 % moisture, grist at 27 degC, 2.68 hL at 69 degC to 100 kg."""
    mash = (0.39 * 27.0 + 2.68 * 69.0) / (0.39 + 2.68) + 2.3
    assert mash == pytest.approx(65.96, abs=0.005)
    assert heat.strike_temperature(mash, 27.0, 2.68, 0.02, heat.slaking_rise(0.02)) == pytest.approx(69.0, abs=1e-9)


def test_rule_in_quarts_and_pounds() -> None:
    """Common practice: T + 0.2/r (T - T of the grain), r in US qt/lb, is the same with c = 0.417."""
    quarts = 3.0 / 2.08635
    rule = 67.0 + 0.2 / quarts * 47.0
    assert heat.strike_temperature(67.0, 20.0, 3.0, 0.08) == pytest.approx(rule, abs=0.1)


@pytest.mark.parametrize(
    ("moisture", "ratio", "rise"),
    [
        (-0.01, 0.38, 3.0),
        (0.01, 0.38, 2.8),
        (0.015, 0.385, 2.55),
        (0.04, 0.40, 1.5),
        (0.06, 0.41, 1.3),
        (0.2, 0.42, 1.0),
    ],
)
def test_grist_table(moisture: float, ratio: float, rise: float) -> None:
    """Pauls & Whites Brewing Room Book (1984/85), its rows, halfway between two, and beyond both ends."""
    assert heat.heat_capacity_ratio(moisture) == pytest.approx(ratio, abs=1e-9)
    assert heat.slaking_rise(moisture) == pytest.approx(rise, abs=1e-9)


@given(st.floats(35.0, 78.0), st.floats(-5.0, 30.0), st.floats(1.0, 10.0), st.floats(0.0, 0.1))
def test_heat_is_kept(mash: float, grain: float, liquor_to_grist: float, moisture: float) -> None:
    strike = heat.strike_temperature(mash, grain, liquor_to_grist, moisture)
    assert liquor_to_grist * (strike - mash) == pytest.approx(heat.heat_capacity_ratio(moisture) * (mash - grain))


def test_undefined() -> None:
    with pytest.raises(ValueError, match="needs liquor"):
        heat.strike_temperature(67.0, 20.0, 0.0, 0.04)

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


# Pauls & Whites Brewing Room Book (1984/85): moisture of the malt, specific heat over water's, slaking heat correction in
# degC and in degF. At 3 % the page prints 2.3 degC, what it has for 2 %, beside 3.5 degF.
GRIST = [
    (0.00, 0.38, 3.0, 5.5),
    (0.01, 0.38, 2.8, 5.0),
    (0.02, 0.39, 2.3, 4.0),
    (0.03, 0.40, None, 3.5),
    (0.04, 0.40, 1.5, 3.0),
    (0.06, 0.41, 1.3, 2.5),
    (0.08, 0.42, 1.0, 2.0),
]


@pytest.mark.parametrize(("moisture", "ratio", "celsius", "fahrenheit"), GRIST)
def test_grist_table(moisture: float, ratio: float, celsius: float | None, fahrenheit: float) -> None:
    """The Fahrenheit column is printed to half a degree, which leaves 0.17 K between the two."""
    assert heat.heat_capacity_ratio(moisture) == pytest.approx(ratio, abs=1e-9)
    rise = heat.slaking_rise(moisture)
    assert rise == pytest.approx(fahrenheit / 1.8, abs=0.17)
    assert rise == pytest.approx(round(fahrenheit / 1.8, 1) if celsius is None else celsius, abs=1e-9)


@pytest.mark.parametrize(
    ("moisture", "ratio", "rise"),
    [(-0.01, 0.38, 3.0), (0.015, 0.385, 2.55), (0.05, 0.405, 1.4), (0.075, 0.4175, 1.075), (0.2, 0.42, 1.0)],
)
def test_grist_between_the_rows_and_beyond_them(moisture: float, ratio: float, rise: float) -> None:
    """By hand, along a straight line between two rows; the nearest row beyond both ends."""
    assert heat.heat_capacity_ratio(moisture) == pytest.approx(ratio, abs=1e-9)
    assert heat.slaking_rise(moisture) == pytest.approx(rise, abs=1e-9)


@pytest.mark.parametrize(("moisture", "ratio"), [(0.0, 0.38), (0.04, 0.40), (0.08, 0.42)])
def test_specific_heat_of_a_mixture(moisture: float, ratio: float) -> None:
    """Dry malt and water by weight: 0.38 of the dry malt, 1 of the water; the book's rows lie within 0.02."""
    assert heat.heat_capacity_ratio(moisture) == pytest.approx(0.38 * (1.0 - moisture) + moisture, abs=0.02)


@given(st.floats(35.0, 78.0), st.floats(-5.0, 30.0), st.floats(1.0, 10.0), st.floats(0.0, 0.1))
def test_heat_is_kept(mash: float, grain: float, liquor_to_grist: float, moisture: float) -> None:
    strike = heat.strike_temperature(mash, grain, liquor_to_grist, moisture)
    assert liquor_to_grist * (strike - mash) == pytest.approx(heat.heat_capacity_ratio(moisture) * (mash - grain))


def test_undefined() -> None:
    with pytest.raises(ValueError, match="needs liquor"):
        heat.strike_temperature(67.0, 20.0, 0.0, 0.04)


def test_infusions_of_the_textbook() -> None:
    """J. Palmer, How to Brew, ch. 16, worked example (from memory; the sums are the book's formula by hand): 8 lb of grain in 8 qt
    at 104 degF are brought to 140 degF by 4.9 qt at 210 degF, then to 158 degF by 5.0 qt. Its 0.2 is c = 0.417."""
    pound, quart = 0.45359237, 0.946352946
    grain, liquor = 8 * pound, 8 * quart
    for before, after, quarts in ((104.0, 140.0, 4.9), (140.0, 158.0, 5.0)):
        heat_of_mash = heat.mash_heat(grain, liquor, 0.07)
        cold, warm, hot = ((f - 32) / 1.8 for f in (before, after, 210.0))
        assert heat.after_infusion(cold, heat_of_mash, quarts * quart, hot) == pytest.approx(warm, abs=0.2)
        liquor += quarts * quart


def test_infusion_by_hand() -> None:
    """5 kg of grist, c 0.40, in 15 kg: 17 kg. With 4 kg at 96 degC: (17 * 52 + 4 * 96)/21 = 60.38 degC."""
    litres = 1.0 / 0.998203
    mash = heat.mash_heat(5.0, 15.0 * litres, 0.04)
    assert mash == pytest.approx(17.0, abs=1e-5)
    assert heat.after_infusion(52.0, mash, 4.0 * litres, 96.0) == pytest.approx(60.381, abs=0.001)


@given(st.floats(35.0, 70.0), st.floats(0.0, 8.0), st.floats(1.0, 5.0))
def test_an_infusion_with_the_strike_is_one_strike(mash: float, infusion: float, liquor_to_grist: float) -> None:
    """Two liquors of one heat, in turn: the grain ends where one strike of both together brings it."""
    at_once = heat.strike_temperature(mash, 18.0, liquor_to_grist + infusion, 0.04)
    litre = 1.0 / 0.998203
    first = (0.40 * 18.0 + liquor_to_grist * at_once) / (0.40 + liquor_to_grist)
    in_turn = heat.after_infusion(first, heat.mash_heat(1.0, liquor_to_grist * litre, 0.04), infusion * litre, at_once)
    assert in_turn == pytest.approx(mash, abs=1e-4)


def test_decoctions_by_hand() -> None:
    """A third of a mash at 50 degC, boiled: (2 * 50 + 100)/3 = 66.67 degC. 5 kg in 15 L take 18.35 L."""
    assert heat.after_decoction(50.0, 1 / 3) == pytest.approx(200 / 3)
    assert heat.mash_volume(5.0, 15.0) == pytest.approx(18.35)
    assert heat.after_decoction(50.0, 0.0) == 50.0


def test_a_jug_of_mash() -> None:
    """Half a kg at 50 degC and 0.2 kg at 85: (25 + 17)/0.7 = 60 degC."""
    assert heat.after_infusion(50.0, 0.5, 0.2 / 0.998203, 85.0) == pytest.approx(60.0, abs=1e-5)


def test_no_mash_and_more_than_the_mash() -> None:
    with pytest.raises(ValueError, match="no mash"):
        heat.after_infusion(52.0, 0.0, 0.0, 96.0)
    with pytest.raises(ValueError, match="part of the mash"):
        heat.after_decoction(52.0, 1.1)

"""Colour and bitterness."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from journal.science import colour, hops

OUNCE, GALLON = 0.028349523125, 3.785411784  # kg, L

GRAVITIES = (1.030, 1.040, 1.050, 1.060, 1.070, 1.080, 1.100, 1.120)
# G. Tinseth's table (1997), minutes down, gravities across.
TINSETH = {
    5: (0.055, 0.050, 0.046, 0.042, 0.038, 0.035, 0.029, 0.025),
    15: (0.137, 0.125, 0.114, 0.105, 0.096, 0.087, 0.073, 0.061),
    30: (0.212, 0.194, 0.177, 0.162, 0.148, 0.135, 0.113, 0.094),
    60: (0.276, 0.252, 0.231, 0.211, 0.193, 0.176, 0.147, 0.123),
    90: (0.295, 0.270, 0.247, 0.226, 0.206, 0.188, 0.157, 0.132),
}


@pytest.mark.parametrize("minutes", TINSETH)
def test_utilisation(minutes: int) -> None:
    found = [hops.tinseth_utilisation(gravity, minutes) for gravity in GRAVITIES]
    assert found == pytest.approx(TINSETH[minutes], abs=0.0005)


def test_bitterness_worked_example() -> None:
    """J. Palmer, How to Brew, ch. 5: 1.5 oz of 6.4 % for 60 min, 1 oz of 4.6 % for 15 min, 5 gal, boil at 1.080."""
    first = hops.bitterness(1.5 * OUNCE, 0.064, hops.tinseth_utilisation(1.080, 60.0), 5.0 * GALLON)
    second = hops.bitterness(OUNCE, 0.046, hops.tinseth_utilisation(1.080, 15.0), 5.0 * GALLON)
    assert first == pytest.approx(25.3, abs=0.1)
    assert second == pytest.approx(6.0, abs=0.05)
    assert first + second == pytest.approx(31.4, abs=0.1)


@given(st.floats(1.0, 1.15), st.floats(0.0, 150.0))
def test_longer_in_thinner_wort_is_bitterer(gravity: float, minutes: float) -> None:
    found = hops.tinseth_utilisation(gravity, minutes)
    assert hops.tinseth_utilisation(gravity, minutes + 1.0) > found
    assert hops.tinseth_utilisation(gravity + 0.01, minutes) <= found


def test_no_hops_no_boil_no_bitterness() -> None:
    assert hops.bitterness(0.0, 0.05, 0.2, 20.0) == 0.0
    assert hops.tinseth_utilisation(1.050, 0.0) == 0.0


@pytest.mark.parametrize(
    ("mcu", "srm"),
    [(1.0, 1.492), (5.0, 4.500), (10.0, 7.240), (15.6, 9.822), (20.0, 11.647), (30.0, 15.381), (50.0, 21.835)],
)
def test_morey(mcu: float, srm: float) -> None:
    """D. A. Morey's equation (1995), reckoned apart from this package."""
    assert colour.morey(mcu) == pytest.approx(srm, abs=0.001)


def test_malt_colour_units_by_pounds_and_gallons() -> None:
    """Definition: 10 lb of 3 degL in 5 US gal is 6."""
    assert colour.malt_colour_units(10.0 * 0.45359237 * 3.0, 5.0 * GALLON) == pytest.approx(6.0, rel=1e-12)


def test_a_jug_counts_as_a_kettle_does() -> None:
    """By the definitions, for a US quart: a pound of 1 degL is 4 units; an ounce in a gallon is 7489 mg/L."""
    quart = GALLON / 4.0
    assert colour.malt_colour_units(0.45359237, quart) == pytest.approx(4.0, rel=1e-12)
    assert hops.bitterness(OUNCE, 0.05, 0.2, quart) == pytest.approx(7489.0 * 0.05 * 0.2 * 4.0, abs=0.01)


def test_beer_colour() -> None:
    """20 malt colour units are 22.94 EBC; 25/12.7 of the SRM by the definitions of both scales."""
    weighted = 20.0 * 20.0 / 8.34540445
    assert colour.beer_colour(weighted, 20.0) == pytest.approx(22.94, abs=0.01)
    assert colour.ebc_from_srm(1.0) == pytest.approx(25.0 / 12.7, rel=0.001)


@given(st.floats(0.0, 200.0), st.floats(0.01, 10.0))
def test_more_malt_is_darker(mcu: float, more: float) -> None:
    assert colour.morey(mcu + more) > colour.morey(mcu)


def test_undefined() -> None:
    with pytest.raises(ValueError, match="volume above 0"):
        colour.malt_colour_units(10.0, 0.0)
    with pytest.raises(ValueError, match="below 0"):
        colour.morey(-0.1)
    with pytest.raises(ValueError, match="volume above 0"):
        hops.bitterness(0.03, 0.05, 0.2, 0.0)


def test_beer_kept_by_dry_hops() -> None:
    """Totally Natural Solutions (2019), quoted in the trade press: 250 g/hL of pellets kept 2 %, 2000 g/hL 14 %; brewers' rule of a US
    gallon to the pound is 8.35 L/kg."""
    for grams, litres in ((250.0, 2.0), (2000.0, 14.0), (1000 * OUNCE * 16, GALLON)):
        assert hops.beer_kept(grams / 1000.0) == pytest.approx(litres, abs=1.3 * hops.BEER_KEPT_SD * grams / 1000.0)

"""Carbon dioxide in beer against published solubilities, molar masses, and the rule for priming case by case."""

import warnings

import numpy as np
import pytest
import reckoning
from hypothesis import given
from hypothesis import strategies as st
from iapws._iapws import _Henry

from journal.science import carbonation as gas

# Atomic masses, g/mol (IUPAC, abridged).
C, H, O = 12.011, 1.008, 15.999  # noqa: E741
CO2 = C + 2 * O


@pytest.mark.parametrize("temperature", [2.0, 5.0, 10.0, 15.0, 20.0, 25.0, 30.0, 38.0])
def test_water_by_another_fit_of_the_literature(temperature: float) -> None:
    """Carroll, Slupsky & Mather (1991), fitted to a hundred papers: within 3 % of Weiss (1974)."""
    assert gas.in_water(temperature) == pytest.approx(float(reckoning.carbon_dioxide(temperature)), rel=0.03)


@pytest.mark.parametrize("temperature", [5.0, 12.0, 20.0, 25.0, 30.0, 40.0])
def test_water_by_the_guideline_of_iapws(temperature: float) -> None:
    """IAPWS G7-04, Henry's constant for carbon dioxide by mole fraction, from a library: it lies lower by up to 4 %."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        fraction = 0.1 / _Henry(temperature + 273.15, "CO2")
    held = fraction / (1 - fraction) * 1000 * float(reckoning.water(temperature)) / (2 * H + O) * CO2
    assert gas.in_water(temperature) == pytest.approx(held, rel=0.04)


def test_water_at_25_degrees_as_measured() -> None:
    """Shedlovsky & MacInnes (1935) in the IUPAC-NIST Solubility Database: 0.03372 mol/L at 1 atm, to 0.5 %."""
    assert gas.in_water(25.0) * 1.01325 / CO2 == pytest.approx(0.03372, rel=0.01)


def test_lager_at_6_degrees() -> None:
    """Liger-Belair & Cilindre, ACS Omega 6 (2021) 9672, table 1: about 2.4 g/L at 1 bar."""
    assert gas.residual(6.0) == pytest.approx(2.4, rel=0.04)


@pytest.mark.parametrize(
    ("sugar", "molecule", "gases"),
    [
        ("glucose", 6 * C + 12 * H + 6 * O, 2),
        ("dextrose", 6 * C + 12 * H + 6 * O + 2 * H + O, 2),
        ("sucrose", 12 * C + 22 * H + 11 * O, 4),
    ],
)
def test_sugars_by_their_molecules(sugar: str, molecule: float, gases: int) -> None:
    """C6H12O6 to 2 C2H5OH and 2 CO2; sucrose takes up a water first and gives twice that."""
    assert gas.SUGARS[sugar] == pytest.approx(gases * CO2 / molecule, rel=1e-4)


def test_priming_by_hand() -> None:
    """20 L from 1.70 to 4.70 g/L: 60 g of gas; 60/44.009/4 mol of sucrose of 342.30 g are 116.7 g, of glucose 122.8 g."""
    for sugar, grams in (("sucrose", 116.7), ("glucose", 122.8), ("dextrose", 135.1)):
        kilograms = gas.priming(4.70, 1.70, 20.0, sugar)
        assert 1000 * kilograms == pytest.approx(grams, abs=0.1)
        assert gas.from_sugar(kilograms, 20.0, sugar) == pytest.approx(3.0, rel=1e-12)


def test_balling_gives_a_little_less_gas_than_stoichiometry() -> None:
    """Balling: 0.9565 g of gas from 2.0665 g of extract, for yeast grows; in a bottle hardly any does."""
    assert 0.9565 / 2.0665 < gas.SUGARS["glucose"] < 1.1 * 0.9565 / 2.0665


@given(st.floats(-1.0, 38.0), st.floats(0.1, 2.0))
def test_the_warmer_the_less(temperature: float, warmer: float) -> None:
    assert gas.in_water(temperature + warmer) < gas.in_water(temperature)


@pytest.mark.parametrize("temperature", [-1.0, 40.0])
def test_both_ends_of_the_measurements_are_known(temperature: float) -> None:
    """R. F. Weiss (1974) fitted measurements from -1 to 40 degC; Carroll et al. (1991) begin at 0."""
    assert gas.in_water(temperature) == pytest.approx(float(reckoning.carbon_dioxide(temperature)), rel=0.03)


@pytest.mark.parametrize("temperature", [-1.001, 40.001, 150.0])
def test_nothing_is_said_of_other_temperatures(temperature: float) -> None:
    with pytest.raises(ValueError, match="solubility"):
        gas.in_water(temperature)


STILL = [(8.0, 1.014, 0.001), (12.0, 1.010, 0.001), (15.0, 1.010, 0.001)]


@pytest.mark.parametrize(
    ("readings", "container", "reason"),
    [
        (STILL, "bottles", None),
        (STILL[::-1], "cask", None),
        ([(12.0, 1.011, 0.001), (15.0, 1.010, 0.001)], "bottles", None),
        (STILL, None, "goes into"),
        ([], "bottles", "no two readings"),
        (STILL[:1], "bottles", "no two readings"),
        ([(12.0, 1.010, 0.001), (14.9, 1.010, 0.001)], "bottles", "no two readings"),
        # 2 points are more than two readings of 1 are uncertain by
        ([(12.0, 1.012, 0.001), (15.0, 1.010, 0.001)], "bottles", "has changed"),
        ([(12.0, 1.010, 0.001), (13.0, 1.013, 0.001), (15.0, 1.010, 0.001)], "bottles", "has changed"),
        # it fell a week ago, and has stood since
        ([(5.0, 1.020, 0.001), (12.0, 1.010, 0.001), (15.0, 1.010, 0.001)], "keg", None),
        # slower than any three days show
        ([(1.0, 1.013, 0.001), (11.0, 1.0115, 0.001), (13.0, 1.011, 0.001), (15.0, 1.0105, 0.001)], "bottles", None),
        # it stood for days, and has begun to fall again
        ([(8.0, 1.012, 0.001), (12.0, 1.012, 0.001), (15.0, 1.009, 0.001)], "bottles", "has changed"),
        ([(12.0, 1.0125, 0.004), (15.0, 1.010, 0.004)], "bottles", "has changed"),
        # what counts is how sure the two readings are that lie three days apart, not an earlier one
        ([(3.0, 1.01, 0.001), (5.0, 1.01, 0.004), (12.0, 1.01, 0.001), (15.0, 1.01, 0.001)], "bottles", None),
        ([(3.0, 1.01, 1e-3), (5.0, 1.01, 1e-3), (12.0, 1.01, 4e-3), (15.0, 1.01, 1e-3)], "bottles", "too uncertain"),
        ([(12.0, 1.010, 0.004), (15.0, 1.010, 0.004)], "bottles", "too uncertain"),
    ],
)
def test_when_a_beer_may_be_primed(readings: list[gas.Reading], container: str | None, reason: str | None) -> None:
    found = gas.may_prime(readings, container)
    assert found is None if reason is None else reason in (found or "")


@given(st.lists(st.tuples(st.floats(0, 30), st.floats(0.99, 1.06), st.floats(1e-4, 5e-3)), max_size=6))
def test_a_beer_that_may_be_primed_has_not_lost_2_points_in_its_last_three_days(readings: list[gas.Reading]) -> None:
    """2 points of gravity are about half a volume of gas."""
    if gas.may_prime(readings, "bottles") is None:
        days, gravities = np.array([r[0] for r in readings]), np.array([r[1] for r in readings])
        late = gravities[days >= days.max() - 3.0]
        assert abs(late - gravities[np.lexsort((gravities, days))[-1]]).max() <= 0.0021 + 1e-9 or len(late) == 1

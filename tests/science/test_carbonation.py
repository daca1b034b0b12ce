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
        ("fructose", 6 * C + 12 * H + 6 * O, 2),
        ("maltose", 12 * C + 22 * H + 11 * O + 2 * H + O, 4),
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


@pytest.mark.parametrize(
    ("sugar", "sucrose", "simple"),
    [
        # parts of the weight: R. H. Matthews & al., Sugar Content of Selected Foods (USDA, 1987), from memory, to 5 %
        ("honey", 0.01, 0.78),
        ("brown sugar", 0.945, 0.025),
        ("maple syrup", 0.58, 0.02),
    ],
)
def test_sugars_as_sold_by_what_they_hold(sugar: str, sucrose: float, simple: float) -> None:
    by_hand = sucrose * 4 * 44.009 / 342.30 + simple * 2 * 44.009 / 180.16
    assert gas.SUGARS[sugar] == pytest.approx(by_hand, rel=0.05)
    assert gas.SUGARS_DIFFER[sugar] > 0


def test_malt_extract_gives_a_little_less_than_two_thirds_of_sugar() -> None:
    """Brewers take half as much again of dry malt extract as of sugar, or somewhat more (common practice)."""
    assert 1.5 <= gas.SUGARS["sucrose"] / gas.SUGARS["malt extract, dry"] <= 1.75


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
        (
            [(12.0, 1.012, 0.001), (15.0, 1.010, 0.001)],
            "bottles",
            "three days: 1.012 was read 3 days before the last, 1.010",
        ),
        ([(12.0, 1.010, 0.001), (13.0, 1.013, 0.001), (15.0, 1.010, 0.001)], "bottles", "1.013 was read 2 days"),
        # it fell a week ago, and has stood since
        ([(5.0, 1.020, 0.001), (12.0, 1.010, 0.001), (15.0, 1.010, 0.001)], "keg", None),
        # slower than any three days show
        ([(1.0, 1.013, 0.001), (11.0, 1.0115, 0.001), (13.0, 1.011, 0.001), (15.0, 1.0105, 0.001)], "bottles", None),
        # it stood for days, and has begun to fall again
        ([(8.0, 1.012, 0.001), (12.0, 1.012, 0.001), (15.0, 1.009, 0.001)], "bottles", "1.012 was read 3 days"),
        ([(12.0, 1.0125, 0.004), (15.0, 1.010, 0.004)], "bottles", "stood level"),
        # what counts is how sure the two readings are that lie three days apart, not an earlier one
        ([(3.0, 1.01, 0.001), (5.0, 1.01, 0.004), (12.0, 1.01, 0.001), (15.0, 1.01, 0.001)], "bottles", None),
        ([(3.0, 1.01, 1e-3), (5.0, 1.01, 1e-3), (12.0, 1.01, 4e-3), (15.0, 1.01, 1e-3)], "bottles", "too uncertain"),
        ([(12.0, 1.010, 0.004), (15.0, 1.010, 0.004)], "bottles", "too uncertain"),
    ],
)
def test_when_a_beer_may_be_primed(readings: list[gas.GravityAt], container: str | None, reason: str | None) -> None:
    found = gas.may_prime(readings, container)
    assert found is None if reason is None else reason in (found or "")


@st.composite
def nearly_done(draw: st.DrawFn) -> list[gas.GravityAt]:
    """Readings of a beer at its end or not far from it, by hydrometers of all kinds."""
    end, sd = draw(st.floats(0.998, 1.030)), draw(st.floats(1e-4, 1.5e-3))
    days = draw(st.lists(st.floats(0, 12), min_size=2, max_size=6))
    off = st.one_of(st.floats(-1e-3, 1e-3), st.floats(-4e-3, 4e-3))
    return [(day, end + draw(off), sd) for day in days]


@st.composite
def nearly_still(draw: st.DrawFn) -> list[gas.GravityAt]:
    """Readings of a beer that mostly may be primed: days apart, and about a point from one another."""
    end, sd = draw(st.floats(0.998, 1.030)), draw(st.floats(1e-4, 1e-3))
    days = [0.0, draw(st.floats(3.0, 12.0)), *draw(st.lists(st.floats(0, 12), max_size=3))]
    return [(day, end + draw(st.floats(-1.1e-3, 1.1e-3)), sd) for day in days]


@given(st.one_of(nearly_done(), nearly_still(), nearly_still()))
def test_a_beer_that_may_be_primed_has_not_lost_2_points_in_its_last_three_days(readings: list[gas.GravityAt]) -> None:
    """2 points of gravity are about half a volume of gas."""
    if gas.may_prime(readings, "bottles") is None:
        days, gravities = np.array([r[0] for r in readings]), np.array([r[1] for r in readings])
        late = gravities[days >= days.max() - 3.0]
        assert len(late) >= 1
        assert days.max() - days.min() >= 3.0 - 1e-4
        assert abs(late - gravities[np.lexsort((gravities, days))[-1]]).max() <= 0.0021 + 1e-9


@given(nearly_done())
def test_a_beer_that_fell_by_3_points_in_its_last_three_days_is_never_primed(readings: list[gas.GravityAt]) -> None:
    """The other way round: the last reading, and one three days before it that lay 3 points higher, speak against sugar."""
    day, gravity, sd = max(readings)
    fell = [*readings, (day - 3.0, gravity + 0.003, min(sd, 7e-4))]
    assert gas.may_prime(fell, "bottles") is not None


#: Volumes of gas in beer by gauge pressure, psi, and temperature, degF: the table brewers use, as printed with D. Miller's article in
#: BrewingTechniques 2(1) (1994), table I. 32 and 41 degF are 0 and 5 degC; 47 degF is 8.3 degC, the warmest row that could be read.
TABLE = {
    32: {1: 1.75, 5: 2.15, 10: 2.70, 15: 3.21},
    41: {5: 1.79, 10: 2.25, 12: 2.43, 15: 2.70, 20: 3.14},
    47: {5: 1.59, 10: 2.00, 12: 2.18, 15: 2.42, 20: 2.84},
}
PSI = 0.0689476  # bar
VOLUME = 44.0095 / 22.263  # g/L in one volume at 0 degC and 1 atm: molar mass over the gas's molar volume


@pytest.mark.parametrize(("degf", "psi"), [(degf, psi) for degf, row in TABLE.items() for psi in row])
def test_the_table_of_the_trade(degf: int, psi: int) -> None:
    """Within the 4 % that are promised; a lager measured at 6 degC lies on the other side."""
    temperature = (degf - 32) / 1.8
    printed = TABLE[degf][psi] * VOLUME
    assert gas.from_pressure(psi * PSI, temperature) == pytest.approx(printed, rel=0.04)
    assert gas.pressure_for(printed, temperature) == pytest.approx(psi * PSI, abs=0.04 * (psi * PSI + 1.013) + 1e-9)


def test_pressure_by_hand() -> None:
    """At no gauge pressure beer holds 1.01325 times what it holds under 1 bar; with a quarter of nitrogen three quarters of it."""
    assert gas.from_pressure(0.0, 20.0) == pytest.approx(1.01325 * gas.residual(20.0))
    assert gas.from_pressure(1.5, 5.0, 0.75) == pytest.approx(0.75 * gas.from_pressure(1.5, 5.0))
    assert gas.pressure_for(0.0, 5.0) == pytest.approx(-1.01325)
    assert gas.from_pressure(2.0, 5.0, 0.0) == gas.from_pressure(-1.01325, 5.0) == 0.0


@given(st.floats(-1.0, 5.0), st.floats(-1.0, 40.0), st.floats(0.05, 1.0))
def test_pressure_and_back(gauge: float, temperature: float, share: float) -> None:
    held = gas.from_pressure(gauge, temperature, share)
    assert gas.pressure_for(held, temperature, share) == pytest.approx(gauge, abs=1e-9)


def test_gases_that_are_none() -> None:
    for gauge, share, word in ((-1.1, 1.0, "no gas"), (1.0, 1.1, "share"), (1.0, -0.1, "share")):
        with pytest.raises(ValueError, match=word):
            gas.from_pressure(gauge, 5.0, share)
    with pytest.raises(ValueError, match="carbonates nothing"):
        gas.pressure_for(5.0, 5.0, 0.0)


def test_spunding_by_hand() -> None:
    """Wort of 12 degP from 3.5 to 2.5 apparent: by the straight line 0.8192 degP of real extract, 8.27 g to a litre of 1.0099
    kg, which give 0.46286 of gas: 3.83 g/L. Tabarié's principle makes the real extract fall by 1 % less."""
    assert gas.from_spunding(12.0, 3.5, 2.5) == pytest.approx(3.83, rel=0.015)
    assert gas.from_spunding(12.0, 2.5, 2.5) == 0.0


def test_two_points_are_half_a_volume() -> None:
    """Common practice: 2 points of gravity, 0.5 degP, give about half a volume, 1 g/L or a little more of undiluted gas."""
    closed, final = (float(reckoning.plato(sg)) for sg in (1.012, 1.010))
    assert gas.from_spunding(12.0, closed, final) / VOLUME == pytest.approx(1.0, abs=0.06)


@pytest.mark.parametrize("pitched", [0.0, 1 / 3, 17.5 / 24 + 31 / 1440, 0.7])
def test_three_days_to_the_minute_are_three_days(pitched: float) -> None:
    """The last bit of a difference of days, counted from whenever the yeast went in, decides nothing."""
    first = 7.0 + 20 / 24 - pitched
    assert gas.may_prime([(first, 1.010, 0.0005), (first + 3.0 - 1e-12, 1.010, 0.0005)], "bottles") is None
    assert gas.may_prime([(first, 1.010, 0.0005), (first + 3.0 - 2e-3, 1.010, 0.0005)], "bottles") is not None

"""Strength, density and gravity of wort against handbook tables."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from journal.science import water, wort

# CRC Handbook of Chemistry and Physics, aqueous sucrose at 20 degC: % by mass, kg/m3 (printed to 0.1).
CRC_DENSITY = {
    0: 998.2, 1: 1002.1, 2: 1006.0, 3: 1009.9, 4: 1013.9, 5: 1017.8, 6: 1021.8, 7: 1025.9, 8: 1029.9, 9: 1034.0,
    10: 1038.1, 11: 1042.3, 12: 1046.5, 13: 1050.7, 14: 1054.9, 15: 1059.2, 16: 1063.5, 17: 1067.8, 18: 1072.2,
    19: 1076.6, 20: 1081.0, 22: 1089.9, 24: 1099.0, 26: 1108.2, 28: 1117.5, 30: 1127.0, 32: 1136.6, 34: 1146.4,
    36: 1156.2, 40: 1176.5,
}  # fmt: skip
# The same table, stronger: sugar syrups, and more than wort ever is.
CRC_SYRUPS = {
    42: 1186.8, 44: 1197.2, 46: 1207.9, 48: 1218.6, 50: 1229.5, 52: 1240.6, 54: 1251.8, 56: 1263.2, 58: 1274.7,
    60: 1286.4,
}  # fmt: skip
# The same table: % by mass, grams of sucrose in a litre.
CRC_GRAMS_PER_LITRE = {10: 103.8, 12: 125.6, 15: 158.9, 20: 216.2}
AIR = 1.2  # kg/m3


@pytest.mark.parametrize("plato", CRC_DENSITY)
def test_density(plato: int) -> None:
    assert wort.density(plato) * 1000.0 == pytest.approx(CRC_DENSITY[plato], abs=0.1)


@pytest.mark.parametrize("plato", CRC_GRAMS_PER_LITRE)
def test_extract(plato: int) -> None:
    assert wort.extract(1.0, plato) * 1000.0 == pytest.approx(CRC_GRAMS_PER_LITRE[plato], abs=0.1)


@pytest.mark.parametrize(
    ("plato", "temperature", "expected"),
    [(12, 60, 1030.018), (12, 80, 1018.285), (12, 100, 1004.666), (20, 60, 1063.584), (10, 15.5556, 1039.147)],
)
def test_density_off_20(plato: float, temperature: float, expected: float) -> None:
    """ICUMSA SPS-4, reckoned apart from this package."""
    assert wort.density(plato, temperature) * 1000.0 == pytest.approx(expected, abs=0.01)


@pytest.mark.parametrize("plato", CRC_SYRUPS)
def test_density_of_syrups(plato: int) -> None:
    """The handbook rests on older measurements than SPS-4: the two part by up to 0.21 kg/m3 at 60 %, or 0.02 %."""
    assert wort.density(plato) * 1000.0 == pytest.approx(CRC_SYRUPS[plato], abs=0.25)


@pytest.mark.parametrize(
    ("plato", "at_5", "at_40", "at_60", "at_80"),
    [
        (20, 1084.478, 1073.500, 1063.584, 1051.630),
        (40, 1181.805, 1167.521, 1156.709, 1144.276),
        (60, 1293.514, 1276.251, 1264.682, 1251.988),
    ],
)
def test_density_of_syrups_off_20(plato: float, at_5: float, at_40: float, at_60: float, at_80: float) -> None:
    """kg/m3 by the polynomial of Z. Bubník et al., Sugar Technologists Manual (1995), p. 164, which is that of SPS-4.

    Its coefficients were read where others quote them, one of them S. Llano (2005), and summed in exact decimals apart
    from this package. It checks that the high powers are what was published, and not that they are right.
    """
    expected = {5.0: at_5, 40.0: at_40, 60.0: at_60, 80.0: at_80}
    found = {temperature: 1000.0 * wort.density(plato, temperature) for temperature in expected}
    assert found == pytest.approx(expected, abs=0.0006)
    # at 20 degC, too, where the heat plays no part, from 0.001 K beside it
    assert wort.density(plato, 20.001) == pytest.approx(wort.density(plato), abs=1e-6)


@pytest.mark.parametrize(("percent", "at_15"), [(5, 1018.84), (10, 1039.25), (20, 1082.33), (30, 1128.63)])
def test_density_at_15(percent: float, at_15: float) -> None:
    """kg/m3, a table of the physics laboratory of the university of Toruń; it has water by 0.03 heavier than SPS-4 does."""
    assert wort.density(percent, 15.0) * 1000.0 == pytest.approx(at_15, abs=0.1)


@given(st.floats(0.0, 100.0))
def test_wort_without_extract_is_water(temperature: float) -> None:
    assert wort.density(0.0, temperature) == water.density(temperature)


@pytest.mark.parametrize("plato", [plato for plato in CRC_DENSITY if plato <= 30])
def test_plato_against_handbook_density(plato: int) -> None:
    """The ASBC cubic lies within 0.0115 degP of the densities; their last digit is worth another 0.0125."""
    in_air = (CRC_DENSITY[plato] - AIR) / (998.2 - AIR)
    assert wort.plato_from_gravity(in_air) == pytest.approx(plato, abs=0.0115 + 0.0125)


@pytest.mark.parametrize(("plato", "gravity"), [(10.0, 1.04003), (12.0, 1.04837)])
def test_gravity_of_table(plato: float, gravity: float) -> None:
    """The trade's sugar table (ASBC, SG 20/20 in air), from memory, recomputed."""
    assert wort.gravity_from_plato(plato) == pytest.approx(gravity, abs=1e-5)


def test_rule_of_thumb() -> None:
    """Four points a degree, common practice: 0.1 degP high at 12 degP and 0.75 degP high at 20 degP."""
    assert 250.0 * (wort.gravity_from_plato(12.0) - 1.0) - 12.0 == pytest.approx(0.10, abs=0.01)
    assert 250.0 * (wort.gravity_from_plato(20.0) - 1.0) - 20.0 == pytest.approx(0.75, abs=0.01)


@given(st.floats(-5.0, 60.0))
def test_plato_round_trip(plato: float) -> None:
    assert wort.plato_from_gravity(wort.gravity_from_plato(plato)) == pytest.approx(plato, abs=1e-11)


@given(st.floats(0.98, 1.20))
def test_gravity_round_trip(gravity: float) -> None:
    assert wort.gravity_from_plato(wort.plato_from_gravity(gravity)) == pytest.approx(gravity, abs=1e-13)


@given(st.floats(-5.0, 40.0), st.floats(0.01, 1.0), st.floats(0.0, 80.0))
def test_stronger_wort_is_heavier(plato: float, more: float, temperature: float) -> None:
    assert wort.density(plato + more, temperature) > wort.density(plato, temperature)
    assert wort.gravity_from_plato(plato + more) > wort.gravity_from_plato(plato)


@pytest.mark.parametrize("plato", [0.0, 12.0, 40.0])
def test_hot_wort_is_lighter_by_every_tenth_of_a_degree(plato: float) -> None:
    """Water is densest at 3.98 degC, and sucrose in it expands, too."""
    densities = [wort.density(plato, tenths / 10.0) for tenths in range(50, 1001)]
    assert all(hotter < cooler for cooler, hotter in pairwise(densities))


@pytest.mark.parametrize(("plato", "worst"), [(10.0, 0.0006), (20.0, 0.0011)])
def test_water_serves_for_hot_volumes(plato: float, worst: float) -> None:
    """What `water.volume_at_20` promises of wort."""
    for temperature in range(20, 101):
        ratio = wort.density(plato, temperature) / wort.density(plato)
        assert abs(ratio - water.volume_at_20(1.0, temperature)) < worst


def test_brewhouse_yield_worked_example() -> None:
    """A course page's example of the brewhouse yield on malt: 100 L at 20 degC of 14.5 degP, 1.05703, from 22.53961 kg.

    It prints 68 %; and 65.28 % where the 100 L are hot and 0.96 stands for cooling.
    """
    by_hand = 100.0 * 1.05703 * 14.5 / 22.53961
    assert by_hand == pytest.approx(68.0, abs=0.005)
    assert 100.0 * wort.extract(100.0, 14.5) / 22.53961 == pytest.approx(by_hand, abs=0.01)
    assert 100.0 * wort.extract(96.0, 14.5) / 22.53961 == pytest.approx(65.28, abs=0.01)


def test_mass_carries_extract() -> None:
    assert wort.extract(20.0, 12.0) == pytest.approx(0.12 * wort.mass(20.0, 12.0), rel=1e-12)


def test_brix_to_plato() -> None:
    """Common practice: the refractometer shows the wort factor times the strength."""
    assert wort.brix_to_plato(10.4, 1.04) == pytest.approx(10.0, rel=1e-12)
    # the scale is that of sucrose, so a solution of sucrose reads what it is; some instruments read wort too low
    assert wort.brix_to_plato(10.0, 1.0) == 10.0
    assert wort.brix_to_plato(9.9, 0.99) == pytest.approx(10.0, rel=1e-12)
    with pytest.raises(ValueError, match="wort factor"):
        wort.brix_to_plato(10.4, 0.0)


def test_no_strength_for_no_number() -> None:
    with pytest.raises(ValueError, match="no wort has"):
        wort.gravity_from_plato(float("nan"))


def test_weighed_wort_by_hand() -> None:
    """CRC Handbook: 12 % sucrose is 1.0465 kg/L at 20 degC, so 24.6 kg are 23.51 L; water 24.64 L."""
    assert wort.volume(24.6, 12.0) == pytest.approx(24.6 / 1.0465, abs=0.003)
    assert wort.volume(24.6, 0.0) == pytest.approx(24.644, abs=0.001)
    assert wort.mass(wort.volume(24.6, 17.0), 17.0) == pytest.approx(24.6)

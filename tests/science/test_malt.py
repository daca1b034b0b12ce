"""Malt analysis and its units."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from journal.science import malt, wort


@pytest.mark.parametrize(
    ("plato", "moisture", "as_is", "dry"),
    [(8.5, 0.045, 74.735, 78.257), (8.6, 0.045, 75.697, 79.264), (8.7, 0.050, 76.709, 80.746)],
)
def test_congress_mash(plato: float, moisture: float, as_is: float, dry: float) -> None:
    """EBC 4.5.1, the formula from memory, the rows reckoned by hand."""
    extract = malt.congress_extract(plato, moisture)
    assert 100.0 * extract == pytest.approx(as_is, abs=0.001)
    assert 100.0 * malt.dry_basis(extract, moisture) == pytest.approx(dry, abs=0.001)


def test_congress_mash_by_its_masses() -> None:
    """50 g of malt and 400 g of water (EBC 4.5.1): what dissolves gives the wort its strength."""
    extract = malt.congress_extract(8.6, 0.045)
    dissolved = 50.0 * extract
    assert 100.0 * dissolved / (dissolved + 400.0 + 50.0 * 0.045) == pytest.approx(8.6, rel=1e-12)


def test_litre_degrees() -> None:
    """Oxford Companion to Beer: 500 L at 1.056 from 100 kg is 280; 1 point·gal/lb is 8.3454 (textbook)."""
    extract = wort.extract(500.0, wort.plato_from_gravity(1.056)) / 100.0
    assert malt.litre_degrees_per_kilogram(extract) == pytest.approx(280.0, rel=0.005)
    assert malt.points_per_pound_gallon(8.3454) == pytest.approx(1.0, abs=1e-5)


@pytest.mark.parametrize("plato", [5.0, 10.0, 12.0, 15.0, 20.0])
def test_litre_degrees_of_sucrose_at_any_strength(plato: float) -> None:
    """1 kg of sucrose made up to strength; the constant is that of 10 degP and within 0.5 % elsewhere."""
    litres = 1.0 / wort.extract(1.0, plato)
    tolerance = 1e-4 if plato == 10.0 else 0.005
    degrees = 1000.0 * (wort.density(plato) - wort.density(0.0)) / (wort.density(0.0) - 0.0012)
    assert malt.litre_degrees_per_kilogram(1.0) == pytest.approx(litres * degrees, rel=tolerance)


def test_pound_of_sugar() -> None:
    """Common practice: a pound of sugar in a gallon gives 46 points."""
    assert malt.points_per_pound_gallon(malt.litre_degrees_per_kilogram(1.0)) == pytest.approx(46.2, abs=0.05)


@pytest.mark.parametrize(("lintner", "wk"), [(100.0, 334.0), (40.0, 124.0), (30.0, 89.0), (76.0, 250.0)])
def test_diastatic_power(lintner: float, wk: float) -> None:
    """Oxford Companion to Beer."""
    assert malt.wk_from_lintner(lintner) == pytest.approx(wk, abs=1e-9)
    assert malt.lintner_from_wk(wk) == pytest.approx(lintner, abs=1e-9)


def test_diastatic_power_is_never_negative() -> None:
    assert malt.wk_from_lintner(0.0) == 0.0


@pytest.mark.parametrize(("ebc", "lovibond"), [(1.45, 1.0), (25.3, 10.0), (157.8, 60.0), (1323.8, 500.0)])
def test_malt_colour(ebc: float, lovibond: float) -> None:
    """Common practice: EBC = 2.65 degL - 1.2."""
    assert malt.lovibond_from_ebc(ebc) == pytest.approx(lovibond, abs=1e-9)
    assert malt.ebc_from_lovibond(lovibond) == pytest.approx(ebc, abs=1e-9)


@given(st.floats(-0.1, 1.2), st.floats(-0.02, 0.5))
def test_basis_round_trip(share: float, moisture: float) -> None:
    assert malt.as_is(malt.dry_basis(share, moisture), moisture) == pytest.approx(share, abs=1e-12)


@given(st.floats(5.0, 200.0))
def test_diastatic_power_round_trip(lintner: float) -> None:
    assert malt.lintner_from_wk(malt.wk_from_lintner(lintner)) == pytest.approx(lintner, rel=1e-12)


@given(st.floats(0.0, 2000.0))
def test_colour_round_trip(ebc: float) -> None:
    assert malt.ebc_from_lovibond(malt.lovibond_from_ebc(ebc)) == pytest.approx(ebc, abs=1e-9)


def test_undefined() -> None:
    with pytest.raises(ValueError, match="100 degP"):
        malt.congress_extract(100.0, 0.04)
    with pytest.raises(ValueError, match="no dry matter"):
        malt.dry_basis(0.8, 1.0)

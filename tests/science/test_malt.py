"""Malt analysis and its units."""

import pytest

from journal.science import malt


@pytest.mark.parametrize(
    ("moisture", "as_is", "dry"), [(0.045, 74.735, 78.257), (0.045, 75.697, 79.264), (0.050, 76.709, 80.746)]
)
def test_extract_as_is(moisture: float, as_is: float, dry: float) -> None:
    """Congress mashes by EBC 4.5.1, the formula from memory, the rows reckoned by hand."""
    assert 100.0 * malt.as_is(dry / 100.0, moisture) == pytest.approx(as_is, abs=0.001)


@pytest.mark.parametrize(("lintner", "wk"), [(100.0, 334.0), (40.0, 124.0), (30.0, 89.0), (76.0, 250.0)])
def test_diastatic_power(lintner: float, wk: float) -> None:
    """Oxford Companion to Beer."""
    assert malt.lintner_from_wk(wk) == pytest.approx(lintner, abs=1e-9)


@pytest.mark.parametrize(("ebc", "lovibond"), [(1.45, 1.0), (25.3, 10.0), (157.8, 60.0), (1323.8, 500.0)])
def test_malt_colour(ebc: float, lovibond: float) -> None:
    """Common practice: EBC = 2.65 degL - 1.2."""
    assert malt.lovibond_from_ebc(ebc) == pytest.approx(lovibond, abs=1e-9)

"""Strike temperatures of the textbooks, and what the tun takes up."""

from __future__ import annotations

import pytest

from journal.history.plan import find_strike

#: kg of water in a litre at 20 °C (IAPWS-95).
WATER = 0.998207


@pytest.mark.parametrize(
    ("ratio", "moisture", "wanted"), [(3.0, 0.04, 73.27), (2.5, 0.04, 74.52), (3.0, 0.0, 72.95), (3.0, 0.08, 73.58)]
)
def test_textbook_cases(ratio: float, moisture: float, wanted: float) -> None:
    """A mash at 67 °C of grain at 20 °C: c = 0.40 (Lewis & Young, from memory), 0.38 and 0.42 (Brewing Room Book)."""
    found = find_strike(67.0, 5.0, 5.0 * ratio / WATER, moisture, 20.0)
    assert found.temperature == pytest.approx(wanted, abs=0.006)


def test_grain_that_nobody_measured_is_at_18_degrees_and_less_sure() -> None:
    measured, assumed = find_strike(67.0, 5.0, 15.0, 0.04, 18.0), find_strike(67.0, 5.0, 15.0, 0.04)
    assert assumed.temperature == measured.temperature
    assert assumed.sd > measured.sd
    # a thermometer of 0.5 K is in it, and nothing makes it worse than 2 K
    assert 0.5 < measured.sd < assumed.sd < 2.0


def test_thick_mashes_and_cold_grain_want_hotter_liquor() -> None:
    usual = find_strike(67.0, 5.0, 15.0, 0.04, 18.0).temperature
    assert find_strike(67.0, 6.0, 15.0, 0.04, 18.0).temperature > usual
    assert find_strike(67.0, 5.0, 15.0, 0.04, 5.0).temperature > usual

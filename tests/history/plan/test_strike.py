"""Strike temperatures of the textbooks, and what the tun takes up."""

from __future__ import annotations

import pytest

from journal.history.plan import strike

#: kg of water in a litre at 20 °C (IAPWS-95).
WATER = 0.998207


@pytest.mark.parametrize(
    ("ratio", "moisture", "wanted"), [(3.0, 0.04, 73.27), (2.5, 0.04, 74.52), (3.0, 0.0, 72.95), (3.0, 0.08, 73.58)]
)
def test_textbook_cases(ratio: float, moisture: float, wanted: float) -> None:
    """A mash at 67 °C of grain at 20 °C: c = 0.40 (Lewis & Young, from memory), 0.38 and 0.42 (Brewing Room Book)."""
    found = strike(67.0, 5.0, 5.0 * ratio / WATER, moisture, 20.0)
    assert found.temperature == pytest.approx(wanted, abs=0.006)


def test_initial_heat_of_the_textbook() -> None:
    """Pauls & Whites Brewing Room Book (1984/85): 2 % moisture, grist at 27 °C, 2.68 hL at 69 °C to 100 kg: 65.96 °C.

    Its slaking heat of 2.3 K is counted where the tun's is: here a tun that takes up none.
    """
    found = strike(65.96, 100.0, 268.0 / WATER, 0.02, 27.0, tun=0.0)
    assert found.temperature == pytest.approx(69.0, abs=0.01)


def test_a_tun_takes_up_heat() -> None:
    """Heat balance: 15 kg of water and 5 × 0.40 kg worth of grain; a tun worth 1.5 kg of water at 20 °C.

    Slaking warms the mash by 1.5 K, so 65.5 °C is mixed: 15 T = 15 × 65.5 + (2.0 + 1.5) × 45.5, T = 76.117.
    """
    found = strike(67.0, 5.0, 15.0 / WATER, 0.04, 20.0, tun=1.5)
    assert found.temperature == pytest.approx(76.117, abs=0.005)


def test_grain_that_nobody_measured_is_at_18_degrees_and_less_sure() -> None:
    measured, assumed = strike(67.0, 5.0, 15.0, 0.04, 18.0), strike(67.0, 5.0, 15.0, 0.04)
    assert assumed.temperature == measured.temperature
    assert assumed.sd > measured.sd
    # a thermometer of 0.5 K is in it, and nothing makes it worse than 2 K
    assert 0.5 < measured.sd < assumed.sd < 2.0


def test_a_known_tun_makes_it_surer() -> None:
    assert strike(67.0, 5.0, 15.0, 0.04, 18.0, tun=1.5).sd < strike(67.0, 5.0, 15.0, 0.04, 18.0).sd


def test_thick_mashes_and_cold_grain_want_hotter_liquor() -> None:
    usual = strike(67.0, 5.0, 15.0, 0.04, 18.0).temperature
    assert strike(67.0, 6.0, 15.0, 0.04, 18.0).temperature > usual
    assert strike(67.0, 5.0, 15.0, 0.04, 5.0).temperature > usual

"""Water density against the IAPWS-95 equation of state."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from iapws import IAPWS95

from journal.science import water

ATMOSPHERE = 0.101325  # MPa
# Water freezes at 0 degC under 1 atm and boils at 99.97 degC: the ends keep clear of both.
TEMPERATURES = (0.01, 3.98, 10.0, 15.5556, 20.0, 30.0, 40.0, 50.0, 60.0, 65.0, 72.0, 78.0, 90.0, 99.0)


def standard_density(temperature: float) -> float:
    """kg/m3; IAPWS R6-95, through the general-purpose library iapws."""
    return IAPWS95(T=temperature + 273.15, P=ATMOSPHERE).rho


@pytest.mark.parametrize("temperature", TEMPERATURES)
def test_density(temperature: float) -> None:
    assert water.density(temperature) * 1000.0 == pytest.approx(standard_density(temperature), abs=0.01)


@pytest.mark.parametrize("temperature", TEMPERATURES)
def test_volume_ratio(temperature: float) -> None:
    ratio = standard_density(temperature) / standard_density(20.0)
    assert water.volume_at_20(1.0, temperature) == pytest.approx(ratio, abs=1e-5)


def test_boiling_to_cold() -> None:
    """Saturated liquid at 100 degC: the trade's "4 %" (common practice) is 3.99 %."""
    ratio = IAPWS95(T=373.15, x=0.0).rho / standard_density(20.0)
    assert water.volume_at_20(1.0, 100.0) == pytest.approx(ratio, abs=1e-5)
    assert 1.0 - water.volume_at_20(1.0, 100.0) == pytest.approx(0.04, abs=2e-4)


@given(st.floats(0.1, 5000.0), st.floats(-2.0, 105.0))
def test_volume_round_trip(volume: float, temperature: float) -> None:
    assert water.volume_at(water.volume_at_20(volume, temperature), temperature) == pytest.approx(volume, rel=1e-12)


@given(st.floats(5.0, 104.0), st.floats(0.1, 1.0))
def test_hot_water_is_lighter(temperature: float, warmer: float) -> None:
    assert water.density(temperature + warmer) < water.density(temperature)

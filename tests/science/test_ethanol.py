"""Ethanol and water against the alcohol tables."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from journal.science import ethanol

# Mass fraction, kg/m3, % by volume: the polynomial of OIML R 22 (1975) at 20 degC, reckoned apart from this package.
OIML = [
    (0.01, 996.3088, 1.2624),
    (0.02, 994.4859, 2.5201),
    (0.03, 992.7261, 3.7735),
    (0.04, 991.0247, 5.0227),
    (0.05, 989.3779, 6.2679),
    (0.06, 987.7824, 7.5094),
    (0.08, 984.7325, 9.9816),
    (0.10, 981.8478, 12.4404),
]
# % by volume, % by weight, kg/m3: the same.
OIML_BY_VOLUME = [
    (3.0, 2.3825, 993.806),
    (4.0, 3.1811, 992.414),
    (5.0, 3.9818, 991.055),
    (6.0, 4.7846, 989.728),
    (8.0, 6.3960, 987.164),
    (10.0, 8.0149, 984.710),
    (12.0, 9.6410, 982.355),
    (40.0, 33.2996, 948.045),
]
# Perry's Chemical Engineers' Handbook, 7th ed., 20 degC: ethanol, % by mass, kg/L; from 20 % on, from memory.
# Older measurements than OIML's: the pure ethanol of the two differs by 0.0001.
PERRY = {
    0: 0.99823, 1: 0.99636, 2: 0.99453, 3: 0.99275, 4: 0.99103, 5: 0.98938, 6: 0.98780, 7: 0.98627, 8: 0.98478,
    9: 0.98331, 10: 0.98187, 11: 0.98047, 12: 0.97910,
    20: 0.96864, 40: 0.93518, 60: 0.89113, 80: 0.84344,
}  # fmt: skip


@pytest.mark.parametrize(("weight", "density", "volume"), OIML)
def test_by_weight_table(weight: float, density: float, volume: float) -> None:
    assert ethanol.density(weight) * 1000.0 == pytest.approx(density, abs=0.001)
    assert 100.0 * ethanol.by_volume(weight) == pytest.approx(volume, abs=0.0005)


@pytest.mark.parametrize(("volume", "weight", "density"), OIML_BY_VOLUME)
def test_by_volume_table(volume: float, weight: float, density: float) -> None:
    found = ethanol.by_weight(volume / 100.0)
    assert 100.0 * found == pytest.approx(weight, abs=0.0005)
    assert ethanol.density(found) * 1000.0 == pytest.approx(density, abs=0.001)


@pytest.mark.parametrize("percent", PERRY)
def test_handbook(percent: int) -> None:
    assert ethanol.density(percent / 100.0) == pytest.approx(PERRY[percent], abs=0.0001)


def test_pure_ethanol() -> None:
    """OIML R 22: 789.24 kg/m3."""
    assert ethanol.density(1.0) * 1000.0 == pytest.approx(789.24, abs=0.005)
    assert ethanol.by_volume(1.0) == 1.0


@given(st.floats(-0.01, 1.0))
def test_round_trip(volume: float) -> None:
    assert ethanol.by_volume(ethanol.by_weight(volume)) == pytest.approx(volume, abs=1e-12)


@given(st.floats(0.0, 0.99), st.floats(1e-4, 0.01))
def test_more_alcohol_is_lighter_and_more_by_volume(weight: float, more: float) -> None:
    assert ethanol.density(weight + more) < ethanol.density(weight)
    assert ethanol.by_volume(weight + more) > ethanol.by_volume(weight)

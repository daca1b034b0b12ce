"""Where water boils, against tables of the atmosphere and of steam."""

import pytest
from iapws import IAPWS97

from journal.science.boiling import boiling_point, pressure_at


@pytest.mark.parametrize(
    ("height", "hectopascal"),
    # the ICAO standard atmosphere as handbooks print it, from memory
    [(0.0, 1013.25), (500.0, 954.6), (1000.0, 898.7), (2000.0, 795.0), (3000.0, 701.1)],
)
def test_the_standard_atmosphere(height: float, hectopascal: float) -> None:
    assert pressure_at(height) == pytest.approx(hectopascal, abs=0.2)


@pytest.mark.parametrize("height", [0.0, 250.0, 1000.0, 2500.0])
def test_boiling_by_the_steam_tables(height: float) -> None:
    """IAPWS-97 at the same pressure; Antoine's fit is good to 0.1 K here."""
    saturated = IAPWS97(P=pressure_at(height) / 1e4, x=0).T - 273.15
    assert boiling_point(height) == pytest.approx(saturated, abs=0.1)

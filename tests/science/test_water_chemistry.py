"""Residual alkalinity."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from journal.science import water_chemistry


@pytest.mark.parametrize(
    ("calcium", "magnesium", "alkalinity", "residual", "degrees"),
    [
        (50.0, 10.0, 100.0, 58.44, 3.274),
        (100.0, 20.0, 250.0, 166.88, 9.350),
        (0.0, 0.0, 100.0, 100.0, 5.603),
        (150.0, 0.0, 50.0, -57.03, -3.195),
    ],
)
def test_residual_alkalinity(
    calcium: float, magnesium: float, alkalinity: float, residual: float, degrees: float
) -> None:
    """P. Kolbach (1953), with the molar masses of the IUPAC; reckoned apart from this package."""
    found = water_chemistry.residual_alkalinity(calcium, magnesium, alkalinity)
    assert found == pytest.approx(residual, abs=0.01)
    assert water_chemistry.german_degrees(found) == pytest.approx(degrees, abs=0.001)


def test_published_example() -> None:
    """A published example of Kolbach's relation: 27 - (13 + 0.75)/3.5 = 23.07, all in mg/L as CaCO3."""
    calcium, magnesium = 13.0 * 40.078 / 100.087, 1.5 * 24.305 / 100.087
    assert water_chemistry.residual_alkalinity(calcium, magnesium, 27.0) == pytest.approx(23.07, abs=0.005)


@given(st.floats(0.0, 400.0), st.floats(0.0, 200.0), st.floats(0.0, 500.0))
def test_shortened_form(calcium: float, magnesium: float, alkalinity: float) -> None:
    """Common practice: alkalinity - Ca/1.4 - Mg/1.7, the divisors rounded by a thousandth."""
    short = alkalinity - calcium / 1.4 - magnesium / 1.7
    found = water_chemistry.residual_alkalinity(calcium, magnesium, alkalinity)
    assert abs(found - short) <= 0.0012 * (calcium / 1.4 + magnesium / 1.7) + 1e-9

"""Residual alkalinity, and what salts bring."""

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


#: mg/L of each in 10 L from 1 g, by hand from the abridged atomic weights of the IUPAC: Ca 40.078, Mg 24.305, Na 22.990,
#: S 32.06, Cl 35.45, C 12.011, H 1.008, O 15.999.
GRAM_IN_TEN_LITRES = [
    # CaSO4·2H2O is 172.164 g/mol, of which SO4 is 96.056
    ("gypsum", {"calcium": 23.279, "sulfate": 55.793}),
    # CaCl2·2H2O is 147.008, CaCl2 110.978
    ("calcium chloride dihydrate", {"calcium": 27.262, "chloride": 48.229}),
    ("calcium chloride, anhydrous", {"calcium": 36.113, "chloride": 63.887}),
    # MgSO4·7H2O is 246.466
    ("Epsom salt", {"magnesium": 9.861, "sulfate": 38.973}),
    # NaCl is 58.440
    ("table salt", {"sodium": 39.339, "chloride": 60.661}),
    # CaCO3 is 100.086, and all of it is alkalinity as CaCO3
    ("chalk", {"calcium": 40.044, "alkalinity": 100.0}),
    # NaHCO3 is 84.006, half a mole of CaCO3 to the mole
    ("baking soda", {"sodium": 27.367, "alkalinity": 59.571}),
    # MgCl2·6H2O is 203.295
    ("magnesium chloride", {"magnesium": 11.956, "chloride": 34.875}),
    # Ca(OH)2 is 74.092, and does what a mole of CaCO3 does
    ("slaked lime", {"calcium": 54.092, "alkalinity": 135.083}),
]


@pytest.mark.parametrize(("salt", "ions"), GRAM_IN_TEN_LITRES)
def test_salts_by_molar_mass(salt: str, ions: dict[str, float]) -> None:
    found = {ion: water_chemistry.dissolved_ion(salt, ion, 0.001, 10.0) for ion in water_chemistry.IONS}
    assert {ion: value for ion, value in found.items() if value} == pytest.approx(ions, abs=0.01)


def test_alkalinity_from_bicarbonate() -> None:
    """61.016 g of HCO3 to 50.043 g of CaCO3: mg/L times 0.8202."""
    assert water_chemistry.alkalinity_from_bicarbonate(244.0) == pytest.approx(200.1, abs=0.05)


def test_equivalents_of_alkalinity() -> None:
    """50.043 mg of CaCO3 to the meq."""
    assert water_chemistry.equivalents_of_alkalinity(50.043) == pytest.approx(1.0)

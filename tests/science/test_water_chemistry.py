"""Residual alkalinity, and what salts bring."""

import re
from collections import Counter

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
    ("calcium chloride", {"calcium": 27.262, "chloride": 48.229}),
    ("calcium chloride (anhydrous)", {"calcium": 36.113, "chloride": 63.887}),
    # MgSO4·7H2O is 246.466
    ("Epsom salt", {"magnesium": 9.861, "sulfate": 38.973}),
    # NaCl is 58.440
    ("table salt", {"sodium": 39.339, "chloride": 60.661}),
    # CaCO3 is 100.086, and all of it is alkalinity as CaCO3
    ("chalk", {"calcium": 40.044, "alkalinity": 100.0}),
    # NaHCO3 is 84.006, half a mole of CaCO3 to the mole
    ("baking soda", {"sodium": 27.367, "alkalinity": 59.571}),
    # Ca(OH)2 is 74.092, and does what a mole of CaCO3 does
    ("slaked lime", {"calcium": 54.092, "alkalinity": 135.083}),
]


@pytest.mark.parametrize(("name", "ions"), GRAM_IN_TEN_LITRES)
def test_salts_by_molar_mass(name: str, ions: dict[str, float]) -> None:
    salt = water_chemistry.salt_named(name)
    assert salt
    found = {ion: water_chemistry.dissolved_ion(salt, ion, 0.001, 10.0) for ion in water_chemistry.IONS}
    assert {ion: value for ion, value in found.items() if value} == pytest.approx(ions, abs=0.01)


def test_names_of_salts_and_acids() -> None:
    same = {"gypsum", "Gypsum", "calcium sulphate", "calcium sulfate (dihydrate)", "  calcium  sulfate dihydrate"}
    assert {water_chemistry.salt_named(name) for name in same} == {"gypsum"}
    assert water_chemistry.salt_named("lactic acid 80 %") == ""
    # hydrochloric acid brings chloride, and how much of it nobody has said
    assert [water_chemistry.salt_named(name) for name in ("hydrochloric acid 10 %", "gypsm", "")] == [None] * 3


#: Formulas by the names of the trade, common practice; and by those of 21 CFR, where a section is named (all but the first
#: from memory). What is sold as the hydrate where nothing else is said is meant as the hydrate.
FORMULAS = {
    "CaSO4·2H2O": ("calcium sulfate", "calcium sulfate dihydrate", "gypsum"),  # 184.1230: CaSO4·2H2O, known as gypsum
    "CaCl2·2H2O": ("calcium chloride", "calcium chloride dihydrate", "calcium chloride flakes"),  # 184.1193
    "CaCl2": ("calcium chloride, anhydrous", "calcium chloride anhydrous", "anhydrous calcium chloride"),  # 184.1193
    "MgSO4·7H2O": ("epsom salt", "epsom salts", "magnesium sulfate", "magnesium sulfate heptahydrate"),  # 184.1443
    "NaCl": ("salt", "table salt", "sodium chloride"),
    "CaCO3": ("chalk", "calcium carbonate"),  # 184.1191
    "CaO2H2": ("slaked lime", "calcium hydroxide", "hydrated lime", "pickling lime"),  # Ca(OH)2, 184.1205
    "NaHCO3": ("baking soda", "sodium bicarbonate", "sodium hydrogen carbonate"),  # 184.1736
}
#: Abridged standard atomic weights of the IUPAC.
ATOMS = {"H": 1.008, "C": 12.011, "O": 15.999, "Na": 22.990, "Mg": 24.305, "S": 32.06, "Cl": 35.45, "Ca": 40.078}
METALS = {"Ca": "calcium", "Mg": "magnesium", "Na": "sodium"}


def atoms(formula: str) -> Counter[str]:
    """How many of each atom a formula holds."""
    counted: Counter[str] = Counter()
    for part in formula.split("·"):
        times, molecule = re.fullmatch(r"(\d*)(\w+)", part, re.ASCII).groups()  # type: ignore[union-attr]
        for atom, many in re.findall(r"([A-Z][a-z]?)(\d*)", molecule):
            counted[atom] += int(many or 1) * int(times or 1)
    return counted


@pytest.mark.parametrize("formula", FORMULAS)
def test_every_name_of_a_salt_means_its_formula(formula: str) -> None:
    """The share of the metal, and of chloride, by the atoms of the formula."""
    counted = atoms(formula)
    mass = sum(ATOMS[atom] * many for atom, many in counted.items())
    parts = {METALS[atom]: ATOMS[atom] / mass for atom in METALS if atom in counted}
    if "Cl" in counted:
        parts["chloride"] = counted["Cl"] * ATOMS["Cl"] / mass
    for name in FORMULAS[formula]:
        salt = water_chemistry.salt_named(name)
        assert salt, name
        found = {ion: water_chemistry.dissolved_ion(salt, ion, 1e-6, 1.0) for ion in parts}
        assert found == pytest.approx(parts, rel=1e-9), name


def test_acids_are_known_by_their_names() -> None:
    """They bring none of the ions: lactic, phosphoric and citric acid hold no metal, no sulfur and no chlorine."""
    for name in ("lactic acid", "Phosphoric acid 10 %", "citric acid", "acidulated malt"):
        assert water_chemistry.salt_named(name) == "", name


def test_alkalinity_from_bicarbonate() -> None:
    """61.016 g of HCO3 to 50.043 g of CaCO3: mg/L times 0.8202."""
    assert water_chemistry.alkalinity_from_bicarbonate(244.0) == pytest.approx(200.1, abs=0.05)


def test_equivalents_of_alkalinity() -> None:
    """50.043 mg of CaCO3 to the meq."""
    assert water_chemistry.equivalents_of_alkalinity(50.043) == pytest.approx(1.0)

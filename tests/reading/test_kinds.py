"""Names of the trade: what each means, and that nothing unknown passes for something known."""

from __future__ import annotations

import re
from collections import Counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from journal.reading.kinds import ADDITIONS, GRAINS, KINDS, SUGARS, Sort, acid_strength, ingredient_named, nearest_names
from journal.science import acids, water_chemistry

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


def _atoms(formula: str) -> Counter[str]:
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
    counted = _atoms(formula)
    mass = sum(ATOMS[atom] * many for atom, many in counted.items())
    parts = {METALS[atom]: ATOMS[atom] / mass for atom in METALS if atom in counted}
    if "Cl" in counted:
        parts["chloride"] = counted["Cl"] * ATOMS["Cl"] / mass
    for name in FORMULAS[formula]:
        salt = ingredient_named(name)
        assert salt, name
        found = {ion: water_chemistry.dissolved_ion(salt.name, ion, 1e-6, 1.0) for ion in parts}
        assert found == pytest.approx(parts, rel=1e-9), name


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("Pale Malt", "pale malt"),
        ("2-row", "pale malt"),
        ("Six-Row Malt", "six-row malt"),
        ("Lager malt", "pilsner malt"),
        ("crystal malt", "caramel malt"),
        ("dark crystal", "dark crystal malt"),
        ("torrefied wheat", "torrified wheat"),
        ("corn grits", "maize"),
        ("pregelatinized rice", "flaked rice"),
        ("rice hulls", "hulls"),
        ("Table Sugar", "sucrose"),
        ("white sugar", "sucrose"),
        ("corn sugar", "dextrose"),
        ("DME", "malt extract, dry"),
        ("dry malt extract", "malt extract, dry"),
        ("Malt Extract, Dry", "malt extract, dry"),
        ("lme", "malt extract, liquid"),
        ("Frozen raspberries", "raspberries"),
        ("apricot purée", "apricots"),
        ("CaSO4", "gypsum"),
        ("calcium sulphate (dihydrate)", "gypsum"),
        ("CaCl2", "calcium chloride dihydrate"),
        ("epsom salts", "Epsom salt"),
        ("Ca(OH)2", "slaked lime"),
        ("Lactic acid 80 %", "lactic acid"),
        ("phosphoric acid 75%", "phosphoric acid"),
        ("acidulated malt", "acid malt"),
        ("IRISH MOSS", "Irish moss"),
        ("coriander seed", "coriander"),
        ("Campden tablet", "metabisulfite"),
        ("potassium metabisulphite", "metabisulfite"),
    ],
)
def test_usual_names_are_known(written: str, meant: str) -> None:
    found = ingredient_named(written)
    assert found is not None
    assert found.name == meant
    assert found is KINDS[meant]


@pytest.mark.parametrize(
    "unclear",
    # malted or not; dry or liquid; the fruit or the hydroxide; the malt or the sweet
    [
        "rye",
        "wheat",
        "malt extract",
        "lime",
        "chocolate",
        "caramel",
        "malt",
        "acid",
        "",
        "burton mix",
        "raspberry sauce",
    ],
)
def test_what_may_mean_several_things_is_not_guessed(unclear: str) -> None:
    assert ingredient_named(unclear) is None


@pytest.mark.parametrize(
    ("written", "near"),
    [
        ("rye", ["rye malt", "flaked rye", "raw rye"]),
        ("malt extract", ["malt extract, dry", "malt extract, liquid"]),
        ("lime", ["slaked lime"]),
        ("gypsm", ["gypsum"]),
        ("tabel sugar", ["table sugar"]),
        ("corriander", ["coriander"]),
    ],
)
def test_the_nearest_names_are_told(written: str, near: list[str]) -> None:
    found = nearest_names(written)
    assert set(near) <= set(found)
    assert len(found) <= 3


def test_nothing_is_near_to_a_name_like_no_other() -> None:
    assert nearest_names("Xyzzy 9") == nearest_names("") == []
    assert nearest_names("gypsm", Sort.SUGAR) == []


def test_a_crystal_malt_by_its_degrees_is_as_dark_as_it_says() -> None:
    """EBC = 2.65 °L - 1.2, common practice."""
    for written in ("Crystal 60L", "caramel malt 60", "crystal malt 60 °L"):
        found = ingredient_named(written)
        assert found is not None
        assert found.colour == pytest.approx(2.65 * 60 - 1.2)
        assert found.extract == KINDS["caramel malt"].extract
        # by its own name it is found again, and told from one of another colour
        assert ingredient_named(found.name) == found
        assert found.name != "caramel malt"
    assert ingredient_named("crystal 999L") is None


def test_an_acid_says_how_strong_it_is() -> None:
    assert acid_strength("Lactic acid 80 %") == ("lactic acid", 0.8)
    assert acid_strength("phosphoric acid (10%)") == ("phosphoric acid", 0.1)
    # a liquid of which none is stated is not guessed; crystals are all acid
    assert acid_strength("lactic acid") == ("lactic acid", None)
    assert acid_strength("citric acid") == ("citric acid", 1.0)
    assert acid_strength("gypsum") is acid_strength("lactic acid 180 %") is None


def test_chemistry_knows_every_salt_and_acid_by_its_name() -> None:
    assert {name for name, each in KINDS.items() if each.sort is Sort.SALT} == set(water_chemistry.SALTS)
    assert {name for name, each in KINDS.items() if each.sort is Sort.ACID} == set(acids.ACIDS)


def test_every_kind_states_one_extract_and_no_more_than_there_is() -> None:
    for each in KINDS.values():
        stated = [value for value in (each.extract, each.extract_as_is) if value is not None]
        assert len(stated) == 1, each.name
        assert 0.0 <= stated[0] <= 1.0
        if each.extract_as_is:
            assert each.extract_as_is + each.moisture <= 1.0 + 1e-9, each.name
    assert set(GRAINS) | set(ADDITIONS) == set(KINDS)
    assert set(SUGARS) <= set(ADDITIONS)


def test_molar_masses() -> None:
    """Lactose and maltose with a molecule of water: 342.30 in 360.31 parts; the sugars' molar masses, IUPAC."""
    for name in ("lactose", "maltose"):
        assert KINDS[name].extract_as_is == pytest.approx(342.30 / 360.31, abs=0.005)
        assert KINDS[name].moisture == pytest.approx(18.015 / 360.31, abs=0.005)


@given(st.sampled_from([name for each in KINDS.values() for name in (each.name, *each.also)]), st.randoms())
def test_capitals_hyphens_and_spaces_make_no_difference(name: str, random: object) -> None:
    choose = random.random  # type: ignore[attr-defined]  # hypothesis' own Random
    odd = "".join(c.upper() if choose() < 0.5 else c for c in name).replace(" ", "  " if choose() < 0.5 else " - ")
    assert ingredient_named(odd) is ingredient_named(name) is not None


@given(st.text(max_size=40))
def test_no_text_raises(text: str) -> None:
    found = ingredient_named(text)
    assert found is None or ingredient_named(found.name) == found
    assert len(nearest_names(text)) <= 3
    acid_strength(text)


@pytest.mark.parametrize(
    ("text", "meant"),
    [
        ("lactic acid 80 %", ("lactic acid", 0.80)),
        ("Lactic Acid, 88%", ("lactic acid", 0.88)),
        ("phosphoric acid (75 %)", ("phosphoric acid", 0.75)),
        ("Sulphuric acid 10 %", ("sulfuric acid", 0.10)),
        ("phosphoric acid", ("phosphoric acid", None)),
        ("citric acid", ("citric acid", 1.0)),
        ("citric acid monohydrate", ("citric acid monohydrate", 1.0)),
        ("lactic acid 180 %", None),
        ("acid malt", None),
        ("gypsum 80 %", None),
        ("", None),
    ],
)
def test_how_strong_an_acid_is_said_to_be(text: str, meant: tuple[str, float | None] | None) -> None:
    assert acid_strength(text) == meant

"""Acids and alkalis by hand, against handbooks and against the exact balance of charge."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from journal.science import acids

#: Abridged standard atomic weights of the IUPAC.
H, C, O, P, S, CL = 1.008, 12.011, 15.999, 30.974, 32.06, 35.45  # noqa: E741


@pytest.mark.parametrize(
    ("acid", "mass"),
    [
        ("lactic acid", 3 * C + 6 * H + 3 * O),
        ("phosphoric acid", 3 * H + P + 4 * O),
        ("citric acid", 6 * C + 8 * H + 7 * O),
        ("citric acid monohydrate", 6 * C + 10 * H + 8 * O),
        ("malic acid", 4 * C + 6 * H + 5 * O),
        ("tartaric acid", 4 * C + 6 * H + 6 * O),
        ("hydrochloric acid", H + CL),
        ("sulfuric acid", 2 * H + S + 4 * O),
    ],
)
def test_molar_masses(acid: str, mass: float) -> None:
    assert acids.ACIDS[acid].molar_mass == pytest.approx(mass, abs=0.001)


@pytest.mark.parametrize(
    ("acid", "share", "low", "high"),
    [
        ("lactic acid", 0.88, 1.20, 1.21),  # British Pharmacopoeia, lactic acid of 88 to 92 %, relative density
        ("phosphoric acid", 0.75, 1.57, 1.58),  # handbooks listed in ECHA's registration dossier, 20 to 30 degC
        ("phosphoric acid", 0.10, 1.0517, 1.0540),
        ("phosphoric acid", 0.30, 1.179, 1.182),
        ("phosphoric acid", 0.50, 1.33, 1.34),
        ("phosphoric acid", 0.85, 1.685, 1.690),  # common practice, on the bottle
        ("hydrochloric acid", 0.37, 1.18, 1.19),  # common practice, on the bottle
        ("citric acid", 0.15, 1.060, 1.064),  # between the table's 10 and 20 %
    ],
)
def test_densities(acid: str, share: float, low: float, high: float) -> None:
    assert low <= acids.density(acid, share) <= high


#: kg/L at 20 degC by share of weight: CRC Handbook of Chemistry and Physics, concentrative properties of aqueous solutions, as public
#: tables of organic acids reprint it; the mineral acids' from memory. At 0 it is water's.
HANDBOOK = {
    "lactic acid": {0.0: 0.9982, 0.1: 1.0199, 0.2: 1.0439, 0.6: 1.1392, 0.7: 1.1586, 0.8: 1.1848},
    "citric acid": {0.0: 0.9982, 0.05: 1.0189, 0.1: 1.0402, 0.2: 1.0858, 0.3: 1.1346},
    "phosphoric acid": {0.0: 0.9982, 0.1: 1.0532, 0.3: 1.1804, 0.5: 1.335, 0.75: 1.579, 0.85: 1.6895},
    "hydrochloric acid": {0.0: 0.9982, 0.1: 1.0474, 0.2: 1.0980, 0.3: 1.1492, 0.38: 1.1885},
    "sulfuric acid": {0.0: 0.9982, 0.1: 1.0661, 0.2: 1.1394, 0.3: 1.2185, 0.4: 1.3028, 0.5: 1.3951, 0.6: 1.4983},
}


@pytest.mark.parametrize(("acid", "share"), [(acid, share) for acid, row in HANDBOOK.items() for share in row])
def test_densities_of_the_handbook(acid: str, share: float) -> None:
    assert acids.density(acid, share) == pytest.approx(HANDBOOK[acid][share], abs=5e-5)


def test_strong_sulfuric_acid() -> None:
    """CRC Handbook, from memory: 1.7272 at 80 %, 1.8355 at 96 %, the strongest that is sold."""
    assert [acids.density("sulfuric acid", share) for share in (0.80, 0.96)] == pytest.approx(
        [1.7272, 1.8355], abs=5e-5
    )


@pytest.mark.parametrize(
    ("acid", "constants"),
    [
        ("lactic acid", (3.86,)),
        ("phosphoric acid", (2.16, 7.21, 12.32)),
        ("citric acid", (3.13, 4.76, 6.40)),
        ("citric acid monohydrate", (3.13, 4.76, 6.40)),
        ("malic acid", (3.40, 5.11)),
        ("tartaric acid", (2.98, 4.34)),
        ("sulfuric acid", (1.99,)),
    ],
)
def test_half_of_a_proton_at_its_constant(acid: str, constants: tuple[float, ...]) -> None:
    """Chemistry LibreTexts, reference table E1, and aqion's table for lactic acid: where the constants lie far apart, half of a
    proton is gone at its pK."""
    found = acids.ACIDS[acid].constants[-len(constants) :]
    assert found == constants
    if acid in {"lactic acid", "sulfuric acid"}:
        at = acids.protons_given(acid, constants[-1])
        assert at - int(at) == pytest.approx(0.5, abs=1e-6)


def test_lactic_acid_by_hand() -> None:
    """80 % of 1.1848 kg/L: 947.8 g, 10.52 mol to the litre; of pK 3.86 at pH 5.4 one in 10^1.54 + 1 = 35.7 stays whole: 10.23."""
    assert acids.normality("lactic acid", 0.80, 5.4) == pytest.approx(10.23, abs=0.01)
    assert acids.equivalents("lactic acid", 0.80, 5.4) == pytest.approx(8.632, abs=0.002)


def test_phosphoric_acid_by_hand() -> None:
    """75 % of 1.579 kg/L: 1184 g, 12.08 mol; at pH 5.4 the first proton all but 0.06 %, the second of 1.5 %: 1.0146: 12.26."""
    assert acids.normality("phosphoric acid", 0.75, 5.4) == pytest.approx(12.26, abs=0.01)
    assert acids.protons_given("phosphoric acid", 7.21) == pytest.approx(1.5, abs=1e-4)


def test_strong_acids_by_hand() -> None:
    """10 %: 104.74/36.458 = 2.873 mol/L of one proton, 106.61/98.072 = 1.087 mol/L of two."""
    assert acids.normality("hydrochloric acid", 0.10) == pytest.approx(2.873, abs=0.001)
    assert acids.normality("sulfuric acid", 0.10) == pytest.approx(2.174, abs=0.001)


def test_citric_acid_by_hand() -> None:
    """At its second pK half of the second proton is gone, and of the others by 10^1.63 and 10^-1.64 to 1."""
    first, third = 10**-1.63, 10**-1.64
    middle = 2.0 + first + third
    assert acids.protons_given("citric acid", 4.76) == pytest.approx((1.0 + 2.0 + 3.0 * third) / middle)
    assert acids.equivalents("citric acid monohydrate", 1.0) == pytest.approx(
        acids.equivalents("citric acid", 192.123 / 210.138)
    )


@given(st.sampled_from(sorted(acids.ACIDS)), st.floats(3.0, 9.0))
def test_the_higher_the_ph_the_more_protons(acid: str, ph: float) -> None:
    given = acids.protons_given(acid, ph)
    assert 0.0 < given <= acids.protons_given(acid, ph + 0.1) <= len(acids.ACIDS[acid].constants)


def test_alkalinity_neutralised_by_hand() -> None:
    """5 mL of lactic acid 80 % hold 51.1 meq: in 20 L, 2.56 meq/L, which is 128 mg/L as CaCO3."""
    taken = acids.alkalinity_neutralised(0.005 * acids.normality("lactic acid", 0.80), 20.0)
    assert taken == pytest.approx(2.557, abs=0.002)
    assert taken * 50.043 == pytest.approx(128.0, abs=0.1)
    with pytest.raises(ValueError, match="goes into liquor"):
        acids.alkalinity_neutralised(0.05, 0.0)


@pytest.mark.parametrize(
    ("acid", "share"), [("phosphoric acid", 0.95), ("citric acid", 1.0), ("citric acid monohydrate", 0.1)]
)
def test_a_density_nobody_has_tabled(acid: str, share: float) -> None:
    with pytest.raises(ValueError, match="not known"):
        acids.density(acid, share)


def test_ions() -> None:
    assert acids.ACIDS["hydrochloric acid"].ions["chloride"] == pytest.approx(CL / (H + CL), abs=1e-4)
    assert acids.ACIDS["sulfuric acid"].ions["sulfate"] == pytest.approx(1 - 2 * H / 98.072, abs=1e-4)
    assert not acids.ACIDS["lactic acid"].ions

"""Acids by what chemists' handbooks print of them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from journal.science import acids


@pytest.mark.parametrize(
    ("acid", "share", "molar"),
    [
        # the concentrations of acids as they are sold, mol/L: laboratory handbooks, from memory
        ("phosphoric acid", 0.85, 14.7),
        ("hydrochloric acid", 0.37, 12.0),
        ("sulfuric acid", 0.98, 18.3),
        ("lactic acid", 0.88, 11.8),
    ],
)
def test_acids_as_sold(acid: str, share: float, molar: float) -> None:
    found = acids.solution_density(acid, share) * 1000 * share / acids.ACIDS[acid].molar_mass
    assert found == pytest.approx(molar, rel=0.015)


def test_protons_given_off() -> None:
    """Half of an acid's step is given off at its pKa, by definition; strong acids give off all."""
    assert acids.charge("lactic acid", 3.86) == pytest.approx(0.5)
    # between steps five units apart the second has hardly begun: 1.5 at the second pKa
    assert acids.charge("phosphoric acid", 7.20) == pytest.approx(1.5, abs=0.001)
    assert acids.charge("phosphoric acid", 5.4) == pytest.approx(1.015, abs=0.002)
    assert acids.charge("hydrochloric acid", 4.0) == pytest.approx(1.0, abs=1e-6)
    assert acids.charge("sulfuric acid", 5.4) == pytest.approx(2.0, abs=0.001)


def test_a_gram_of_lactic_acid_by_hand() -> None:
    """1 g of 80 % is 0.8 / 90.078 = 8.881 mmol, of which 10^(5.4-3.86) / (1 + 10^(5.4-3.86)) = 97.20 % are given off."""
    assert acids.equivalents("lactic acid", 0.80, 5.4) == pytest.approx(8.632, abs=0.002)
    with pytest.raises(ValueError, match="fraction"):
        acids.equivalents("lactic acid", 80.0, 5.4)


@given(st.sampled_from(sorted(acids.ACIDS)), st.floats(2.0, 9.0), st.floats(0.01, 1.0))
def test_a_less_acid_liquor_takes_more(acid: str, ph: float, more: float) -> None:
    assert acids.charge(acid, ph) <= acids.charge(acid, ph + more) <= len(acids.ACIDS[acid].steps)


@given(st.sampled_from(sorted(acids.ACIDS)), st.floats(0.0, 0.8), st.floats(0.001, 0.2))
def test_a_stronger_solution_is_no_lighter(acid: str, share: float, more: float) -> None:
    assert acids.solution_density(acid, share) <= acids.solution_density(acid, share + more)

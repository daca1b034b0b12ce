"""The sieve test in three parts; which sieves there are is quoted from memory of MEBAK, DIN ISO 3310-1 and the ASBC."""

import pytest

from journal.science.sieve import Crush, crush_of


def test_all_the_sieves_of_the_european_set() -> None:
    found = crush_of([(1.25, 18.0), (1.0, 8.0), (0.5, 35.0), (0.25, 21.0), (0.125, 7.0), (0.0, 11.0)])
    assert found == pytest.approx((0.18, 0.43, 0.39))


def test_the_older_meshes_and_those_of_the_other_standard_part_it_alike() -> None:
    assert crush_of([(1.27, 20.0), (0.547, 40.0), (0.0, 40.0)]) == pytest.approx((0.2, 0.4, 0.4))
    assert crush_of([(1.41, 20.0), (0.595, 40.0), (0.0, 40.0)]) == pytest.approx((0.2, 0.4, 0.4))


def test_what_the_meshes_do_not_part_is_not_guessed() -> None:
    assert crush_of([(1.25, 30.0), (0.0, 70.0)]) == Crush(pytest.approx(0.3), None, None)
    assert crush_of([(0.5, 60.0), (0.0, 40.0)]) == Crush(None, None, pytest.approx(0.4))
    # between husk and grits lies no mesh here
    assert crush_of([(2.0, 10.0), (1.0, 30.0), (0.0, 60.0)]) == Crush(None, None, None)


def test_shares_are_of_what_was_recovered() -> None:
    assert sum(part or 0.0 for part in crush_of([(1.25, 0.31), (0.5, 0.38), (0.0, 0.29)])) == pytest.approx(1.0)
    with pytest.raises(ValueError, match="nothing"):
        crush_of([(1.25, 0.0)])


@pytest.mark.parametrize(
    ("mesh", "parts_husks"),
    [(1.0, False), (1.12, False), (1.18, True), (1.25, True), (1.4, True), (1.6, False), (1.7, False)],
)
def test_which_sieves_of_the_standards_part_husks(mesh: float, parts_husks: bool) -> None:
    """Nominal openings, mm, of ISO 3310-1 (R 20 and R 40/3); 1.4 is no. 14 of ASTM E11, 1.18 no. 16."""
    husks = crush_of([(mesh, 25.0), (0.25, 45.0), (0.0, 30.0)]).husks
    assert husks == (pytest.approx(0.25) if parts_husks else None)


@pytest.mark.parametrize(
    ("mesh", "parts_grits"),
    [(0.4, False), (0.425, False), (0.45, True), (0.5, True), (0.56, True), (0.6, True), (0.63, False), (0.71, False)],
)
def test_which_sieves_of_the_standards_part_grits(mesh: float, parts_grits: bool) -> None:
    """Nominal openings, mm, of ISO 3310-1 (R 20 and R 40/3); 0.6 is no. 30 of ASTM E11, 0.425 no. 40."""
    fine = crush_of([(2.0, 25.0), (mesh, 45.0), (0.0, 30.0)]).fine
    assert fine == (pytest.approx(0.3) if parts_grits else None)


def test_a_sieve_as_wide_as_the_standard_allows_is_the_same_sieve() -> None:
    """ASTM E11: the average opening of no. 14, 1.4 mm, may be 0.046 mm off; of no. 16, 1.18 mm, 0.040."""
    wide, narrow = (crush_of([(mesh, 20.0), (0.6, 40.0), (0.0, 40.0)]) for mesh in (1.446, 1.4 - 0.046))
    assert wide == narrow == pytest.approx((0.2, 0.4, 0.4))


def test_of_two_fitting_sieves_the_one_nearer_to_the_european_counts() -> None:
    """1.25 and 0.5 mm are those of MEBAK, from memory; beside them sieves of ASTM E11, and of ISO 3310-1, R 20."""
    found = crush_of([(1.4, 15.0), (1.18, 10.0), (0.6, 20.0), (0.5, 15.0), (0.0, 40.0)])
    assert found == pytest.approx((0.25, 0.35, 0.4))
    found = crush_of([(1.25, 15.0), (1.18, 10.0), (0.5, 20.0), (0.45, 15.0), (0.0, 40.0)])
    assert found == pytest.approx((0.15, 0.3, 0.55))

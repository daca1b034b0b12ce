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

"""A short share of the mutants, the same ones every time; `python tests/long/run.py mutants` makes 20,000."""

from pathlib import Path

import pytest
from long.mutants import Found, run_all


@pytest.mark.parametrize(("seed", "many"), [(1, 40), pytest.param(2, 160, marks=pytest.mark.long)])
def test_no_mutant_raises_hangs_or_is_told_of_in_the_wrong_place(seed: int, many: int, tmp_path: Path) -> None:
    found = Found()
    assert list(run_all(many, seed, tmp_path, found)) == []
    assert sum(found.made.values()) == many
    assert found.came["failed"] == 0
    assert found.came["told, to the page"] > 5
    assert found.came["told, to the site"] > 0

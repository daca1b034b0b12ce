"""Dip tables by hand."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from journal.science import vessel

MARKS = [(0.0, 1.2), (10.0, 8.4), (40.0, 30.0), (50.0, 38.0)]


@pytest.mark.parametrize(
    ("depth", "litres"),
    [(0.0, 1.2), (5.0, 4.8), (10.0, 8.4), (31.5, 23.88), (40.0, 30.0), (45.0, 34.0), (50.0, 38.0)],
)
def test_between_and_at_the_marks(depth: float, litres: float) -> None:
    assert vessel.dipped_volume(depth, MARKS) == pytest.approx(litres)


@given(st.floats(0.0, 49.0), st.floats(0.0, 1.0))
def test_deeper_is_more(depth: float, further: float) -> None:
    more = vessel.dipped_volume(depth + further, MARKS)
    assert 0.72 * further - 1e-9 <= more - vessel.dipped_volume(depth, MARKS) <= 0.80 * further + 1e-9


@pytest.mark.parametrize("depth", [-0.1, 50.1])
def test_beyond_the_table(depth: float) -> None:
    with pytest.raises(ValueError, match="does not reach"):
        vessel.dipped_volume(depth, MARKS)

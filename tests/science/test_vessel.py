"""Dip tables by hand."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from journal.science import vessel

MARKS = [(0.0, 1.2), (10.0, 8.4), (40.0, 30.0), (50.0, 38.0)]


@pytest.mark.parametrize(
    ("depth", "litres", "slope"),
    [
        (0.0, 1.2, 0.72),
        (5.0, 4.8, 0.72),
        (10.0, 8.4, 0.72),
        (31.5, 23.88, 0.72),
        (40.0, 30.0, 0.80),
        (45.0, 34.0, 0.80),
        (50.0, 38.0, 0.80),
    ],
)
def test_between_and_at_the_marks(depth: float, litres: float, slope: float) -> None:
    assert vessel.dipped_volume(depth, MARKS) == pytest.approx(litres)
    assert vessel.litres_to_a_centimetre(depth, MARKS) == pytest.approx(slope)


@given(st.floats(0.0, 49.0), st.floats(0.0, 1.0))
def test_deeper_is_more(depth: float, further: float) -> None:
    more = vessel.dipped_volume(depth + further, MARKS)
    assert 0.72 * further - 1e-9 <= more - vessel.dipped_volume(depth, MARKS) <= 0.80 * further + 1e-9


@pytest.mark.parametrize("depth", [-0.1, 50.1])
def test_beyond_the_table(depth: float) -> None:
    for function in (vessel.dipped_volume, vessel.litres_to_a_centimetre):
        with pytest.raises(ValueError, match="does not reach"):
            function(depth, MARKS)

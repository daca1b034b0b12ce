"""Places: offsets into a text, and the lines and columns an editor shows for them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from journal.problems import Place, Source, Span

TEXT = "eins\nzwei drei\n\nvier"


@pytest.mark.parametrize(
    ("offset", "line", "column"),
    [
        (0, 1, 1),
        (3, 1, 4),
        (4, 1, 5),
        (5, 2, 1),
        (10, 2, 6),
        (15, 3, 1),
        (16, 4, 1),
        (20, 4, 5),
        (99, 4, 5),
        (-3, 1, 1),
    ],
)
def test_lines_and_columns_count_from_one(offset: int, line: int, column: int) -> None:
    assert Source("x", TEXT).position(offset) == (line, column)


def test_columns_count_characters() -> None:
    """An editor counts characters, whatever bytes they take."""
    text = "12 °Bx ± 0.2\n😀 at"
    assert Source("x", text).position(text.index("0.2")) == (1, 10)
    assert Source("x", text).position(text.index("at")) == (2, 3)


@given(st.text(alphabet="ab\n°\u2028\x0c", max_size=40), st.integers(0, 40))
def test_a_position_leads_back_to_its_offset(text: str, offset: int) -> None:
    offset = min(offset, len(text))
    source = Source("x", text)
    line, column = source.position(offset)
    lines = text.split("\n")
    assert sum(len(other) + 1 for other in lines[: line - 1]) + column - 1 == offset
    assert source.line_text(line) == lines[line - 1]


def test_a_place_shows_what_stands_there() -> None:
    place = Place(Source("x", TEXT), Span(5, 15).within(5, 9), "b")
    assert (place.text, place.line, place.column) == ("drei", 2, 6)

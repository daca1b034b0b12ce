"""The count of examples that come to an assertion counts right, and a test that tests nothing is seen."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from reached import Count, assertion_lines, counting


def always(x: int) -> None:
    y = x * 2
    assert y == x + x


def seldom(x: int) -> None:
    if x == 7:
        assert x > 0


def after_a_condition(x: int) -> None:
    assume(x < 500)
    assert x < 500


def in_a_loop(x: int) -> None:
    for each in range(x % 2):
        assert each == 0


def nothing_raised(x: int) -> None:
    str(x)


@pytest.mark.parametrize(
    ("test", "low", "high"),
    [
        (always, 1.0, 1.0),
        (seldom, 0.0, 0.1),
        (after_a_condition, 0.2, 0.99),
        (in_a_loop, 0.2, 0.8),
        (nothing_raised, 1.0, 1.0),
    ],
)
def test_examples_that_come_to_an_assertion_are_counted(test: Callable[[int], None], low: float, high: float) -> None:
    count = Count()
    run = settings(max_examples=200, database=None)(given(st.integers(0, 999))(counting(test, count)))
    run()
    assert count.examples >= 100
    assert low <= count.reached / count.examples <= high


def test_assertions_are_found_by_their_lines() -> None:
    assert assertion_lines(always) is None
    assert assertion_lines(nothing_raised) is None
    first = seldom.__code__.co_firstlineno
    assert assertion_lines(seldom) == {first + 2}

"""The root finder against numbers that mathematics knows, and against scipy."""

import math
from collections.abc import Callable

import pytest
from scipy.optimize import brentq

from journal.science._newton import root


@pytest.mark.parametrize(
    ("function", "start", "known"),
    [
        (lambda x: math.cos(x) - x, 1.0, 0.7390851332151607),  # OEIS A003957, the Dottie number
        (lambda x: x * math.exp(x) - 1.0, 1.0, 0.5671432904097838),  # OEIS A030178, the omega constant
        (lambda x: x**3 - 2.0, 1.0, 1.2599210498948732),  # OEIS A002580, the cube root of 2
        # a slope of exactly one, and of exactly minus one
        (lambda x: x - 3.0, 0.0, 3.0),
        (lambda x: 3.0 - x, 0.0, 3.0),
        # far from 1 on both sides
        (lambda x: x * x - 1e12, 2e6, 1e6),
        (lambda x: x * x - 1e-6, 1.0, 1e-3),
        # already there
        (math.sin, 0.0, 0.0),
    ],
)
def test_known_roots(function: Callable[[float], float], start: float, known: float) -> None:
    assert root(function, start) == pytest.approx(known, rel=1e-12, abs=1e-12)


@pytest.mark.parametrize("wanted", [0.1, 0.5, 2.0, 9.0])
def test_as_a_bracketing_method_finds_it(wanted: float) -> None:
    def excess(x: float) -> float:
        return x + x**5 - wanted

    assert root(excess, 1.0) == pytest.approx(brentq(excess, 0.0, 10.0, xtol=1e-14), rel=1e-11)


@pytest.mark.parametrize(
    "function", [lambda x: x * x + 1.0, lambda _: 1.0, lambda _: math.nan, lambda _: math.inf, math.exp]
)
def test_where_there_is_no_root_none_is_given(function: Callable[[float], float]) -> None:
    with pytest.raises(ValueError, match="no solution found near"):
        root(function, 0.5)

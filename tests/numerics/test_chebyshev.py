"""Chebyshev series: as near to their functions as was asked for, and none where that can't be."""

from __future__ import annotations

import math

import numpy as np
import pytest

from journal.numerics import Vector
from journal.numerics.chebyshev import series_of


def test_a_smooth_function_is_met_within_its_tolerance_everywhere() -> None:
    def look(x: float, y: float) -> Vector:
        return np.array([math.exp(x) * math.cos(y), 3.0 + x * y])

    tolerances = np.array([1e-6, 1e-9])
    found = series_of(look, (9, 9), tolerances)
    assert found is not None
    for x, y in np.random.default_rng(1).uniform(-1.0, 1.0, (50, 2)):
        off = [abs(each.at(x, y) - value) for each, value in zip(found, look(x, y), strict=True)]
        assert np.all(off <= tolerances)
    # T0 T0 and T1 T1 by themselves
    assert [term[:2] for term in found[1].terms] == [(0, 0), (1, 1)]


def test_coefficients_are_those_of_the_handbook() -> None:
    """e^x is I0(1) + 2 Σ In(1) Tn(x): Abramowitz & Stegun, Handbook of Mathematical Functions, 9.6.34; the In(1) from memory."""
    found = series_of(lambda x, y: np.array([math.exp(x)]), (12, 0), np.array([1e-9]))
    assert found is not None
    by_degree = {i: c for i, _, c in found[0].terms}
    for degree, bessel in enumerate((1.2660658778, 0.5651591040, 0.1357476698)):
        assert by_degree[degree] == pytest.approx(bessel * (2 if degree else 1), abs=1e-9)


@pytest.mark.parametrize("function", [abs, math.sqrt, lambda x: 1 / x, lambda x: 1e308 * 10 * (1.5 + x)])
def test_what_has_a_corner_or_no_value_somewhere_gets_no_series(function: object) -> None:
    assert callable(function)
    assert series_of(lambda x, y: np.array([function(x + 0.013)]), (8, 0), np.array([1e-4])) is None

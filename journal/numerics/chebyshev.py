"""Smooth functions of one or two variables as short Chebyshev series, for whoever can add and multiply and no more."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.polynomial import chebyshev

from journal.numerics import Matrix, Vector

#: Points along each variable at which a series is held against its function, between the nodes it was made from.
_PROOFS = 7


@dataclass(frozen=True)
class ChebyshevSeries:
    """Terms `(i, j, c)` of the sum c · T_i(x) · T_j(y), x and y from -1 to 1; of a function of x alone every j is 0."""

    terms: tuple[tuple[int, int, float], ...]

    def at(self, x: float, y: float = 0.0) -> float:
        """The value there."""
        one, other = (np.arccos(np.clip(value, -1.0, 1.0)) for value in (x, y))
        return float(sum(c * np.cos(i * one) * np.cos(j * other) for i, j, c in self.terms))


def _nodes(degree: int) -> Vector:
    return np.cos(np.pi * (np.arange(degree + 1) + 0.5) / (degree + 1))


def _transform(degree: int) -> Matrix:
    """From values at the nodes to coefficients: the discrete orthogonality of the polynomials."""
    turned: Matrix = chebyshev.chebvander(_nodes(degree), degree).T * (2.0 / (degree + 1))
    turned[0] /= 2.0
    return turned


def series_of(
    function: Callable[[float, float], Vector], degrees: tuple[int, int], tolerances: Vector
) -> tuple[ChebyshevSeries, ...] | None:
    """Series for a function of x and y, each from -1 to 1, that gives k values, to within k `tolerances` everywhere.

    None where so few terms don't reach that, or the function raises ArithmeticError or ValueError somewhere in between.
    """
    x, y = (_nodes(degree) for degree in degrees)
    proofs = np.linspace(-1.0, 1.0, _PROOFS)
    # of a function of x alone
    across = proofs if degrees[1] else np.zeros(1)
    try:
        values = np.array([[function(float(a), float(b)) for b in y] for a in x])
        proven = np.array([[function(float(a), float(b)) for b in across] for a in proofs])
    except (ArithmeticError, ValueError):
        return None
    if not (np.all(np.isfinite(values)) and np.all(np.isfinite(proven))):
        return None
    coefficients = np.einsum("ia,jb,abk->ijk", _transform(degrees[0]), _transform(degrees[1]), values)
    # what is too small to be seen, many times over, is left out, and the rest written no longer than that
    least = tolerances / (10.0 * (degrees[0] + degrees[1] + 1))
    kept = np.where(np.abs(coefficients) > least, coefficients, 0.0)
    kept = np.round(kept / least) * least
    basis = [chebyshev.chebvander(at, degree) for at, degree in zip((proofs, across), degrees, strict=True)]
    off = np.abs(np.einsum("ai,bj,ijk->abk", *basis, kept) - proven).max(axis=(0, 1))
    if np.any(off > tolerances):
        return None
    return tuple(_terms(kept[..., k], float(least[k])) for k in range(kept.shape[-1]))


def _terms(coefficients: Matrix, least: float) -> ChebyshevSeries:
    decimals = max(0, 1 - int(np.floor(np.log10(least))))
    return ChebyshevSeries(
        tuple((int(i), int(j), round(float(coefficients[i, j]), decimals)) for i, j in np.argwhere(coefficients))
    )

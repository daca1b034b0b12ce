"""Quantiles and tails of the usual distributions, by the names that scipy has for them.

In a page of formulas: the library takes as long to load as fifty batches to be recalled from the cache, and every process that
asks for a single quantile would pay for it. The tests hold each of them to it.

Source: M. Abramowitz, I. A. Stegun, Handbook of Mathematical Functions (1964), chapter 26; the numbers of the formulas stand below.
"""

from __future__ import annotations

import math
from functools import lru_cache
from typing import Any, TypeVar, overload

import numpy as np

from journal.numerics.arrays import Vector

#: Of every interval that is told.
LEVEL = 0.90
#: Terms of the continued fraction: 50 give 14 digits for every number of degrees of freedom.
_TERMS = 56
#: From here on a ratio of gamma functions goes by its series, and by the functions themselves below.
_LARGE = 100.0
_MOST_STEPS = 60
#: Logarithms of ν/(ν + t²) from which on a tail begins with the first term of its series, and is all of it.
_NEAR, _FAR = -0.7, -37.0
_LEAST_CHANCE = 1e-290

Numbers = TypeVar("Numbers", float, Vector)


def ndtr(z: Any) -> Any:
    """Chance that a standard normal value is below `z`, a number or an array (26.2.29).

    >>> round(ndtr(1.96), 4)
    0.975
    """
    if np.ndim(z):
        return np.array([ndtr(each) for each in np.ravel(z).tolist()]).reshape(np.shape(z))
    return 0.5 * math.erfc(-z / math.sqrt(2.0))


@lru_cache(maxsize=1024)
def ndtri(chance: float) -> float:
    """The z below which a standard normal value is with a chance, 0 to 1 (exclusive)."""
    from statistics import NormalDist  # noqa: PLC0415  # brings fractions and decimals along

    return NormalDist().inv_cdf(chance)


def chi_square_tail(degrees_of_freedom: int, chi_square: float) -> float:
    """Chance that a chi-square of so many degrees of freedom, 1 or more, is above a number, 0 or more (26.4.4 and 26.4.5).

    >>> round(chi_square_tail(1, 3.841), 4), round(chi_square_tail(10, 18.307), 4)
    (0.05, 0.05)
    """
    half = chi_square / 2.0
    if half <= 0.0:
        return 1.0
    odd = degrees_of_freedom % 2
    powers = [index + 0.5 * odd for index in range(degrees_of_freedom // 2)]
    summed = math.fsum(math.exp(power * math.log(half) - half - math.lgamma(power + 1.0)) for power in powers)
    return min(1.0, summed + (math.erfc(math.sqrt(half)) if odd else 0.0))


@overload
def stdtr(freedom: float, t: float) -> float: ...
@overload
def stdtr(freedom: float, t: Vector) -> Vector: ...
def stdtr(freedom: float, t: float | Vector) -> float | Vector:
    """Chance that Student's t of so many degrees of freedom, above 0, is below `t`, a number or an array.

    >>> round(stdtr(10, -1.812), 3), round(stdtr(math.inf, 1.645), 3)
    (0.05, 0.95)
    """
    if isinstance(t, np.ndarray):
        return _below(freedom, t)
    return 1.0 - _above(freedom, t) if t > 0.0 else _above(freedom, -t)


def stdtrit(freedom: float, chance: Any) -> Any:
    """The t below which Student's t of so many degrees of freedom, above 0, is with a chance, 0 to 1; of an array each.

    >>> round(stdtrit(4, 0.95), 4)
    2.1318
    """
    if np.ndim(chance):
        return np.array([stdtrit(freedom, each) for each in np.ravel(chance).tolist()]).reshape(np.shape(chance))
    return _quantile(freedom, 1.0 - chance) if chance > 0.5 else -_quantile(freedom, chance)


@lru_cache(maxsize=1024)
def coverage_factor(degrees_of_freedom: float, level: float = LEVEL) -> float:
    """How many standard uncertainties an interval at a level reaches to each side, by Student's t (GUM, JCGM 100:2008, annex G).

    >>> round(coverage_factor(10), 3), round(coverage_factor(float("inf")), 3)
    (1.812, 1.645)
    """
    return float(stdtrit(degrees_of_freedom, (1.0 + level) / 2.0))


def logsumexp(a: Vector, axis: int) -> Vector:
    """The logarithm of a sum of exponentials of finite numbers along an axis."""
    largest = np.max(a, axis=axis, keepdims=True)
    found: Vector = np.squeeze(largest, axis) + np.log(np.sum(np.exp(a - largest), axis=axis))
    return found


def _above(freedom: float, t: float) -> float:
    """Chance that Student's t is above `t`, 0 or more: half of the incomplete beta function I_x(ν/2, 1/2), x = ν/(ν + t²) (26.7.1)."""
    if math.isinf(freedom):
        return float(ndtr(-t))
    if not math.isfinite(t):
        return 0.0 if math.isinf(t) else t
    a, root = freedom / 2.0, math.hypot(math.sqrt(freedom), t)
    x, y = freedom / root**2, (t / root) ** 2
    front = t / root * math.exp(-a * math.log1p(t * t / freedom)) / _beta(a)
    if x < (a + 1.0) / (a + 2.5):
        return front * _fraction(a, 0.5, x) / (2.0 * a)
    return 0.5 - front * _fraction(0.5, a, y)


def _below(freedom: float, t: Vector) -> Vector:
    """As `_above`, of many at once; of what is no number, none."""
    if math.isinf(freedom):
        return np.asarray(ndtr(t))
    a = freedom / 2.0
    # beyond it nothing is left, and its square is a number still
    far = np.minimum(np.abs(t), 1e150)
    root = np.hypot(math.sqrt(freedom), far)
    x, y = freedom / root**2, (far / root) ** 2
    front = far / root * np.exp(-a * np.log1p(far * far / freedom)) / _beta(a)
    tail = x < (a + 1.0) / (a + 2.5)
    above = np.empty_like(front)
    above[tail] = front[tail] * _fraction(a, 0.5, x[tail]) / (2.0 * a)
    above[~tail] = 0.5 - front[~tail] * _fraction(0.5, a, y[~tail])
    above[np.isinf(t)] = 0.0
    return np.where(t > 0.0, 1.0 - above, above)


def _fraction(a: float, b: float, x: Numbers) -> Numbers:
    """The continued fraction of I_x(a, b), from its last term to its first (26.5.8); quick for x < (a + 1)/(a + b + 2)."""
    found = 1.0 + 0.0 * x
    for even, odd in _terms(a, b):
        found = 1.0 + even * x / (1.0 - odd * x / found)
    return 1.0 / (1.0 - (a + b) / (a + 1.0) * x / found)


@lru_cache(maxsize=256)
def _terms(a: float, b: float) -> tuple[tuple[float, float], ...]:
    """The fraction's coefficients in pairs, the last first: a quantile asks for the same ones at each of its steps."""
    return tuple(
        (
            m * (b - m) / ((a + 2 * m - 1) * (a + 2 * m)),
            (a + m) * (a + b + m) / ((a + 2 * m) * (a + 2 * m + 1)),
        )
        for m in range(_TERMS, 0, -1)
    )


@lru_cache(maxsize=1024)
def _beta(a: float) -> float:
    """The beta function of `a` and 1/2: √π Γ(a)/Γ(a + 1/2); of a large `a` by the series of the ratio (6.1.47)."""
    if a < _LARGE:
        return math.sqrt(math.pi) * math.gamma(a) / math.gamma(a + 0.5)
    terms = (1.0, -1.0 / 8.0, 1.0 / 128.0, 5.0 / 1024.0, -21.0 / 32768.0, -399.0 / 262144.0)
    ratio = math.fsum(term / a**power for power, term in enumerate(terms))
    return math.sqrt(math.pi / a) / ratio


def _quantile(freedom: float, chance: float) -> float:
    """The t above which Student's t is with a chance, 0 to 1/2: Newton's steps in the logarithms of both."""
    if chance <= 0.0:
        return math.inf
    if chance == 0.5:
        return 0.0
    # a smaller one can't be told from none
    chance = max(chance, _LEAST_CHANCE)
    if math.isinf(freedom):
        return -ndtri(chance)
    # of x = ν/(ν + t²), by the first term of the tail's series (26.5.4)
    a = freedom / 2.0
    log_x = math.log(2.0 * chance * a * _beta(a)) / a
    if log_x < _FAR:
        return math.sqrt(freedom) * math.exp(min(-log_x / 2.0, 700.0))
    if log_x < _NEAR:
        t = math.sqrt(freedom) * math.exp(-log_x / 2.0) * math.sqrt(-math.expm1(log_x))
    else:
        t = _by_the_normal(freedom, -ndtri(chance))
    for _ in range(_MOST_STEPS):
        above = _above(freedom, t)
        density = math.exp(-(a + 0.5) * math.log1p(t * t / freedom)) / (math.sqrt(freedom) * _beta(a))
        step = math.log(above / chance) * above / (t * density)
        t *= math.exp(min(max(step, -1.0), 1.0))
        if abs(step) < 1e-9:
            break
    return t


def _by_the_normal(freedom: float, z: float) -> float:
    """About the quantile of Student's t where the normal distribution's is `z`: an expansion for many degrees of freedom (26.7.5)."""
    return z * (1.0 + (z**2 + 1.0) / (4.0 * freedom) + (5.0 * z**4 + 16.0 * z**2 + 3.0) / (96.0 * freedom**2))

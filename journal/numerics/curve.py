"""A curve fitted to uncertain values, with what each value and each expectation does to it.

Weighted least squares by damped steps. Weak expectations keep numbers finite that no value determines.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from journal.numerics.arrays import Matrix, Vector
from journal.numerics.robust import EFFICIENT, SD_BY_MEDIAN, reweight

#: Values, m, of a curve with some parameters, n, and their derivatives by these, m × n.
Curve = Callable[[Vector], tuple[Vector, Matrix]]
_MOST_STEPS = 200
#: A step that is this small beside the parameters' own standard uncertainties leads to the minimum.
_SETTLED = 1e-6
#: Damping to begin with.
_DAMPING = 1e-3


@dataclass(frozen=True)
class CurveFit:
    """A fitted curve of n parameters through m values, with k expectations.

    `theta`: the parameters, n; `covariance`, n × n, by the values' stated uncertainties; `gain`, n × m: derivatives of the
    parameters by the values; `expected`, n × k: what the expectations bring to the parameters' standard uncertainty; `birge_ratio` is
    what the values' uncertainties must be multiplied by to explain how far they lie from the curve, 1 or more (the Birge
    ratio, R. T. Birge, Phys. Rev. 40 (1932) 207, where it is above 1); `residuals`, m: values less curve.
    """

    theta: Vector
    covariance: Matrix
    gain: Matrix
    expected: Matrix
    birge_ratio: float
    residuals: Vector


class _NotFound(Exception):  # noqa: N818  # an outcome, caught below
    """The steps led nowhere."""


def fit_curve(
    curve: Curve, start: Vector, values: Vector, sds: Vector, usual: Vector, usual_sd: Vector, *, rounds: int = 1
) -> CurveFit | None:
    """Fit a curve to `values`, m, with standard uncertainties `sds`, m, above 0; None where the steps lead nowhere.

    `usual` and `usual_sd`, n each, are what the parameters are expected to be; an infinite sd expects nothing. With more
    `rounds` than one, values far off are held back by Huber's weights, in the scale by which the values really scatter.
    """
    expected = np.isfinite(usual_sd)
    pull = np.diag(1.0 / usual_sd)[expected]
    mean = usual[expected] / usual_sd[expected]

    def away(theta: Vector | None) -> Vector:
        if theta is None:
            return np.zeros(len(values))
        residuals = np.abs(curve(theta)[0] - values) / sds
        # scipy's own median of few values takes longer than all the rest
        return np.asarray(residuals / max(1.0, SD_BY_MEDIAN * float(np.median(residuals))))

    def solve(weights: Vector, before: Vector | None) -> Vector | None:
        return _solve(curve, start if before is None else before, values, np.sqrt(weights) / sds, pull, mean)

    try:
        first: Vector | None = None
        theta, _ = reweight(first, away, solve, bend=EFFICIENT, rounds=rounds)
    except _NotFound:
        return None
    return None if theta is None else _describe(curve, theta, values, sds, usual, usual_sd)


def _solve(curve: Curve, start: Vector, values: Vector, weight: Vector, pull: Matrix, mean: Vector) -> Vector:
    """The parameters at a minimum of the weighted sum of squares; raises `_NotFound`.

    Steps between Gauss's and the steepest descent, damped by the largest slopes yet of each parameter, the more the less the last
    one did what it promised. Sources: D. W. Marquardt, J. Soc. Ind. Appl. Math. 11 (1963) 431; the scale, J. J. Moré, Lect.
    Notes Math. 630 (1978) 105; the damping, H. B. Nielsen, Technical University of Denmark, IMM-REP-1999-05.
    """

    def look(theta: Vector) -> tuple[float, Vector, Matrix]:
        fitted, slopes = curve(theta)
        off = np.concatenate([(fitted - values) * weight, pull @ theta - mean])
        slopes = np.concatenate([slopes * weight[:, None], pull])
        return float(off @ off), slopes.T @ off, slopes.T @ slopes

    theta, damping, harder = start, _DAMPING, 2.0
    square, uphill, normal = look(theta)
    scale = np.maximum(np.diagonal(normal), 1e-12)
    for _ in range(_MOST_STEPS):
        try:
            step = np.linalg.solve(normal + np.diag(damping * scale), -uphill)
        except np.linalg.LinAlgError:
            break
        tried = look(theta + step)
        small = float(step @ normal @ step) <= _SETTLED**2
        promised = float(damping * (scale * step) @ step - uphill @ step)
        if tried[0] <= square:
            damping *= max(1.0 / 3.0, 1.0 - (2.0 * (square - tried[0]) / promised - 1.0) ** 3) if promised else 1.0
            theta, harder, (square, uphill, normal) = theta + step, 2.0, tried
            scale = np.maximum(scale, np.diagonal(normal))
        else:
            damping, harder = damping * harder, harder * 2.0
        if small:
            return theta
    raise _NotFound


def _describe(
    curve: Curve, theta: Vector, values: Vector, sds: Vector, usual: Vector, usual_sd: Vector
) -> CurveFit | None:
    fitted, slopes = curve(theta)
    residuals = values - fitted
    weighted = slopes / sds[:, None] ** 2
    try:
        covariance = np.linalg.inv(slopes.T @ weighted + np.diag(usual_sd**-2.0))
    except np.linalg.LinAlgError:
        # values that leave one of the parameters quite open
        return None
    expected = np.isfinite(usual_sd)
    pulled = ((theta - usual) / usual_sd)[expected]
    square = float(np.sum((residuals / sds) ** 2) + np.sum(pulled**2))
    degrees_of_freedom = len(values) + len(pulled) - len(theta)
    birge_ratio = max(1.0, (square / degrees_of_freedom) ** 0.5)
    gain = covariance @ weighted.T
    return CurveFit(theta, covariance, gain, covariance[:, expected] / usual_sd[expected], birge_ratio, residuals)

"""A curve fitted to uncertain values, with what each value and each expectation does to it.

Weighted least squares by MINPACK (`scipy.optimize`). Weak expectations keep numbers finite that no value determines.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from journal.numerics.arrays import Matrix, Vector
from journal.numerics.robust import EFFICIENT, SD_BY_MEDIAN, reweight

#: Values, m, of a curve with some parameters, n, and their derivatives by these, m × n.
Curve = Callable[[Vector], tuple[Vector, Matrix]]
#: MINPACK's codes for a minimum that was found, by one of its measures or by two.
_FOUND = frozenset({1, 2, 3, 4})
_MOST_STEPS = 200


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
    from scipy.optimize import leastsq  # noqa: PLC0415  # a tenth of a second, for those who have a curve to fit

    def off(theta: Vector) -> Vector:
        return np.concatenate([(curve(theta)[0] - values) * weight, pull @ theta - mean])

    def slopes(theta: Vector) -> Matrix:
        return np.concatenate([curve(theta)[1] * weight[:, None], pull])

    theta, *_, code = leastsq(off, start, Dfun=slopes, full_output=True, maxfev=_MOST_STEPS)
    if code not in _FOUND or not np.all(np.isfinite(theta)):
        raise _NotFound
    return np.asarray(theta)


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

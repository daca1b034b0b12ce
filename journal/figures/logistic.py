"""A logistic course fitted to strengths, with what each of them does to it.

Weighted least squares by `scipy.optimize`, far-off readings held back by Huber's weights. Two weak expectations, common
practice, keep the rate and the middle of a course finite where no reading lies on the slope.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from math import exp

import numpy as np
from numpy.typing import NDArray

from journal.science.fermentation import Logistic

Vector = NDArray[np.float64]

#: Below this many strengths four numbers can't be found.
FEWEST = 5
#: Logarithm of the rate, 1/day, and the middle, days, with standard deviations: any ale or lager (common practice).
_USUAL = np.array([np.log(1.5), 2.5])
_USUAL_SD = np.array([1.0, 5.0])
#: Huber's bend, in standard deviations: 95 % efficient on clean normal data (Huber 1964).
_BEND = 1.345
_ROUNDS = 3
#: Logarithms of a fall, °P, and of a rate, 1/day, beyond which nothing is meant: a factor of 55 and 400.
_MOST = np.array([4.0, 6.0])
#: MINPACK's codes for a minimum that was found, by one of its measures or by two.
_FOUND = frozenset({1, 2, 3, 4})
#: °P. An end that is known no better than this has not been seen.
_VAGUE_END = 0.8


@dataclass(frozen=True)
class LogisticFit:
    """A fitted course.

    `gain`: derivatives of end, drop, rate and middle (a row each) by the strengths; `expected`: what the two expectations
    bring to their standard uncertainty, a column each; `stretch` is what the strengths' uncertainties must be multiplied by
    to explain how far they lie from the course, 1 or more; `residuals` °P.
    """

    at: Logistic
    gain: Vector
    expected: Vector
    stretch: float
    residuals: Vector


def curve(theta: Vector, days: Vector) -> tuple[Vector, Vector]:
    """Strengths at times, and their derivatives by end, log drop, log rate and middle, a column each."""
    # scalars by `math`: on four numbers numpy's own functions take ten times as long
    end, log_drop, log_rate, middle = theta.tolist()
    drop, rate = (exp(min(max(log, -50.0), 50.0)) for log in (log_drop, log_rate))
    reach = np.minimum(np.maximum(rate * (days - middle), -500.0), 500.0)
    left = 1.0 / (1.0 + np.exp(reach))
    remaining = drop * left
    fall = remaining * (1.0 - left)
    slopes = np.empty((len(days), 4))
    slopes[:, 0], slopes[:, 1], slopes[:, 2], slopes[:, 3] = 1.0, remaining, -fall * reach, fall * rate
    return end + remaining, slopes


def _start(days: Vector, strengths: Vector) -> Vector:
    end, top = float(np.min(strengths)), float(np.max(strengths))
    drop = max(top - end, 0.1)
    half = days[np.argmax(strengths <= end + drop / 2)]
    return np.array([end, np.log(drop), _USUAL[0], min(max(float(half), 0.3), 20.0) * 0.8])


def _solve(days: Vector, strengths: Vector, sds: Vector) -> Vector | None:
    from scipy.optimize import leastsq  # noqa: PLC0415  # a tenth of a second, for those who have a course to fit

    count, usual_weight = len(days), 1.0 / _USUAL_SD

    def off(theta: Vector) -> Vector:
        away = np.empty(count + 2)
        away[:count] = (curve(theta, days)[0] - strengths) * weight
        away[count:] = (theta[2:] - _USUAL) * usual_weight
        return away

    def slopes(theta: Vector) -> Vector:
        rows = np.zeros((count + 2, 4))
        rows[:count] = curve(theta, days)[1] * weight[:, None]
        rows[count, 2], rows[count + 1, 3] = usual_weight
        return rows

    weight, theta = 1.0 / sds, _start(days, strengths)
    for _ in range(_ROUNDS):
        theta, *_, code = leastsq(off, theta, Dfun=slopes, full_output=True, maxfev=200)
        if code not in _FOUND or not np.all(np.isfinite(theta)) or np.any(np.abs(theta[1:3]) > _MOST):
            return None
        away = np.abs(curve(theta, days)[0] - strengths) / sds
        scale = max(1.0, 1.4826 * float(np.median(away)))
        held = np.sqrt(np.minimum(1.0, _BEND * scale / np.maximum(away, 1e-12)))
        if np.all(held == 1.0):
            break
        weight = held / sds
    return np.asarray(theta)


def fit_logistic(days: Vector, strengths: Vector, sds: Vector) -> LogisticFit | None:
    """The course of strengths, °P, over days since pitching; `sds` their standard uncertainties, above 0.

    None where there are fewer than five, or fewer than four times, where nothing fell, or where the end is not in sight.
    """
    return _fit(days.tobytes(), strengths.tobytes(), sds.tobytes())


@lru_cache(maxsize=4096)
def _fit(*numbers: bytes) -> LogisticFit | None:
    # the readings of one batch are looked at for its figures, its working and its balance
    days, strengths, sds = (np.frombuffer(part) for part in numbers)
    if len(set(days.tolist())) < FEWEST - 1 or len(days) < FEWEST:
        return None
    if float(np.max(strengths) - np.min(strengths)) < 3.0 * float(np.max(sds)):
        return None
    try:
        theta = _solve(days, strengths, sds)
        return None if theta is None else _made(theta, days, strengths, sds)
    except np.linalg.LinAlgError:
        # readings that leave one of the four numbers quite open
        return None


def _made(theta: Vector, days: Vector, strengths: Vector, sds: Vector) -> LogisticFit | None:
    fitted, slopes = curve(theta, days)
    residuals = strengths - fitted
    usual = np.diag([0.0, 0.0, *_USUAL_SD**-2.0])
    covariance = np.linalg.inv(slopes.T @ (slopes / sds[:, None] ** 2) + usual)
    natural = np.array([1.0, np.exp(theta[1]), np.exp(theta[2]), 1.0])
    square = float(np.sum((residuals / sds) ** 2) + np.sum(((theta[2:] - _USUAL) / _USUAL_SD) ** 2))
    stretch = max(1.0, (square / (len(days) + 2 - 4)) ** 0.5)
    # one that is next to open comes out of the arithmetic as anything
    if not 0.0 < stretch**2 * covariance[0, 0] <= _VAGUE_END**2:
        return None
    at = Logistic(float(theta[0]), float(natural[1]), float(natural[2]), float(theta[3]))
    gain = natural[:, None] * (covariance @ (slopes / sds[:, None] ** 2).T)
    expected = natural[:, None] * (covariance[:, 2:] / _USUAL_SD)
    return LogisticFit(at, gain, expected, stretch, residuals)

"""A logistic course fitted to strengths, with what each of them does to it.

Readings far off are held back by Huber's weights. Two weak expectations, common practice, keep the rate and the middle of a
course finite where no reading lies on the slope.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from math import exp

import numpy as np

from journal.numerics import Matrix, Vector
from journal.numerics.curve import CurveFit, fit_curve
from journal.science.fermentation import Logistic

#: Below this many strengths four numbers can't be found.
FEWEST_GRAVITIES = 5
#: Of end, log drop, logarithm of the rate, 1/day, and middle, days, what is usual, with standard deviations: any ale or lager
#: (common practice).
_USUAL = np.array([0.0, 0.0, np.log(1.5), 2.5])
_USUAL_SD = np.array([np.inf, np.inf, 1.0, 5.0])
_ROUNDS = 3
#: Logarithms of a fall, °P, and of a rate, 1/day, beyond which nothing is meant: a factor of 55 and 400.
_MOST = np.array([4.0, 6.0])
#: °P. An end that is known no better than this has not been seen.
_VAGUE_END = 0.8


@dataclass(frozen=True)
class LogisticFit:
    """A fitted course.

    `gain`, 4 × m: derivatives of end, drop, rate and middle by the m strengths; `expected`, 4 × 2: what the two expectations
    bring to their standard uncertainty, a column each; `birge_ratio` is what the strengths' uncertainties must be multiplied by
    to explain how far they lie from the course, 1 or more; `residuals` °P.
    """

    at: Logistic
    gain: Matrix
    expected: Matrix
    birge_ratio: float
    residuals: Vector


def curve(theta: Vector, days: Vector) -> tuple[Vector, Matrix]:
    """Strengths at m times, and their derivatives by end, log drop, log rate and middle, m × 4."""
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
    return np.array([end, np.log(drop), _USUAL[2], min(max(float(half), 0.3), 20.0) * 0.8])


def fit_logistic(days: Vector, strengths: Vector, sds: Vector) -> LogisticFit | None:
    """The course of strengths, °P, over days since pitching; `sds` their standard uncertainties, above 0.

    None where there are fewer than five, or fewer than four times, where nothing fell, or where the end is not in sight.
    """
    return _fit(days.tobytes(), strengths.tobytes(), sds.tobytes())


@lru_cache(maxsize=4096)
def _fit(*numbers: bytes) -> LogisticFit | None:
    # the readings of one batch are looked at for its figures, its working and its balance
    days, strengths, sds = (np.frombuffer(part) for part in numbers)
    if len(set(days.tolist())) < FEWEST_GRAVITIES - 1 or len(days) < FEWEST_GRAVITIES:
        return None
    if float(np.max(strengths) - np.min(strengths)) < 3.0 * float(np.max(sds)):
        return None
    found = fit_curve(
        lambda theta: curve(theta, days), _start(days, strengths), strengths, sds, _USUAL, _USUAL_SD, rounds=_ROUNDS
    )
    return None if found is None or np.any(np.abs(found.theta[1:3]) > _MOST) else _in_natural_numbers(found)


def _in_natural_numbers(found: CurveFit) -> LogisticFit | None:
    end, log_drop, log_rate, middle = found.theta.tolist()
    # one that is next to open comes out of the arithmetic as anything
    if not 0.0 < found.birge_ratio**2 * found.covariance[0, 0] <= _VAGUE_END**2:
        return None
    natural = np.array([1.0, np.exp(log_drop), np.exp(log_rate), 1.0])
    at = Logistic(end, float(natural[1]), float(natural[2]), middle)
    scale = natural[:, None]
    return LogisticFit(at, scale * found.gain, scale * found.expected, found.birge_ratio, found.residuals)

"""How a mash's extract came into solution: a first-order approach fitted to the gravities read on the way.

Two weak expectations, common practice, keep the course finite where few readings lie on its slope.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Any, NamedTuple

import numpy as np

from journal.figures.propagate import nominal
from journal.figures.uncertain import ErrorKind, ErrorSource, Uncertain, combine, source
from journal.numerics import Matrix, Vector
from journal.numerics.curve import fit_curve

#: Below this many readings there is no course.
FEWEST_TIMES = 3
#: Of the end nothing is expected; when a mash starts to give, min, and the logarithm of the min in which what is missing falls
#: to 1/e, with standard deviations (common practice).
_USUAL = np.array([0.0, 2.0, np.log(15.0)])
_USUAL_SD = np.array([np.inf, 3.0, 0.6])
#: An end that is known no better than this share of itself has not been seen.
_VAGUE_END = 0.1


class Approach(NamedTuple):
    """A course in three numbers: what it tends to, kg of extract in a kg of water; its start and its constant, min."""

    dissolved: Any
    start: Any
    constant: Any


@dataclass(frozen=True)
class ApproachFit:
    """A fitted course: `gain`, 3 × m, has its derivatives by the m readings, `expected`, 3 × 2, what the two expectations bring to it.

    `birge_ratio` is what the readings' uncertainties must be multiplied by to explain how far they lie from the course, 1 or
    more; `slopes` is how fast it rises at each reading, 1/min.
    """

    at: Approach
    gain: Matrix
    expected: Matrix
    birge_ratio: float
    slopes: Vector


def _curve(theta: Vector, minutes: Vector) -> tuple[Vector, Matrix, Vector]:
    """What is dissolved at m times, its derivatives by end, start and log constant, m × 3, and its rise, 1/min."""
    end, start, constant = theta[0], theta[1], np.exp(np.clip(theta[2], -3.0, 9.0))
    since = np.maximum(minutes - start, 0.0)
    left = np.exp(-since / constant)
    rise = np.where(since > 0.0, end * left / constant, 0.0)
    return end * (1.0 - left), np.stack([1.0 - left, -rise, -rise * since], axis=1), rise


def fit_approach(minutes: Vector, dissolved: Vector, sds: Vector) -> ApproachFit | None:
    """The course of what is dissolved, kg in a kg of water; `sds` are standard uncertainties, above 0.

    None where there are too few readings or where the end is not in sight.
    """
    return _fit(minutes.tobytes(), dissolved.tobytes(), sds.tobytes())


@lru_cache(maxsize=1024)
def _fit(*numbers: bytes) -> ApproachFit | None:
    # the readings of one batch are looked at for its figures and for their working
    minutes, dissolved, sds = (np.frombuffer(part) for part in numbers)
    if len(np.unique(minutes)) < FEWEST_TIMES or np.max(dissolved) <= 0.0:
        return None
    start = np.array([1.05 * float(np.max(dissolved)), *_USUAL[1:]])
    found = fit_curve(lambda theta: _curve(theta, minutes)[:2], start, dissolved, sds, _USUAL, _USUAL_SD)
    if found is None:
        return None
    end, began, log_constant = found.theta.tolist()
    if not end > 0.0 or found.birge_ratio * found.covariance[0, 0] ** 0.5 > _VAGUE_END * end:
        return None
    natural = np.array([1.0, 1.0, np.exp(log_constant)])
    at = Approach(end, began, float(natural[2]))
    rise = _curve(found.theta, minutes)[2]
    return ApproachFit(at, natural[:, None] * found.gain, natural[:, None] * found.expected, found.birge_ratio, rise)


def approach_of(minutes: list[Any], dissolved: list[Any]) -> Approach | None:
    """The course of readings, each with its uncertainty, and its three numbers with theirs; None where there is none.

    A reading's time is uncertain too, which counts by how fast the course rises there.
    """
    times = np.array([nominal(at) for at in minutes])
    values = np.array([nominal(amount) for amount in dissolved])
    # a reading that is known exactly is none, but a test's
    own = np.array([max(getattr(amount, "sd", 0.0), 1e-5) for amount in dissolved])
    clock = np.array([getattr(at, "sd", 0.0) for at in minutes])
    first = fit_approach(times, values, own)
    found = fit_approach(times, values, np.hypot(own, clock * first.slopes)) if first else None
    if first is None or found is None:
        return None
    fit = found
    moved = [
        (index, number, slope)
        for index, (amount, at) in enumerate(zip(dissolved, minutes, strict=True))
        for number, slope in ((amount, 1.0), (at, -float(first.slopes[index])))
        if isinstance(number, Uncertain)
    ]
    decided = [ErrorSource(name, ErrorKind.MODEL) for name in ("conversion_end", "conversion_time_95")]

    def number(row: int) -> Any:
        parts = [(known, slope * float(fit.gain[row, index]) * fit.birge_ratio) for index, known, slope in moved]
        expected = [(source(0.0, 1.0, of), float(part)) for of, part in zip(decided, fit.expected[row], strict=True)]
        return combine(fit.at[row], [*parts, *expected])

    return Approach._make(number(row) for row in range(3))

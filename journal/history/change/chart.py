"""The individuals and moving-range chart: what one batch may differ from the next by mere scatter."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import fsum

from journal.frozen import dataclass

#: Expected range of two values from one normal distribution, in standard deviations (d2 for n = 2).
EXPECTED_RANGE = 1.128


@dataclass(frozen=True)
class ControlLimits:
    """Limits of a series in the unit of its values."""

    centre: float  # mean
    lower: float  # centre - 3 sigma
    upper: float  # centre + 3 sigma
    sigma: float  # scatter from batch to batch, by the mean moving range; not raised by a slow drift or a single step


def individuals_chart(values: Sequence[float]) -> ControlLimits:
    """Chart limits of single values: mean ± 3 mean moving ranges / 1.128.

    `values`: at least two finite numbers in order of date, any unit.

    Out: limits in the unit of the values.

    Raises ValueError: fewer than two values have no moving range.

    Source: NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2.

    >>> chart = individuals_chart([49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1])
    >>> round(chart.lower, 4), round(chart.centre, 4), round(chart.upper, 4)
    (45.8159, 50.81, 55.8041)
    """
    count = len(values)
    if count < 2:
        raise ValueError("a moving range takes two values")
    centre = fsum(values) / count
    mean_range = fsum(abs(after - before) for before, after in pairwise(values)) / (count - 1)
    sigma = mean_range / EXPECTED_RANGE
    return ControlLimits(
        centre=centre,
        lower=centre - 3 * sigma,
        upper=centre + 3 * sigma,
        sigma=sigma,
    )

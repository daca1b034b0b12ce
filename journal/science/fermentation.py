"""The course of a fermentation: strength falls along a logistic curve, until it stands still."""

import math
from typing import NamedTuple

#: SG. A change of this much is half a volume of carbon dioxide: no uncertainty excuses it.
MOST_CHANGE = 0.002

#: Days, SG, standard uncertainty of the SG.
GravityAt = tuple[float, float, float]


class Logistic(NamedTuple):
    """A course in four numbers: the strength it ends at and how far it falls, degP; its rate, 1/day; its middle, day."""

    end: float
    drop: float
    rate: float
    middle: float


def strength(course: Logistic, days: float) -> float:
    """Return the apparent extract at a time, degP.

    course: drop and rate above 0; days: since pitching.
    Source: ASBC Methods of Analysis, Yeast-14: P(t) = P_end + P_drop/(1 + exp(B (t - M))), B counted positive for a fall;
    held against a five- and a three-parameter logistic in "Predicting Fermentation Rates in Ale, Lager and Whisky",
    Fermentation 7 (2021) 13.

    >>> round(strength(Logistic(2.5, 9.5, 2.0, 1.5), 1.5), 2)
    7.25
    """
    return course.end + course.drop / (1.0 + math.exp(min(course.rate * (days - course.middle), 700.0)))


def peak_rate(course: Logistic) -> float:
    """Return the fastest fall from pitching on, degP/day.

    course: drop and rate above 0.
    Source: the logistic's slope, drop * rate / 4 at its middle; of a course whose middle lies before pitching, the slope
    at pitching.

    >>> round(peak_rate(Logistic(2.5, 9.5, 2.0, 1.5)), 2)
    4.75
    """
    share = 1.0 / (1.0 + math.exp(max(-course.rate * course.middle, 0.0)))
    return course.drop * course.rate * share * (1.0 - share)


def days_until(course: Logistic, above: float) -> float:
    """Return when a course is as near as this to its end, days since pitching; 0 where it begins there.

    course: drop and rate above 0; above: degP over the end, above 0.
    Source: the logistic solved for the time.

    >>> round(days_until(Logistic(2.5, 9.5, 2.0, 1.5), 0.25), 2)
    3.31
    """
    if above <= 0.0:
        raise ValueError("a course comes near its end and never reaches it")
    if course.drop <= above:
        return 0.0
    return max(0.0, course.middle + math.log(course.drop / above - 1.0) / course.rate)


def pitching_rate(cells: float, volume: float, plato: float) -> float:
    """Return how much yeast was pitched, million cells to each mL and degP.

    cells: billion (1e9), 0 or more; volume: L of wort, above 0; plato: degP, above 0. About 0.75 for ales and 1.5 for lagers is
    common practice.
    Source: definition.

    >>> round(pitching_rate(180.0, 20.0, 12.0), 3)
    0.75
    """
    if volume <= 0.0 or plato <= 0.0:
        raise ValueError(f"a pitching rate needs wort with extract, not {volume:g} L of {plato:g} degP")
    return cells / volume / plato


def unchanged(one: GravityAt, other: GravityAt) -> bool:
    """Return whether two gravities are the same as far as can be told.

    one, other: days, SG and its standard uncertainty. They are when they differ by no more than the two are uncertain by
    (k = 1), and by no more than 0.002.
    Source: common practice, on the safe side: an uncertainty of one standard deviation excuses a third of all changes.

    >>> unchanged((10.0, 1.011, 0.001), (13.0, 1.010, 0.001))
    True
    """
    allowed = min(math.hypot(one[2], other[2]), MOST_CHANGE)
    return abs(one[1] - other[1]) <= allowed + 1e-9

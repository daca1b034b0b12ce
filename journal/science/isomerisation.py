"""How alpha acids turn into bitterness below the boil: in a hot stand, while the wort cools, and what that is worth in minutes of boil.

The boil's own formula (`hops.tinseth_utilisation`) knows boiling wort alone. A stand is joined to it by time: it counts as the
minutes at 100 degC that leave as much iso-alpha acid of fresh hops, so that one hop has one utilisation whatever befell it.
"""

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

_KELVIN = 273.15
#: Per minute, and kelvin, of the two rates: alpha acid to iso-alpha acid, and iso-alpha acid to what is bitter no more.
_FORMED = (7.9e11, 11858.0)
_LOST = (4.1e12, 12994.0)
_BOIL = 100.0  # degC
#: degC that wort cools towards: the cold water's or the room's (common practice).
SURROUNDINGS = 15.0
#: How far off `boil_minutes` may be, a share of them, k = 1. Between 80 and 100 degC two studies fit Arrhenius' law, and the two
#: isomers differ by 9 kJ/mol in it (B. Jaskula et al., J. Agric. Food Chem. 56 (2008) 6408, abstract), which from 100 to 80 degC
#: makes 18 %.
MINUTES_SD = 0.2
_COOLING_PARTS = 40
_HALVINGS = 60


class HopAcids(NamedTuple):
    """What became of a hop's alpha acid: shares of all that was added, still alpha acid and now iso-alpha acid."""

    alpha: float = 1.0
    iso: float = 0.0


#: A part of a hop's way at one temperature: degC and min.
Hold = tuple[float, float]


def isomerisation_rates(temperature: float) -> tuple[float, float]:
    """Return how fast iso-alpha acid forms and is lost, both per minute.

    temperature: degC; measured from 90 to 130, and carried on below by Arrhenius' law.
    Source: M. G. Malowicki & T. H. Shellhammer, J. Agric. Food Chem. 53 (2005) 4434: 7.9e11 exp(-11858/T) and
    4.1e12 exp(-12994/T), T in K, in buffered water of pH 5.2; no effect of pH 4.8 to 6.0, sugar or calcium.

    >>> [round(rate, 4) for rate in isomerisation_rates(100.0)]
    [0.0125, 0.0031]
    """
    kelvin = temperature + _KELVIN
    if kelvin <= 0.0:
        raise ValueError(f"nothing is as cold as {temperature:g} degC")
    return _FORMED[0] * math.exp(-_FORMED[1] / kelvin), _LOST[0] * math.exp(-_LOST[1] / kelvin)


def isomerised(way: Sequence[Hold], start: HopAcids = HopAcids()) -> HopAcids:  # noqa: B008 - a tuple, which nobody can change
    """Return what has become of a hop's alpha acid after some time hot.

    way: degC and min, 0 or more, one after the other; start: what came in, of fresh hops unless stated.
    Source: two first-order steps one after the other, with `isomerisation_rates`.

    >>> round(isomerised([(100.0, 60.0)]).iso, 3)
    0.476
    >>> round(isomerised([(80.0, 20.0)]).iso, 4)
    0.0403
    """
    alpha, iso = start
    for temperature, minutes in way:
        if minutes < 0.0:
            raise ValueError(f"hops are hot for some time or none, not for {minutes:g} min")
        formed, lost = isomerisation_rates(temperature)
        left, kept = math.exp(-formed * minutes), math.exp(-lost * minutes)
        iso = iso * kept + alpha * formed / (lost - formed) * (left - kept)
        alpha *= left
    return HopAcids(alpha, iso)


def cooling(start: float, end: float, minutes: float, surroundings: float = SURROUNDINGS) -> list[Hold]:
    """Return the cooling of wort as short holds, for `isomerised` and `boil_minutes`.

    start, end: degC, end below start and above the surroundings; minutes: from the one to the other, 0 or more;
    surroundings: degC that it cools towards. The holds are shortest at first, where it is hottest; what they leave of iso-alpha
    acid is within 0.3 % of the smooth course.
    Source: Newton's law of cooling, T - S falls by the same share each minute.

    >>> [(round(t, 1), round(m, 2)) for t, m in cooling(95.0, 20.0, 40.0)][::13]
    [(94.9, 0.03), (73.3, 0.67), (38.7, 1.33), (20.4, 1.98)]
    """
    if not surroundings < end <= start:
        raise ValueError(f"wort in surroundings of {surroundings:g} degC does not cool from {start:g} to {end:g} degC")
    fall = math.log((end - surroundings) / (start - surroundings))
    shares = [(number / _COOLING_PARTS) ** 2 for number in range(_COOLING_PARTS + 1)]
    return [
        (surroundings + (start - surroundings) * math.exp(fall * (begun + done) / 2.0), minutes * (done - begun))
        for begun, done in pairwise(shares)
    ]


def boil_minutes(way: Sequence[Hold]) -> float:
    """Return the minutes at 100 degC that leave as much iso-alpha acid of fresh hops.

    way: as in `isomerised`. Of hops that boiled before, these minutes are added to theirs. What leaves more than boiling ever
    does (63 % after 149 min) counts as those 149 min.
    Source: `isomerised`, solved for the time by halving.

    >>> round(boil_minutes([(80.0, 20.0)]), 2)
    3.31
    >>> round(boil_minutes([(100.0, 60.0)]), 6)
    60.0
    """
    wanted = isomerised(way).iso
    formed, lost = isomerisation_rates(_BOIL)
    low, high = 0.0, math.log(formed / lost) / (formed - lost)
    for _ in range(_HALVINGS):
        middle = (low + high) / 2.0
        if isomerised([(_BOIL, middle)]).iso < wanted:
            low = middle
        else:
            high = middle
    return (low + high) / 2.0

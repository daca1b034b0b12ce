"""Mash and lauter: what the liquor takes up and what the grain bed lets go."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum

#: Rinses that a fly sparge counts for: more than one, fewer than the endless number of the textbook's plug flow (common
#: practice).
_FLY_RUN_OFFS = 3
#: L of mash that a kilogram of grain takes up (common practice).
GRAIN_DISPLACEMENT = 0.67
_PH_SHIFT_PER_KELVIN = 0.35 / (65.0 - 20.0)


@dataclass(frozen=True)
class EnzymeRange:
    """The temperatures where one of the malt's enzymes does most of its work.

    Authors differ by several kelvin, so these are bands to show and not thresholds: `low_spread` and `high_spread` say how
    far the book's first edition puts each end elsewhere, at least the kelvin that a mash is uneven by (common practice).
    """

    name: str  # plain ASCII, as figures are named
    low: float  # degC
    high: float  # degC
    source: str
    low_spread: float = 1.0  # K
    high_spread: float = 1.0  # K


ENZYMES = (
    EnzymeRange("beta_glucanase", 36.0, 45.0, "J. Palmer, How to Brew, ch. 14, table"),
    EnzymeRange("protease", 46.0, 57.0, "J. Palmer, How to Brew, ch. 14, table", high_spread=2.0),
    EnzymeRange("beta_amylase", 54.0, 66.0, "J. Palmer, How to Brew, ch. 14, table"),
    EnzymeRange("alpha_amylase", 68.0, 75.0, "J. Palmer, How to Brew, ch. 14, table", high_spread=3.0),
)


def first_wort_maximum(extract_as_is: float, liquor_to_grist: float, moisture: float) -> float:
    """Return the strength of the first wort, degP, when all extract has dissolved.

    extract_as_is: kg extract per kg grist, 0 to 1; liquor_to_grist: kg of liquor per kg of grist, 1.5 to 8;
    moisture: fraction of the grist, 0 to 0.15.
    Source: mass balance, 100 e/(e + R + M). Left out, the moisture would cost about 0.2 degP.

    >>> round(first_wort_maximum(0.768, 3.0, 0.04), 3)
    20.168
    """
    whole = extract_as_is + liquor_to_grist + moisture
    if whole <= 0.0:
        raise ValueError("a mash without liquor, moisture and extract has no strength")
    return 100.0 * extract_as_is / whole


def dissolved_extract(water_mass: float, plato: float) -> float:
    """Return the extract, kg, dissolved in the mash's water.

    water_mass: kg of all water in the mash, the grain's moisture included; plato: degP of the first wort, 0 to 35.
    Source: definition of degP, M * P/(100 - P).

    >>> round(dissolved_extract(15.2, 20.168), 3)
    3.84
    """
    if plato >= 100.0:
        raise ValueError(f"a wort cannot have {plato:g} degP: 100 would be dry extract")
    return water_mass * plato / (100.0 - plato)


def run_offs_of(method: str | None, fillings: int = 1) -> int:
    """Return how many equal rinses the sparge counts for.

    method: a lautering method as an entry names it; None and any but a fly sparge is one rinse, if it is sparged at all.
    fillings: how many times the sparge liquor was poured and run off in turn, where that is written; more than a method counts for count.
    Source: common practice.

    >>> run_offs_of("fly sparge"), run_offs_of("batch sparge"), run_offs_of("batch sparge", 2)
    (3, 1, 2)
    """
    return max(_FLY_RUN_OFFS if method == "fly sparge" else 1, fillings)


def run_off(
    water_masses: Sequence[float], grain_weight: float, retained: float, dissolved: float, moisture: float
) -> list[tuple[float, float]]:
    """Return the strength, degP, and the extract, kg, of each running from a well-mixed bed.

    water_masses: kg, the mash liquor first, then each sparge, each drained before the next is added;
    grain_weight: kg; retained: kg of water the drained bed keeps per kg of grain, about 1.2 to 1.5;
    dissolved: kg of extract in solution before the first running; moisture: fraction of the grain, 0 to 0.15.
    Bed and liquor are taken to be mixed evenly; poorer mixing gives less. Where there is no more water than the bed
    keeps, nothing runs.
    Source: mass balance; running k carries off the share (W - held)/W of the extract then in the tun, W the water.

    >>> [(round(p, 3), round(x, 4)) for p, x in run_off([15.0, 10.0], 5.0, 1.0, 3.84, 0.04)]
    [(20.168, 2.5768), (7.767, 0.8421)]
    """
    runnings = []
    water = grain_weight * moisture
    left = dissolved
    for added in water_masses:
        water += added
        if water <= 0.0:
            raise ValueError("there is no water in the tun, so nothing can run off")
        kept = min(water, grain_weight * retained)
        staying = left * (kept / water)
        runnings.append((100.0 * left / (left + water), left - staying))
        left, water = staying, kept
    return runnings


def lauter_efficiency(
    water_masses: Sequence[float], grain_weight: float, retained: float, dissolved: float, moisture: float
) -> float:
    """Return the share of the dissolved extract that a well-mixed bed lets run to the kettle.

    Arguments as in `run_off`; dissolved must not be 0.
    Source: as `run_off`.

    >>> round(lauter_efficiency([15.0, 10.0], 5.0, 1.0, 3.84, 0.04), 4)
    0.8904
    """
    if dissolved == 0.0:
        raise ValueError("with no extract dissolved there is no lauter efficiency")
    runnings = run_off(water_masses, grain_weight, retained, dissolved, moisture)
    return fsum(extract for _, extract in runnings) / dissolved


def ph_at_20(ph: float, temperature: float) -> float:
    """Return the pH the same mash or wort has at 20 degC.

    ph: as measured, 4 to 7; temperature: degC of the sample, 10 to 70.
    A pH meter's own temperature compensation doesn't do this: the acids themselves dissociate further when hot.
    Source: about 0.35 lower at 65 degC than in a room, the figure that brewers use (common practice; K. Troester, About pH
    targets and temperature, 2011, quotes it for 25 degC); taken as linear between.

    >>> round(ph_at_20(5.05, 65.0), 2)
    5.4
    """
    return ph + _PH_SHIFT_PER_KELVIN * (temperature - 20.0)


def minutes_in_range(rests: Sequence[tuple[float, float]], low: float, high: float) -> float:
    """Return the minutes of rest spent from `low` to `high`, both included.

    rests: pairs of temperature, degC, and time, min; low, high: degC. The time between rests is not in it.
    Source: definition.

    >>> minutes_in_range([(52.0, 10.0), (66.0, 60.0), (76.0, 10.0)], 54.0, 66.0)
    60.0
    """
    return fsum(minutes for temperature, minutes in rests if low <= temperature <= high)


def conversion(end: float, start: float, constant: float, minutes: float) -> float:
    """Return what the mash has dissolved at a time, in the unit of `end`; nothing before it starts.

    end: what it tends to; start: min since mashing in; constant: min in which what is missing falls to 1/e, above 0.
    Source: first-order approach, end (1 - exp(-(t - start)/constant)): what is left to dissolve dissolves at a rate that
    is in proportion to it. A description of readings and no model of the enzymes.

    >>> round(conversion(0.95, 2.0, 15.0, 32.0), 3)
    0.821
    """
    if constant <= 0.0:
        raise ValueError("a mash that takes no time has no course")
    return end * -math.expm1(-max(minutes - start, 0.0) / constant)


def time_to_share(start: float, constant: float, share: float) -> float:
    """Return when the mash has dissolved a share of what it tends to, min since mashing in.

    start, constant: as in `conversion`; share: 0 to below 1.
    Source: the first-order approach solved for the time.

    >>> round(time_to_share(2.0, 15.0, 0.95), 1)
    46.9
    """
    if not 0.0 <= share < 1.0:
        raise ValueError("a course comes near its end and never reaches it")
    return start - constant * math.log1p(-share)

"""Carbon dioxide in beer: what stays after fermentation, what a sugar gives, and whether it may be given at all."""

import math
from collections.abc import Sequence

from journal.science import beer, wort
from journal.science.fermentation import MOST_CHANGE, GravityAt, unchanged

_MOLAR_MASS = 44.0095  # g/mol, carbon dioxide
_ATMOSPHERE = 1.01325  # bar
#: What beer holds of what water would. A lager at 6 degC holds about 2.4 g/L at 1 bar (G. Liger-Belair & C. Cilindre, ACS
#: Omega 6 (2021) 9672, table 1), 0.89 of water; the trade's table of pressures, as printed in
#: BrewingTechniques 2(1) (1994), takes 0.92 to 0.95 from 0 to 8 degC.
BEER_SHARE = 0.92
#: g of carbon dioxide from a gram of extract that ferments while yeast grows (Balling's relation, as in `beer`).
_GAS_OF_EXTRACT = 0.9565 / 2.0665
#: g of carbon dioxide from a gram, if all of it ferments: 2 mol from a mol of a simple sugar, 4 from one of sucrose or maltose.
_SIMPLE, _DOUBLE = 2.0 * _MOLAR_MASS / 180.156, 4.0 * _MOLAR_MASS / 342.297
#: g of carbon dioxide from a gram of what beers are primed with, as sold. Total sugars of brown sugar, molasses, maple and agave
#: syrup: table 1 of PMC 3471321 (2012; USDA), weights in a teaspoon; of honey the mean of that and of McCance & Widdowson (7th ed.).
#: Syrups of 80 % by common practice; of golden syrup half is inverted. Of malt extract ferments 0.63 of its extract (common practice).
SUGARS = {
    "dextrose": 2.0 * _MOLAR_MASS / 198.171,  # glucose monohydrate, as the trade sells it
    "glucose": _SIMPLE,
    "sucrose": _DOUBLE,
    "fructose": _SIMPLE,
    "maltose": 4.0 * _MOLAR_MASS / 360.312,  # with the molecule of water that its crystals hold
    "candi sugar": 0.99 * _DOUBLE,
    "brown sugar": 0.978 * _DOUBLE,
    "invert syrup": 0.80 * _SIMPLE,
    "golden syrup": 0.80 * (_SIMPLE + _DOUBLE) / 2.0,
    "honey": 0.796 * _SIMPLE,
    "maple syrup": 0.60 * _DOUBLE,
    "agave syrup": 0.76 * _SIMPLE,
    "molasses": 0.552 * (_SIMPLE + _DOUBLE) / 2.0,
    "malt extract, dry": 0.95 * 0.63 * _DOUBLE,
    "malt extract, liquid": 0.80 * 0.63 * _DOUBLE,
}
#: Of that, the standard deviation from one make to another, as a share of it (common practice); what is pure has none.
SUGARS_DIFFER = {
    "candi sugar": 0.01,
    "brown sugar": 0.02,
    "invert syrup": 0.05,
    "golden syrup": 0.03,
    "honey": 0.04,
    "maple syrup": 0.04,
    "agave syrup": 0.07,
    "molasses": 0.10,
    "malt extract, dry": 0.08,
    "malt extract, liquid": 0.10,
}
#: Sugars that brewer's yeast leaves alone, most of them or all: wild yeast may ferment them in the bottle.
UNFERMENTED = frozenset({"lactose", "maltodextrin"})
#: Days the gravity must have stood still before a sugar is added (common practice); three days to the minute are three days,
#: whatever the last bit of their difference.
STILL = 3.0
_A_SECOND = 1.0 / 86400.0


def in_water(temperature: float) -> float:
    """Return the carbon dioxide that water holds under 1 bar of it, g/L.

    temperature: degC, -1 to 40.
    Source: R. F. Weiss, Marine Chemistry 2 (1974) 203, fit to measurements in fresh water and sea water; mol/L by atm.

    >>> round(in_water(20.0), 3)
    1.698
    """
    if not -1.0 <= temperature <= 40.0:
        raise ValueError(f"the solubility is known from -1 to 40 degC, not at {temperature:g}")
    hundreds = (temperature + 273.15) / 100.0
    molar = math.exp(-58.0931 + 90.5069 / hundreds + 22.2940 * math.log(hundreds))
    return molar * _MOLAR_MASS / _ATMOSPHERE


def residual(temperature: float) -> float:
    """Return the carbon dioxide left in beer that fermented in an open or vented vessel, g/L.

    temperature: the warmest the beer has been since it stopped giving off gas, degC, -1 to 40.
    Beer in balance with 1 bar of the gas; real beers hold a tenth more or less.
    Source: `in_water`, times what beer holds of that, 0.92.

    >>> round(residual(20.0), 2)
    1.56
    """
    return BEER_SHARE * in_water(temperature)


def from_pressure(gauge: float, temperature: float, carbon_dioxide: float = 1.0) -> float:
    """Return the carbon dioxide in beer that is in balance with the gas over it, g/L.

    gauge: bar over the room's, -1 to 6; temperature: degC of the beer, -1 to 40; carbon_dioxide: its share of the gas by
    volume, 0 to 1. Balance takes days without shaking. Good to 4 %: the trade's tables lie 1 to 4 % higher, a measured lager 3 %
    lower. The room is taken to have 1.013 bar: 1000 m up it has 0.11 bar less.
    Source: Henry's law, with `in_water` times what beer holds of that, 0.92.

    >>> round(from_pressure(0.90, 4.0), 2)
    5.08
    """
    whole = gauge + _ATMOSPHERE
    if whole < 0.0:
        raise ValueError(f"no gas has a pressure of {gauge:g} bar over the room's")
    if not 0.0 <= carbon_dioxide <= 1.0:
        raise ValueError(f"carbon dioxide is a share of the gas, from 0 to 1, not {carbon_dioxide:g}")
    return BEER_SHARE * in_water(temperature) * whole * carbon_dioxide


def pressure_for(wanted: float, temperature: float, carbon_dioxide: float = 1.0) -> float:
    """Return the gauge pressure that holds a carbonation, bar; below 0 where the beer holds it without any.

    wanted: g/L, 0 or more; temperature, carbon_dioxide: as in `from_pressure`, the share above 0. Never more than the vessel is
    rated for, and never without a relief valve.
    Source: `from_pressure` solved for the pressure.

    >>> round(pressure_for(5.0, 4.0), 2)
    0.87
    """
    if carbon_dioxide <= 0.0:
        raise ValueError("a gas without carbon dioxide carbonates nothing")
    return wanted / (BEER_SHARE * in_water(temperature) * carbon_dioxide) - _ATMOSPHERE


def from_spunding(original: float, closed: float, final: float) -> float:
    """Return the carbon dioxide that a beer makes in the closed vessel, g/L; what it held when closed is not in it.

    original: degP of the wort, 1 to 30; closed, final: apparent degP when the vessel was closed and at the end, final not above
    closed. What goes into the headspace and what a valve lets off is not taken off.
    Source: Balling's relation, 0.9565 g of gas from 2.0665 g of extract; real extract as in `beer`.

    >>> round(from_spunding(12.0, 3.5, 2.5), 2)
    3.8
    """
    fermented = beer.real_extract(original, closed) - beer.real_extract(original, final)
    return 10.0 * wort.density(final) * _GAS_OF_EXTRACT * fermented


def from_sugar(weight: float, volume: float, sugar: str) -> float:
    """Return the carbon dioxide that a sugar gives when it ferments in the closed container, g/L.

    weight: kg, 0 or more; volume: L, above 0; sugar: one of SUGARS.
    Source: stoichiometry of alcoholic fermentation, C6H12O6 to 2 C2H5OH and 2 CO2; molar masses by IUPAC. Nothing is
    taken off for the yeast that grows, a few per cent at most.

    >>> round(from_sugar(0.100, 20.0, "sucrose"), 2)
    2.57
    """
    return 1000.0 * weight * SUGARS[sugar] / volume


def priming(wanted: float, residual: float, volume: float, sugar: str) -> float:
    """Return the sugar that brings a beer to a carbonation, kg; below 0 where it holds more already.

    wanted, residual: g/L; volume: L, above 0; sugar: one of SUGARS.
    Source: as `from_sugar`.

    >>> round(priming(4.7, 1.56, 20.0, "sucrose"), 3)
    0.122
    """
    return (wanted - residual) * volume / SUGARS[sugar] / 1000.0


def may_prime(readings: Sequence[GravityAt], container: str | None) -> str | None:
    """Return why no sugar may be given to a beer, or None where nothing in the record speaks against it.

    readings: days, SG and its standard uncertainty, in any order. Refused unless the container is stated, and readings
    that lie three days or more apart show the gravity standing still, by `unchanged`. That a beer stands still does not
    say it is done: a fermentation can be stuck.
    Source: common practice.

    >>> may_prime([(10.0, 1.012, 0.001), (14.0, 1.010, 0.001)], "bottles")
    "it isn't known to have stood level for three days: 1.012 was read 4 days before the last, 1.010"
    """
    if container is None:
        return "it is not stated what the beer goes into"
    ordered = sorted(readings)
    early = [index for index, reading in enumerate(ordered) if ordered[-1][0] - reading[0] >= STILL - _A_SECOND]
    if not early:
        return "no two readings lie three days or more apart"
    first, last = ordered[early[-1]], ordered[-1]
    if differing := [reading for reading in ordered[early[-1] : -1] if not unchanged(reading, last)]:
        return f"it isn't known to have stood level for three days: {_beside(differing[-1], last)}"
    if math.hypot(first[2], last[2]) > MOST_CHANGE:
        return "the readings are too uncertain to show that the gravity stands still"
    return None


def _beside(one: GravityAt, last: GravityAt) -> str:
    """A gravity beside the last one in words, with as many decimals as tell the two apart."""
    days = math.floor(last[0] - one[0] + _A_SECOND)
    when = {0: "less than a day", 1: "a day"}.get(days, f"{days} days")
    decimals = 3 if f"{one[1]:.3f}" != f"{last[1]:.3f}" else 4
    return f"{one[1]:.{decimals}f} was read {when} before the last, {last[1]:.{decimals}f}"

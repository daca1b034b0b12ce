"""Colour of beer from its grist."""

import math

_POUNDS_PER_GALLON = 3.785411784 / 0.45359237  # in 1 kg/L, US gallon


def malt_colour_units(weighted: float, volume: float) -> float:
    """Return malt colour units: lb times degLovibond in a US gallon.

    weighted: sum over the grist of kg times degLovibond, 0 or more; volume: L of wort at 20 degC, above 0.
    Source: definition; 8.3454 times kg·degL/L.

    >>> round(malt_colour_units(12.0, 20.0), 3)
    5.007
    """
    if volume <= 0.0:
        raise ValueError(f"colour needs a volume above 0, not {volume:g} L")
    return _POUNDS_PER_GALLON * weighted / volume


def morey(mcu: float) -> float:
    """Return beer colour, SRM.

    mcu: malt colour units, 0 to 180; the result is meant below 50 SRM.
    Source: D. A. Morey (1995), SRM = 1.4922 MCU ** 0.6859.

    >>> round(morey(10.0), 2)
    7.24
    """
    if mcu < 0.0:
        raise ValueError(f"malt colour units cannot be below 0, not {mcu:g}")
    return 1.4922 * math.pow(mcu, 0.6859)


def ebc_from_srm(srm: float) -> float:
    """Return beer colour, EBC units.

    srm: beer colour, SRM, 0 to 80.
    Source: common practice, 1.97 SRM; both scales are multiples (25 and 12.7) of the absorbance at 430 nm in 1 cm.

    >>> round(ebc_from_srm(10.0), 1)
    19.7
    """
    return 1.97 * srm


def beer_colour(weight_lovibond_sum: float, volume: float) -> float:
    """Return beer colour, EBC units, from the grist.

    weight_lovibond_sum: sum over the grist of kg times degLovibond, 0 or more; volume: L at knockout, 20 degC.
    Source: `malt_colour_units`, `morey` and `ebc_from_srm`, one after the other.

    >>> round(beer_colour(47.93, 20.0), 1)
    22.9
    """
    return ebc_from_srm(morey(malt_colour_units(weight_lovibond_sum, volume)))

"""Where water boils, by how high above the sea it does."""

import math

#: Of the standard atmosphere: hPa at the sea, and how pressure falls with m of height.
_AT_SEA, _LAPSE, _POWER = 1013.25, 2.25577e-5, 5.25588


def pressure_at(height: float) -> float:
    """Return the air's pressure, hPa, of the standard atmosphere.

    height: m above the sea, -500 to 6000.
    Source: ISO 2533 (ICAO standard atmosphere), constants as The Engineering ToolBox prints them.
    Weather adds or takes 20 hPa, which is 0.6 K of boiling.

    >>> round(pressure_at(1000.0), 1)
    898.7
    """
    return float(_AT_SEA * math.pow(1.0 - _LAPSE * height, _POWER))


def boiling_point(height: float) -> float:
    """Return where water boils, degC.

    height: m above the sea, -500 to 6000.
    Source: Antoine's equation of water, 8.07131 - 1730.63/(233.426 + t) for the logarithm of mmHg, 1 to 100 degC,
    as engineers' tables print it, with `pressure_at`.

    >>> round(boiling_point(0.0), 2), round(boiling_point(1500.0), 1)
    (100.0, 95.0)
    """
    mercury = pressure_at(height) / 1.33322368
    return 1730.63 / (8.07131 - math.log10(mercury)) - 233.426

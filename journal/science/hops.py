"""Bitterness from hops."""

import math


def tinseth_utilisation(gravity: float, minutes: float) -> float:
    """Return the share of the alpha acid that ends as bitterness in the beer.

    gravity: SG of the boiling wort, 1.000 to 1.130; minutes: time in the boil, 0 to 120.
    A model of one brewhouse; 20 % off in another is no surprise.
    Source: G. Tinseth (1997): 1.65 * 0.000125 ** (SG - 1) * (1 - exp(-0.04 t))/4.15.

    >>> round(tinseth_utilisation(1.050, 60.0), 3)
    0.231
    """
    return 1.65 * math.pow(0.000125, gravity - 1.0) * (1.0 - math.exp(-0.04 * minutes)) / 4.15


def bitterness(weight_kg: float, alpha: float, utilisation: float, volume: float) -> float:
    """Return the bitterness one hop gives, mg/L, reckoned as IBU.

    weight_kg: kg, 0 or more; alpha: fraction of alpha acid, 0 to 0.25; utilisation: fraction, 0 to 0.5;
    volume: L of wort at knockout, 20 degC, above 0.
    Source: definition, mass of alpha acid times utilisation over volume.

    >>> round(bitterness(0.030, 0.055, 0.231, 20.0), 1)
    19.1
    """
    if volume <= 0.0:
        raise ValueError(f"bitterness needs a volume above 0, not {volume:g} L")
    return weight_kg * 1e6 * alpha * utilisation / volume

"""Bitterness from hops."""

import math

#: What of its alpha acid a hop in the mash brings to the beer, over what it brings after 60 min of boil: 9.1 % over 44.0 %
#: (T. Justus, MBAA Technical Quarterly 55(3) (2018), abstract; one brewery's beers).
MASH_SHARE = 0.091 / 0.440
#: L of beer that a kilogram of dry hops keeps: 7 and 8 at 2000 and 250 g/hL of pellets (Totally Natural Solutions (2019),
#: quoted in a trade article); others say as much as 8.3, a US gallon to the pound.
BEER_KEPT = 7.5
BEER_KEPT_SD = 0.7  # L/kg


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


def mash_hop_utilisation(gravity: float) -> float:
    """Return the share of the alpha acid of hops in the mash that ends as bitterness in the beer.

    gravity: SG of the boiling wort, 1.000 to 1.130.
    Source: what 60 min of boil give by `tinseth_utilisation`, times MASH_SHARE: one brewery's experience, a third off elsewhere
    is no surprise.

    >>> round(mash_hop_utilisation(1.050), 3)
    0.048
    """
    return MASH_SHARE * tinseth_utilisation(gravity, 60.0)


def beer_kept(weight_kg: float) -> float:
    """Return the beer that stays in dry hops, L.

    weight_kg: kg of cones or pellets as weighed, 0 or more.
    Source: BEER_KEPT, give or take BEER_KEPT_SD.

    >>> round(beer_kept(0.100), 2)
    0.75
    """
    return BEER_KEPT * weight_kg

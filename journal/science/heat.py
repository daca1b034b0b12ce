"""Heat of the mash: strike, infusions, decoctions."""

from itertools import pairwise

from journal.science import water
from journal.science.mash import GRAIN_DISPLACEMENT

# Moisture of the malt, fraction; heat capacity over water's; rise by slaking, K.
_GRIST = (
    (0.00, 0.38, 3.0),
    (0.01, 0.38, 2.8),
    (0.02, 0.39, 2.3),
    (0.03, 0.40, 1.9),
    (0.04, 0.40, 1.5),
    (0.06, 0.41, 1.3),
    (0.08, 0.42, 1.0),
)


def heat_capacity_ratio(moisture: float) -> float:
    """Return the specific heat of grist over that of water.

    moisture: fraction of the grist, 0 to 0.08; beyond, the nearest end of the table serves.
    Source: Pauls & Whites Brewing Room Book (1984/85), table, read linearly between its rows.

    >>> round(heat_capacity_ratio(0.04), 3)
    0.4
    """
    return _grist(moisture, 1)


def slaking_rise(moisture: float) -> float:
    """Return how far the mash warms as dry grist takes up water, K.

    moisture: fraction of the grist, 0 to 0.08; beyond, the nearest end of the table serves.
    Source: Pauls & Whites Brewing Room Book (1984/85), table, read linearly between its rows; at 3 % its
    Fahrenheit column, whose 3.5 agrees with the neighbours.

    >>> round(slaking_rise(0.02), 3)
    2.3
    """
    return _grist(moisture, 2)


def strike_temperature(
    mash_temperature: float, grain_temperature: float, liquor_to_grist: float, moisture: float, slaking: float = 0.0
) -> float:
    """Return how hot the liquor must be for the mash to settle where it is wanted, degC.

    mash_temperature: degC wanted, 35 to 78; grain_temperature: degC, 0 to 35; liquor_to_grist: kg/kg, 1.5 to 8;
    moisture: fraction of the grist, 0 to 0.08; slaking: K, the rise to allow for, `slaking_rise` or 0 where the
    tun's own heat is left out too, since the two pull in opposite directions. Hot liquor scalds: mind the splash.
    Source: heat balance of the Pauls & Whites Brewing Room Book (1984/85), solved for the liquor; with no slaking
    it is T + (c/R)(T - T of the grain).

    >>> round(strike_temperature(67.0, 20.0, 3.0, 0.04), 2)
    73.27
    """
    if liquor_to_grist <= 0.0:
        raise ValueError(f"a strike temperature needs liquor, not {liquor_to_grist:g} kg to a kg of grist")
    mixed = mash_temperature - slaking
    return mixed + heat_capacity_ratio(moisture) / liquor_to_grist * (mixed - grain_temperature)


def mash_heat(grain_weight: float, liquor: float, moisture: float) -> float:
    """Return the heat capacity of a mash, as the kg of water that have the same.

    grain_weight: kg, 0 or more; liquor: L at 20 degC that is with it; moisture: fraction of the grist, 0 to 0.08. The tun's own
    is not in it.
    Source: heat balance, with `heat_capacity_ratio`.

    >>> round(mash_heat(5.0, 15.0, 0.04), 2)
    16.97
    """
    return heat_capacity_ratio(moisture) * grain_weight + liquor * water.density(20.0)


def after_infusion(mash_temperature: float, heat: float, infusion: float, infusion_temperature: float) -> float:
    """Return the temperature of a mash after an infusion, degC.

    mash_temperature: degC before; heat: of the mash by `mash_heat`, above 0; infusion: L, measured cold, 0 or more;
    infusion_temperature: degC. What the tun and the air take is not in it: real mashes end lower by a kelvin or so.
    Source: heat balance of the textbook.

    >>> round(after_infusion(52.0, 12.0, 4.0, 96.0), 2)
    62.99
    """
    added = infusion * water.density(20.0)
    if heat + added <= 0.0:
        raise ValueError("there is no mash to warm")
    return (heat * mash_temperature + added * infusion_temperature) / (heat + added)


def mash_volume(grain_weight: float, liquor: float) -> float:
    """Return the room a mash takes, L.

    grain_weight: kg; liquor: L at 20 degC. Hot it takes 2 % more.
    Source: common practice, 0.67 L to a kilogram of grain besides the liquor.

    >>> round(mash_volume(5.0, 15.0), 2)
    18.35
    """
    return liquor + GRAIN_DISPLACEMENT * grain_weight


def after_decoction(mash_temperature: float, share: float, decoction_temperature: float = 100.0) -> float:
    """Return the temperature of a mash after its decoction came back, degC.

    mash_temperature: degC of what stayed; share: of the whole mash, by heat and so about by volume, 0 to 1;
    decoction_temperature: degC. Taken thick it holds less heat to the litre than the rest, by up to a tenth; what boils away and
    what air and tun take is not in it, so real mashes end some kelvin lower.
    Source: heat balance of the textbook.

    >>> round(after_decoction(52.0, 0.30), 1)
    66.4
    """
    if not 0.0 <= share <= 1.0:
        raise ValueError(f"a decoction is a part of the mash, from 0 to 1, not {share:g}")
    return mash_temperature + share * (decoction_temperature - mash_temperature)


def _grist(moisture: float, column: int) -> float:
    if moisture <= _GRIST[0][0]:
        return _GRIST[0][column]
    for drier, damper in pairwise(_GRIST):
        if moisture <= damper[0]:
            share = (moisture - drier[0]) / (damper[0] - drier[0])
            return drier[column] + share * (damper[column] - drier[column])
    return _GRIST[-1][column]

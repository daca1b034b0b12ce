"""Heat of the mash."""

from itertools import pairwise

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


def _grist(moisture: float, column: int) -> float:
    if moisture <= _GRIST[0][0]:
        return _GRIST[0][column]
    for drier, damper in pairwise(_GRIST):
        if moisture <= damper[0]:
            share = (moisture - drier[0]) / (damper[0] - drier[0])
            return drier[column] + share * (damper[column] - drier[column])
    return _GRIST[-1][column]

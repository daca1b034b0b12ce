"""How hot the strike liquor must be, and how sure that is."""

from __future__ import annotations

import math
from dataclasses import dataclass

from journal.balance.model import WATER
from journal.science import heat

#: °C of grain that nobody measured (common practice), and the standard deviations of one stated and of one assumed.
ROOM = 18.0
_GRAIN_SD, _ROOM_SD = 0.5, 2.0
#: Standard deviations, common practice: the grist's heat capacity over water's; K of a thermometer; K that the mash may
#: settle off where the tun's heat is reckoned with, and where it is left to cancel against the slaking.
_CAPACITY_SD, _THERMOMETER_SD, _TUN_KNOWN_SD, _TUN_UNKNOWN_SD = 0.01, 0.5, 0.5, 1.0


@dataclass(frozen=True)
class Strike:
    """°C of the strike liquor, and its standard deviation. Above 100 no liquor gets the mash there in one step."""

    temperature: float
    sd: float


def strike(
    mash_temperature: float,
    grain: float,
    liquor: float,
    moisture: float,
    grain_temperature: float | None = None,
    tun: float | None = None,
) -> Strike:
    """How hot the liquor must be for the mash to settle where it is wanted.

    `mash_temperature` °C, 35 to 78; `grain` kg and `liquor` L at 20 °C, both above 0; `moisture` fraction of the grain;
    `grain_temperature` °C, ROOM where None; `tun` kg of water that would take up as much heat as the tun, which is as
    warm as the grain. Where the tun is not known its heat is taken to cancel against the warmth of slaking; where it is,
    both are reckoned with. Source: `heat.strike_temperature`, the tun's share by the same heat balance.
    """
    at = ROOM if grain_temperature is None else grain_temperature
    ratio = liquor * WATER / grain
    slaking = 0.0 if tun is None else heat.slaking_rise(moisture)
    by_liquor = heat.strike_temperature(mash_temperature, at, ratio, moisture, slaking)
    warmed = mash_temperature - slaking - at
    by_tun = 0.0 if tun is None else tun / (liquor * WATER) * warmed
    parts = (
        _CAPACITY_SD / ratio * warmed,
        heat.heat_capacity_ratio(moisture) / ratio * (_ROOM_SD if grain_temperature is None else _GRAIN_SD),
        _THERMOMETER_SD,
        _TUN_UNKNOWN_SD if tun is None else _TUN_KNOWN_SD,
    )
    return Strike(by_liquor + by_tun, math.hypot(*parts))

"""How hot the strike liquor must be, and how sure that is."""

from __future__ import annotations

import math
from collections.abc import Sequence
from math import fsum

from journal.balance.vessels import WATER
from journal.frozen import dataclass
from journal.measures import Measure
from journal.reading.entry import Rest
from journal.science import heat, water

#: °C of grain that nobody measured (common practice), and the standard deviations of one stated and of one assumed.
ROOM = 18.0
_GRAIN_SD, _ROOM_SD = 0.5, 2.0
#: Standard deviations, common practice: the grist's heat capacity over water's; K of a thermometer; K that the mash may
#: settle off, for the tun's heat is left to cancel against the warmth of slaking.
_CAPACITY_SD, _THERMOMETER_SD, _TUN_SD = 0.01, 0.5, 1.0


@dataclass(frozen=True)
class Strike:
    """°C of the strike liquor, and its standard deviation. Above 100 no liquor gets the mash there in one step."""

    temperature: float
    sd: float


def find_strike(
    mash_temperature: float,
    grain: float,
    liquor: float,
    moisture: float,
    grain_temperature: float | None = None,
) -> Strike:
    """How hot the liquor must be for the mash to settle where it is wanted.

    `mash_temperature` °C, 35 to 78; `grain` kg and `liquor` L at 20 °C, both above 0; `moisture` fraction of the grain;
    `grain_temperature` °C, ROOM where None. What the tun takes up is taken to cancel against the warmth of slaking.
    Source: `heat.strike_temperature`.
    """
    at = ROOM if grain_temperature is None else grain_temperature
    ratio = liquor * WATER / grain
    parts = (
        _CAPACITY_SD / ratio * (mash_temperature - at),
        heat.heat_capacity_ratio(moisture) / ratio * (_ROOM_SD if grain_temperature is None else _GRAIN_SD),
        _THERMOMETER_SD,
        _TUN_SD,
    )
    return Strike(heat.strike_temperature(mash_temperature, at, ratio, moisture), math.hypot(*parts))


def first_liquor(rests: Sequence[Rest], liquor: float) -> float:
    """L at 20 °C of the strike liquor: of all the mash liquor what no rest's infusion brings later."""
    return liquor - fsum(cold_litres(rest.infusion) for rest in rests if rest.infusion)


def settles_at(rests: Sequence[Rest], place: int, grain: float, liquor: float, moisture: float) -> float | None:
    """Where a rest's infusion or decoction brings the mash by heat balance, °C; None where it has neither, or too little is known.

    `grain` kg, `liquor` L at 20 °C of the whole mash, `moisture` fraction of the grain. What tun and air take is not in it:
    real mashes end lower, by a kelvin or so after an infusion, by several after a decoction.
    Source: `heat.after_infusion`, `heat.after_decoction`.
    """
    rest, before = rests[place], rests[place - 1].temperature if place else None
    if before is None:
        return None
    held = first_liquor(rests, liquor) + fsum(cold_litres(each.infusion) for each in rests[:place] if each.infusion)
    if rest.infusion is not None and rest.infusion_temperature is not None and held > 0:
        known = heat.mash_heat(grain, held, moisture)
        return heat.after_infusion(before.value, known, cold_litres(rest.infusion), rest.infusion_temperature.value)
    if rest.decoction is not None and held > 0:
        return heat.after_decoction(before.value, min(rest.decoction.value / heat.mash_volume(grain, held), 1.0))
    return None


def cold_litres(measure: Measure) -> float:
    """L at 20 °C of liquor that was measured cold, or hot where a temperature stands with it."""
    return measure.value if measure.at is None else water.volume_at_20(measure.value, measure.at)

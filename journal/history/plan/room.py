"""Where a plan ends: what the vessels hold, what the run-off gives, and the nearest target that works."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

from journal.balance.vessels import Vessel
from journal.frozen import dataclass
from journal.history.plan.aim import STRONGEST, WEAKEST, Aim, Plan
from journal.measures.wording import METRIC, plain, show
from journal.science import water
from journal.science.mash import GRAIN_DISPLACEMENT

#: Head room that a boil wants, share of the kettle (common practice).
HEAD_ROOM = 0.05
#: °C of the wort whose volume must fit the kettle.
BOILING = 100.0
#: Steps that the nearest target is rounded down to, so that it works as it is said: SG, L.
GRAVITY_STEP, VOLUME_STEP = 0.001, 0.1
#: Thickest mash that can be stirred, L/kg, and the step between thicknesses (common practice).
THICKEST, THICKNESS_STEP = 2.0, 0.1

MASH_TUN, KETTLE, TOO_STRONG, NO_LIQUOR, TOO_THICK, SUGAR, OUT_OF_RANGE = (
    "mash tun",
    "kettle",
    "too strong",
    "no liquor left",
    "mash too thick",
    "sugar alone",
    "out of range",
)


@dataclass(frozen=True)
class Obstacle:
    """What stands in a plan's way, by code; `needed` and `room` L, of vessels only."""

    code: str
    needed: float = 0.0
    room: float = 0.0


@dataclass(frozen=True)
class Refusal:
    """Why an aim can't be brewed so, and the nearest that can.

    `code` names the obstacle; `needed` and `room` are L and of vessels only. `gravity` is the nearest SG that works at the
    volume asked for, `volume` the nearest L that works at the gravity asked for, `liquor_to_grist` the nearest L/kg with
    which both do; None where none does.
    """

    code: str
    aim: Aim
    needed: float
    room: float
    gravity: float | None
    volume: float | None
    liquor_to_grist: float | None

    def why(self, system: str = METRIC) -> str:
        """The reason, as the middle of a sentence."""
        wanted = _gravity(self.aim.gravity)
        needed, room = _litres(self.needed, system), _litres(self.room, system)
        return {
            MASH_TUN: f"the mash would take {needed}, and there is room for {room}",
            KETTLE: f"the kettle would hold {needed} of boiling wort, and with head room it takes {room}",
            TOO_STRONG: f"{wanted} is too strong for this grist and this way of sparging",
            NO_LIQUOR: (
                f"at {show(self.aim.liquor_to_grist, 0.0, 'L/kg', system)} the mash takes all the liquor"
                f" before {wanted} is reached"
            ),
            TOO_THICK: f"the grain would hold all of a mash of {show(self.aim.liquor_to_grist, 0.0, 'L/kg', system)}",
            SUGAR: f"what is added beside the grain gives {wanted} or more by itself",
            OUT_OF_RANGE: f"a gravity is planned from {_gravity(WEAKEST)} to {_gravity(STRONGEST)}, a volume above 0",
        }[self.code]

    def nearest(self, system: str = METRIC) -> str:
        """The nearest that works, in words; empty where nothing near does."""
        words = []
        if self.volume is not None:
            words.append(f"{_litres(self.volume, system)} at {_gravity(self.aim.gravity)}")
        if self.gravity is not None:
            words.append(f"{_gravity(self.gravity)} with {_litres(self.aim.volume, system)}")
        if self.liquor_to_grist is not None:
            words.append(f"a mash of {show(self.liquor_to_grist, 0.0, 'L/kg', system)}")
        return " or ".join(words)


def _litres(volume: float, system: str) -> str:
    return str(show(volume, 0.0, "L", system))


def _gravity(gravity: float) -> str:
    return plain(gravity, 3)


def _boiling_volume(plan: Plan, aim: Aim) -> float:
    """L of boiling wort in the full kettle, with all that joins there."""
    full = Vessel(plan.kettle.water + aim.kettle_water, plan.kettle.extract + aim.sugar)
    return water.volume_at(full.volume, BOILING)


def crowding(plan: Plan, aim: Aim) -> Obstacle | None:
    """The vessel that is too small for a plan, the mash tun first; None where all have room or nobody knows.

    A bag is mashed in the kettle, unless a mash tun is stated.
    """
    tun = aim.kettle if aim.mash_tun is None and aim.method == "bag" else aim.mash_tun
    mash = plan.mash_liquor + GRAIN_DISPLACEMENT * plan.grain
    if tun is not None and mash > tun:
        return Obstacle(MASH_TUN, mash, tun)
    if aim.kettle is None:
        return None
    boiling, room = _boiling_volume(plan, aim), aim.kettle * (1 - HEAD_ROOM)
    return Obstacle(KETTLE, boiling, room) if boiling > room else None


def _highest(low: float, high: float, step: float, works: Callable[[float], bool]) -> float | None:
    """The highest whole multiple of a step between two bounds that works, where all lower ones do too; None if none."""
    least, most = math.ceil(low / step - 1e-9), math.floor(high / step + 1e-9)
    first, last = least, most
    # what lies below `first` works, what lies above `last` doesn't
    while first <= last:
        middle = (first + last) // 2
        first, last = (middle + 1, last) if works(middle * step) else (first, middle - 1)
    return round(last * step, 6) if last >= least else None


def refuse(aim: Aim, obstacle: Obstacle, works: Callable[[Aim], bool]) -> Refusal:
    """The refusal of an aim, with the nearest that works: by gravity, by volume, by the mash's thickness."""
    gravity, volume, thickness = None, None, None
    if obstacle.code in {MASH_TUN, KETTLE, TOO_STRONG, NO_LIQUOR}:
        gravity = _highest(WEAKEST, aim.gravity, GRAVITY_STEP, lambda g: works(replace(aim, gravity=g)))
    if obstacle.code in {MASH_TUN, KETTLE}:
        volume = _highest(VOLUME_STEP, aim.volume, VOLUME_STEP, lambda v: works(replace(aim, volume=v)))
    if obstacle.code in {MASH_TUN, NO_LIQUOR} and aim.sparges and aim.mash_liquor is None:
        thickness = _highest(
            THICKEST, aim.liquor_to_grist, THICKNESS_STEP, lambda r: works(replace(aim, liquor_to_grist=r))
        )
    return Refusal(obstacle.code, aim, obstacle.needed, obstacle.room, gravity, volume, thickness)

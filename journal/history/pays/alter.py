"""What a brewer could do otherwise with the same vessels, as something done to a batch before the balance's own model brews it again."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import numpy as np

from journal.balance.vessels import DEAD_SPACE_WATER, WATER, vessels, water_in_mash
from journal.frozen import dataclass
from journal.history.pays.account import HABITS, Brewing
from journal.history.pays.habitual import Alteration, Habitual
from journal.history.plan.room import BOILING, HEAD_ROOM
from journal.measures.units import convert
from journal.measures.wording import US, show
from journal.numerics import Matrix, Vector
from journal.reading import Brewhouse
from journal.reading.entry import WITHOUT_SPARGE
from journal.science import water
from journal.science.mash import GRAIN_DISPLACEMENT

#: More sparge liquor, L or gallons; a thinner mash by, L/kg or quarts to the pound; what is squeezed out of a bag, kg of water to the
#: kg of grain.
MORE_SPARGE, THINNER, SQUEEZED = 2.0, 0.5, 0.2
MORE_SPARGE_US = 0.5
#: A mash is not thinned beyond, L/kg, nor thickened below (common practice).
THINNEST, THICKEST = 5.0, 2.0
#: A loss below this is none that could be halved, L; and so is a bed's shortfall, as a fraction.
_LEAST_LOSS, _LEAST_SHORTFALL = 0.05, 0.001
#: L/h. Where less is driven off, nothing can be boiled down.
LEAST_BOIL_OFF = 0.2


@dataclass(frozen=True)
class ModelChange:
    """One change: its `key`, in `words`, at a field of the entry or of brewery.yaml; what it costs, as `PayingChange` has it.

    `never_less`: whether it can't but gain, whatever the brewhouse does. `habit`: which of HABITS it changes, empty for what is
    measured out.
    """

    key: str
    words: str
    at: str
    alteration: Alteration
    minutes: float | None = 0.0
    boil_off: float = 0.0
    never_less: bool = False
    habit: str = ""


@dataclass(frozen=True)
class UsualBrew:
    """The mean of the brews: grain kg; mash and sparge liquor, and what the bed keeps of it, L at 20 °C; wort in the full kettle,
    boiling, L.
    """

    grain: float
    mash_liquor: float
    sparge_liquor: float
    left: float
    boiling: float
    run_offs: int


def usual_brew(habitual: Habitual) -> UsualBrew:
    """The mean of the brews of a brewhouse as it does them on the mean."""

    def seen(brewing: Brewing) -> Matrix:
        u, facts = brewing
        state = vessels(u, facts)
        rows = (facts.grain, u["mash_liquor"], u["sparge_liquor"], state.left_water / WATER, state.kettle.volume)
        return np.stack(np.broadcast_arrays(*rows))

    grain, mash, sparge, left, kettle = habitual.at_mean(seen).tolist()
    return UsualBrew(grain, mash, sparge, left, water.volume_at(kettle, BOILING), habitual.run_offs)


def more_sparge(litres: float) -> Alteration:
    """More sparge liquor, L, and a boil that is longer by what it takes to drive that off."""

    def altered(brewing: Brewing) -> Brewing:
        u, facts = brewing
        hours: Any = facts.hours + litres / u["boil_off"]
        return u | {"sparge_liquor": u["sparge_liquor"] + litres}, replace(facts, hours=hours)

    return altered


def equal_run_offs(brewing: Brewing) -> Brewing:
    """The same liquor in all, shared so that every run-off brings as much water.

    No other share of it leaves less behind: with M of water in the mash and S in the sparge, of T in all, and L that the bed keeps, L/M
    × L/(L + S) stays, least where M × (L + T − M) is largest, at M = (T + L)/2, so that M − L = S. Source: mass balance.
    """
    u, facts = brewing
    mash_water, sparge_water = water_in_mash(u, facts)
    left = u["water_held"] * facts.grain + u["dead_space"] * DEAD_SPACE_WATER
    each = (mash_water + sparge_water - left) / (facts.run_offs + 1)
    return u | {
        "mash_liquor": (left + each - facts.moisture) / WATER,
        "sparge_liquor": each * facts.run_offs / WATER,
    }, facts


def one_filling_more(brewing: Brewing) -> Brewing:
    """The same sparge in one filling more."""
    u, facts = brewing
    return u, replace(facts, run_offs=facts.run_offs + 1)


def thinner_mash(by: float) -> Alteration:
    """A mash thinner by so much, L/kg, and so much less sparge."""

    def altered(brewing: Brewing) -> Brewing:
        u, facts = brewing
        moved = by * facts.grain
        liquors = {"mash_liquor": u["mash_liquor"] + moved, "sparge_liquor": u["sparge_liquor"] - moved}
        return u | liquors, facts

    return altered


def with_habit(name: str, times: float = 1.0, plus: float = 0.0) -> Alteration:
    """One of HABITS multiplied, and so much added to it."""

    def altered(brewing: Brewing) -> Brewing:
        u, facts = brewing
        return u | {name: u[name] * times + plus}, facts

    return altered


def model_changes(
    habitual: Habitual, method: str, brewhouse: Brewhouse, run_off_time: float | None, system: str
) -> Iterator[ModelChange]:
    """Every change that these vessels and this way of lautering allow.

    `run_off_time`: min that a run-off mostly takes, with all its fillings; None where that is not written.
    """
    usual = usual_brew(habitual)
    if usual.sparge_liquor > 0.0 and method not in WITHOUT_SPARGE:
        yield from _sparged(habitual, usual, method, brewhouse, run_off_time, system)
    else:
        each = (usual.mash_liquor - usual.left) / 2.0
        yield ModelChange(
            "one-filling-more",
            f"{_litres(each, system)} of the liquor kept back, and the {'bag' if method == 'bag' else 'grain'} rinsed with it at the end",
            "lauter.liquor",
            equal_run_offs,
            minutes=run_off_time,
        )
    if method == "bag":
        yield ModelChange(
            "squeezed-bag",
            f"the bag squeezed until {_litres(SQUEEZED * usual.grain / WATER, system)} more has run out of it",
            "brewhouse.absorption",
            with_habit("water_held", plus=-SQUEEZED),
            minutes=None,
            never_less=True,
            habit="water_held",
        )
    yield from _halved(habitual.habits.mean, system)


def _sparged(
    habitual: Habitual,
    usual: UsualBrew,
    method: str,
    brewhouse: Brewhouse,
    run_off_time: float | None,
    system: str,
) -> Iterator[ModelChange]:
    boil_off = float(habitual.habits.mean[HABITS.index("boil_off")])
    litres = convert(MORE_SPARGE_US, "us_gallon", "litre") if system == US else MORE_SPARGE
    kettle = brewhouse.kettle.volume
    if boil_off >= LEAST_BOIL_OFF and (kettle is None or usual.boiling + litres <= kettle.value * (1.0 - HEAD_ROOM)):
        minutes = 60.0 * litres / boil_off
        yield ModelChange(
            "more-sparge",
            f"{_litres(litres, system)} more sparge liquor, boiled off again",
            "lauter.liquor",
            more_sparge(litres),
            minutes,
            litres,
            never_less=True,
        )
    if method != "fly sparge":
        yield from _shared_otherwise(usual, brewhouse, run_off_time, system)
    mash = usual.mash_liquor + THINNER * usual.grain
    if mash <= _roomiest_mash(usual, brewhouse) and usual.sparge_liquor > THINNER * usual.grain:
        yield ModelChange(
            "thinner-mash",
            f"a mash thinner by {show(THINNER, 0.0, 'L/kg', system)}, and as much less sparge",
            "mash.liquor",
            thinner_mash(THINNER),
        )


def _shared_otherwise(
    usual: UsualBrew, brewhouse: Brewhouse, run_off_time: float | None, system: str
) -> Iterator[ModelChange]:
    total = usual.mash_liquor + usual.sparge_liquor
    mash = usual.left + (total - usual.left) / (usual.run_offs + 1)
    if THICKEST * usual.grain <= mash <= _roomiest_mash(usual, brewhouse):
        yield ModelChange(
            "equal-run-offs",
            f"run-offs of equal size: {_litres(mash, system)} in the mash and {_litres(total - mash, system)} of sparge",
            "mash.liquor",
            equal_run_offs,
            never_less=True,
        )
    yield ModelChange(
        "one-filling-more",
        f"the same sparge in {('one filling', 'two fillings', 'three fillings', 'four fillings')[min(usual.run_offs, 3)]}",
        "lauter.liquor",
        one_filling_more,
        minutes=None if run_off_time is None else run_off_time / (usual.run_offs + 1),
        never_less=True,
    )


def _roomiest_mash(usual: UsualBrew, brewhouse: Brewhouse) -> float:
    """L of liquor in the thinnest mash that is brewed, and that the tun holds where its size is known."""
    tun = brewhouse.mash_tun.volume
    room = np.inf if tun is None else tun.value - GRAIN_DISPLACEMENT * usual.grain
    return float(min(THINNEST * usual.grain, room))


def _halved(mean: Vector, system: str) -> Iterator[ModelChange]:
    does = dict(zip(HABITS, mean.tolist(), strict=True))
    dead, loss = does["dead_space"], does["kettle_loss"]
    if dead > _LEAST_LOSS:
        yield ModelChange(
            "half-dead-space",
            f"half the dead space: {_litres(dead / 2.0, system)} left under the grain",
            "brewhouse.mash_tun.dead_space",
            with_habit("dead_space", 0.5),
            never_less=True,
            habit="dead_space",
        )
    if loss > _LEAST_LOSS:
        yield ModelChange(
            "half-kettle-loss",
            f"half the loss in the kettle: {_litres(loss / 2.0, system)} left with hops and trub",
            "brewhouse.kettle.loss",
            with_habit("kettle_loss", 0.5),
            never_less=True,
            habit="kettle_loss",
        )
    if does["shortfall"] > _LEAST_SHORTFALL:
        yield ModelChange(
            "evener-run-off",
            "half of what is lost because the bed is not rinsed evenly: stirred through, rested, drawn off slowly",
            "lauter",
            with_habit("shortfall", 0.5),
            minutes=None,
            habit="shortfall",
        )


def _litres(volume: float, system: str) -> str:
    return str(show(volume, 0.0, "L", system))

"""What brings a wort to its target: boiling longer or shorter, water, extract or sugar; exact by mass balance."""

from __future__ import annotations

from collections.abc import Callable

from journal.balance.vessels import WATER, Vessel
from journal.frozen import dataclass
from journal.reading.kinds import KINDS
from journal.science import wort

BOIL, DILUTE, MALT_EXTRACT, SUCROSE = "boil", "water", "malt extract", "sugar"
#: Extract as is of what is stirred in, fractions of the weight (typical values, common practice).
_DRY_MALT_EXTRACT = KINDS["malt extract, dry"].extract_as_is or 0.0
_SUCROSE = KINDS["sucrose"].extract_as_is or 0.0
#: °P that a landing may be off its target, and the steps it takes where sugar or water joins in the fermenter.
_EXACT = 1e-9
_MOST_STEPS = 50


@dataclass(frozen=True)
class Ahead:
    """What lies ahead of a wort: its knockout if nothing is done, and the way from there.

    `minutes` of boil as planned; `evaporation` kg of water a minute, 0 where the boil is over; `loss` L that stay in the
    kettle; `joins` water and extract, kg, that join in the fermenter.
    """

    knockout: Vessel
    minutes: float
    evaporation: float
    loss: float
    joins: Vessel

    def landing(self, knockout: Vessel) -> Vessel:
        """What is in the fermenter, of what stands in the kettle at knockout."""
        passed = 1.0 - self.loss / knockout.volume
        return Vessel(
            knockout.water * passed + self.joins.water,
            knockout.extract * passed + self.joins.extract,
        )


@dataclass(frozen=True)
class Remedy:
    """One thing to do, and what comes of it.

    `kind` says what `amount` is: BOIL minutes of boil in all, DILUTE L of water at 20 °C, MALT_EXTRACT and SUCROSE kg.
    L at 20 °C at knockout and in the fermenter, and the original gravity.
    """

    kind: str
    amount: float
    knockout_volume: float
    fermenter_volume: float
    original_gravity: float


def round_remedy(remedy: Remedy) -> float:
    """A remedy's amount as a brewer measures it, in its own unit.

    Boil to 5 min, water to 0.1 L, extract and sugar to 25 g, below 200 g to 10 g (common practice).
    """
    if remedy.kind == BOIL:
        return 5.0 * round(remedy.amount / 5.0)
    if remedy.kind == DILUTE:
        return round(remedy.amount * 10) / 10
    grams = remedy.amount * 1000
    step = 10 if grams < 200 else 25
    return step * round(grams / step) / 1000


def _reach(ahead: Ahead, strength: float, change: Callable[[float], Vessel]) -> Vessel:
    """The knockout that lands at a strength in the fermenter; `change` makes a knockout of a given strength."""
    aimed = strength
    for _ in range(_MOST_STEPS):
        knockout = change(aimed)
        short = strength - ahead.landing(knockout).strength
        if abs(short) < _EXACT:
            break
        aimed += short
    return knockout


def _add_water(ahead: Ahead, strength: float) -> Vessel:
    """The same extract at another strength."""
    extract = ahead.knockout.extract
    return Vessel(extract * (100 - strength) / strength, extract)


def _enrich(ahead: Ahead, strength: float, as_is: float) -> Vessel:
    """The knockout with so much of an extract that it has a strength; what is not extract counts as water."""
    share, now = strength / 100, ahead.knockout
    weight = (share * (now.water + now.extract) - now.extract) / (as_is - share)
    return Vessel(now.water + (1 - as_is) * weight, now.extract + as_is * weight)


def _remedy(kind: str, amount: float, ahead: Ahead, knockout: Vessel) -> Remedy:
    """A change that makes this knockout, with what lands of it; `amount` may be below 0, where it is the other way round."""
    landed = ahead.landing(knockout)
    return Remedy(kind, amount, knockout.volume, landed.volume, landed.gravity)


def changes(ahead: Ahead, target: float) -> tuple[Remedy, ...]:
    """Every change by which the original gravity would be the target, SG, whether it can be made or not.

    An amount below 0 is to be taken away. They move smoothly with the wort, which what is left of them as `remedies` does not.
    """
    strength, now = wort.plato_from_gravity(target), ahead.knockout
    watered = _reach(ahead, strength, lambda aimed: _add_water(ahead, aimed))
    water = watered.water - now.water
    found = []
    if ahead.evaporation > 0:
        found.append(_remedy(BOIL, ahead.minutes - water / ahead.evaporation, ahead, watered))
    found.append(_remedy(DILUTE, water / WATER, ahead, watered))
    for kind, as_is in ((MALT_EXTRACT, _DRY_MALT_EXTRACT), (SUCROSE, _SUCROSE)):
        enriched = _reach(ahead, strength, lambda aimed, as_is=as_is: _enrich(ahead, aimed, as_is))  # type: ignore[misc]
        found.append(_remedy(kind, (enriched.extract - now.extract) / as_is, ahead, enriched))
    return tuple(found)


def remedies(ahead: Ahead, target: float) -> tuple[Remedy, ...]:
    """All that brings the original gravity to a target, SG; the boil only before it is over, and never below 0 min."""
    return tuple(each for each in changes(ahead, target) if each.amount > 0 and each.knockout_volume > ahead.loss)

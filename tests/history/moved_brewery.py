"""Journals of a simulated brewery in which one thing moves at a batch, as texts with the truth beside them.

The brewery and its readings are those of `balance/simulated_brewery.py`; what moves is done to the brewery itself, to a
lot, or to what an instrument shows, on plain numbers here. Shares no formula with the code judged.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
from balance.simulated_brewery import GRAVITIES, Habits, Instruments, brew, entry, read, some_brewery

BATCHES = 40
#: Batches that a lot of malt lasts.
LOT = 8
#: The batch from which on something is different.
AT = 20

Readings = dict[str, float]


@dataclass(frozen=True)
class Moved:
    """One thing that moves from batch `at` on: its `size`, in the unit of the kind."""

    kind: str
    size: float
    at: int = AT


@dataclass(frozen=True)
class SimulatedJournal:
    """Entries in order, with what moved; `lots` says by number the lot of each batch."""

    entries: list[str]
    moved: tuple[Moved, ...]
    lots: list[int]


def _times(*paths: str) -> Callable[[Readings, float], Readings]:
    """An instrument that shows a share too much."""
    return lambda readings, size: readings | {path: readings[path] * (1 + size) for path in paths}


def _plus(*paths: str) -> Callable[[Readings, float], Readings]:
    """An instrument that shows a fixed amount too much."""
    return lambda readings, size: readings | {path: readings[path] + size for path in paths}


#: What an instrument that moved does to the readings.
INSTRUMENTS: dict[str, Callable[[Readings, float], Readings]] = {
    "hydrometer": _plus(*GRAVITIES),
    "kettle marks": _times("boil.before.volume", "boil.after.volume"),
    "fermenter marks": _times("fermenter.volume"),
    "liquor measure": _times("mash.liquor", "lauter.liquor"),
    "malt scale": _times("grain"),
}
#: What the brewing itself may do, by the name among its habits.
HABITS = {
    "conversion": "conversion",
    "run-off": "shortfall",
    "absorption": "water_held",
    "dead space": "dead_space",
    "boil-off": "boil_off",
    "kettle loss": "kettle_loss",
}


def _boundaries(rng: np.random.Generator, at: int | None) -> list[int]:
    """The batches with which a new lot begins, every LOT; one of them `at`, where that is said."""
    start = int(rng.integers(1, LOT + 1)) if at is None else at
    return list(range((start - 1) % LOT + 1 - LOT, BATCHES + 1, LOT))


def lots_of(rng: np.random.Generator, at: int | None = None, last: bool = False) -> list[int]:
    """The number of the lot that each batch is brewed of; `last`: that which begins `at` lasts to the end."""
    bounds = _boundaries(rng, at)
    if last:
        bounds = [bound for bound in bounds if bound <= (at or 1)]
    return [sum(bound <= number for bound in bounds) for number in range(1, BATCHES + 1)]


def journal_of(
    seed: int,
    moved: tuple[Moved, ...] = (),
    lots_at: int | None = None,
    lot_lasts: bool = False,
    drawn: Callable[[np.random.Generator], Habits] = some_brewery,
) -> SimulatedJournal:
    """Forty batches of some brewery in which these things move; a lot begins `lots_at` that batch."""
    rng = np.random.default_rng(seed)
    habits = replace(drawn(rng), conversion=rng.normal(0.91, 0.01))
    lots = lots_of(rng, lots_at, lot_lasts)
    sheets = {lot: rng.normal(0, Instruments().sheet) for lot in sorted(set(lots))}
    for each in moved:
        if each.kind == "malt lot":
            sheets[lots[each.at - 1]] = each.size
    texts = []
    for number in range(1, BATCHES + 1):
        now = [each for each in moved if number >= each.at]
        changed = {
            HABITS[each.kind]: getattr(habits, HABITS[each.kind]) + each.size for each in now if each.kind in HABITS
        }
        lot = lots[number - 1]
        readings = read(brew(replace(habits, **changed), sheets[lot], rng), Instruments(), rng)
        for each in now:
            if each.kind in INSTRUMENTS:
                readings = INSTRUMENTS[each.kind](readings, each.size)
        texts.append(entry(number, readings, habits).replace("pale lot", f"pale lot {lot}"))
    return SimulatedJournal(texts, moved, lots)

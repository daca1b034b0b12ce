"""The brewing liquor, as a report or the brewer's own test states it."""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from dataclasses import replace
from math import fsum
from typing import Any

from journal.frozen import dataclass
from journal.measures import Measure
from journal.measures.units import ALKALINITY, CONCENTRATION, SHARE
from journal.reading.table import Group, entry_field
from journal.reading.values import Day, ListOf, Quantity, Text

_ION = Quantity(CONCENTRATION, zero=True)


@dataclass(frozen=True)
class WaterSource:
    """One of the waters that a liquor was mixed of."""

    name: str | None = entry_field(Text(), "its key under `waters` in brewery.yaml", required=True)
    share: Measure | None = entry_field(
        Quantity(SHARE.such_as("60 %"), zero=True), "its share of the liquor", required=True
    )


@dataclass(frozen=True)
class Water:
    """One analysis of water, before anything is added to it; mg/L of the ion, alkalinity in mg/L as CaCO3."""

    name: str | None = entry_field(Text(), "which water it is")
    date: datetime.date | None = entry_field(Day(), "when it was analysed")
    calcium: Measure | None = entry_field(_ION, "calcium")
    magnesium: Measure | None = entry_field(_ION, "magnesium")
    sodium: Measure | None = entry_field(_ION, "sodium")
    sulfate: Measure | None = entry_field(_ION, "sulfate")
    chloride: Measure | None = entry_field(_ION, "chloride")
    bicarbonate: Measure | None = entry_field(_ION, "bicarbonate; the alkalinity follows where none is stated")
    alkalinity: Measure | None = entry_field(Quantity(ALKALINITY, zero=True), "alkalinity as CaCO3")
    sources: tuple[WaterSource, ...] = entry_field(
        ListOf(Group(WaterSource)), "waters of brewery.yaml that it was mixed of"
    )


IONS = ("calcium", "magnesium", "sodium", "sulfate", "chloride", "bicarbonate", "alkalinity")
#: Waters that are mixed of waters that are mixed, and no deeper.
_DEEPEST = 3


def mix_waters(water: Water, known: Mapping[str, Water], depth: int = 0) -> Water:
    """A water with what its sources come to, share by share, where it does not state an ion itself.

    What one of them does not state, or a source that nobody described, leaves the ion unknown.
    """
    if not water.sources or depth == _DEEPEST:
        return water
    parts = [
        (source.share.value, mix_waters(known.get(source.name or "", Water()), known, depth + 1))
        for source in water.sources
        if source.share is not None and source.share.value > 0
    ]
    whole = len(parts) > 0 and fsum(share for share, _ in parts) > 0
    ions: dict[str, Any] = {name: _ion(name, parts) for name in IONS if whole and getattr(water, name) is None}
    return replace(water, **ions)


def _ion(name: str, parts: list[tuple[float, Water]]) -> Measure | None:
    stated = [(share, getattr(water, name)) for share, water in parts]
    if any(measure is None for _, measure in stated):
        return None
    sd = fsum((share * measure.sd) ** 2 for share, measure in stated if measure.sd is not None) ** 0.5
    every = all(measure.sd is not None for _, measure in stated)
    return Measure(fsum(share * measure.value for share, measure in stated), "milligram / litre", sd if every else None)

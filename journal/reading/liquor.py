"""The brewing liquor, as a report or the brewer's own test states it."""

from __future__ import annotations

import datetime
from dataclasses import dataclass

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

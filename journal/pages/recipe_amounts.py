"""Amounts of a recipe as they are handed on: what the brewer wrote, or what it comes to for another volume."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from datetime import date, datetime
from typing import NamedTuple

from journal.frozen import dataclass
from journal.history.plan.rescale import Rescaled
from journal.measures import Measure, writing
from journal.measures.units import COUNT, is_depth, is_weight
from journal.measures.wording import METRIC, plain
from journal.pages.trade_words import trade_word
from journal.reading import Batch, Malts

#: kg/L of water at 20 °C.
_COLD_WATER = 0.9982
#: A recipe that is not rescaled.
AS_BREWED = Rescaled(1.0, 1.0, 0.0, None, None, None, None)


class RecipeRow(NamedTuple):
    """One thing of the recipe: what it is, how much, and its share or when it goes in.

    `path` is where the amount stands in the entry, `lot` the malt's or sugar's name there, empty for anything else. `read` says that it
    was found and not chosen: who brews it again aims at it.
    """

    what: str
    amount: str
    when: str = ""
    path: str = ""
    lot: str = ""
    read: bool = False


@dataclass(frozen=True)
class RecipeAmounts:
    """How the amounts of one batch are written; multiplied as `by` has it. `primed` is how its priming sugar missed what was asked for.

    `foreseen` is what a planned brew is expected to come to, by figure: volumes in L.
    """

    batch: Batch
    malts: Malts
    by: Rescaled = AS_BREWED
    system: str = METRIC
    primed: str = ""
    foreseen: Mapping[str, float] = field(default_factory=dict)

    @property
    def scaled(self) -> bool:
        """Whether the amounts are not the brewer's own."""
        return self.by is not AS_BREWED

    def word(self, word: str) -> str:
        """A word of the trade as these units have it."""
        return trade_word(word, self.system)

    def said(self, path: str, calculated: str) -> str:
        """What the brewer wrote, with the sign for degrees; what was calculated where nothing stands there."""
        written = self.batch.written(path).strip("\"'")
        return (written or calculated).replace(" deg", " °")

    def weight(self, path: str, kg: float | None, factor: float) -> str:
        """A weight, as it is weighed out; empty where none is stated."""
        if not kg:
            return ""
        scaled = writing.weight(kg * factor, self.system)
        return scaled if self.scaled else self.said(path, scaled)

    def poured(self, path: str, measure: Measure, factor: float) -> str:
        """A volume; a depth belongs to one vessel and stays as it was."""
        if self.scaled and is_depth(measure.unit):
            return f"{plain(measure.value / 10, 1)} cm by the dip stick, as it was"
        litres = measure.value / _COLD_WATER if is_weight(measure.unit) else measure.value
        hot = f" at {self.degrees(measure.at)}" if measure.at is not None else ""
        scaled = writing.volume(litres * factor, self.system) + hot
        return scaled if self.scaled else self.said(path, scaled)

    def degrees(self, celsius: float) -> str:
        """A temperature in °C as it is read."""
        return writing.temperature(celsius, self.system).replace("deg", "°")

    def warm(self, path: str, temperature: Measure | None) -> str:
        """A temperature; empty where none is stated."""
        return self.said(path, self.degrees(temperature.value)) if temperature else ""

    def minutes(self, minutes: float) -> str:
        """A time that may be hours."""
        return writing.time(minutes) if minutes < 180.0 else f"{plain(minutes / 60, 0)} h"

    def day(self, when: datetime | date | None) -> int | None:
        """Days after pitching, or after brewing where that is not stated; 0 on that day itself."""
        if when is None:
            return None
        start = self.batch.fermenter.pitched or self.batch.day
        return date(when.year, when.month, when.day).toordinal() - start.toordinal()

    def amount(self, path: str, measure: Measure | None, factor: float) -> tuple[str, str]:
        """An amount of whatever kind, and what is said of it where it isn't scaled with the rest."""
        if measure is None:
            return "", ""
        if not self.scaled:
            return self.said(path, writing.amount(measure.value, measure.unit, self.system)), ""
        if measure.unit in COUNT.written.values():
            return self.batch.written(path), "not scaled" if factor != 1.0 else ""
        return writing.amount(measure.value * factor, measure.unit, self.system), ""

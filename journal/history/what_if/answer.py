"""What a brew would have come to with something otherwise: plain values, for the terminal and for programs."""

from __future__ import annotations

from typing import Literal

from journal.frozen import dataclass

#: What is said of a change rests on the batch's own balance, on a factor that is clear in the record, or nothing is known of it.
RestsOn = Literal["model", "record", "not known from your record"]

UNKNOWN: RestsOn = "not known from your record"


@dataclass(frozen=True)
class ChangedField:
    """One field that is otherwise: its `path`, what stood there and what would, as written (empty where nothing did).

    `rests_on`: each thing that the change does, by its words (a factor's name, `liquor and extract`), with what it rests on and why.
    """

    path: str
    before: str
    after: str
    rests_on: tuple[tuple[str, RestsOn, str], ...]


@dataclass(frozen=True)
class OutcomeChange:
    """One result in the unit of its figure: as it was brewed, as it would have been, and the difference with its interval at LEVEL,
    `low` to `high`.

    `sd` is the standard uncertainty of what it was. `rests_on`: what the difference rests on, empty where nothing bears on it.
    """

    figure: str
    unit: str
    before: float
    sd: float
    after: float
    difference: float
    low: float
    high: float
    rests_on: tuple[RestsOn, ...]


@dataclass(frozen=True)
class WhatIf:
    """A batch with something otherwise: the changes, the results, `minutes` more of mash, run-off and boil.

    `malt`: kg of the same grist for as much extract in the fermenter as there was. `known`: whether anything is known of every change.
    """

    batch: str
    changes: tuple[ChangedField, ...]
    outcomes: tuple[OutcomeChange, ...]
    malt: OutcomeChange
    minutes: float

    @property
    def known(self) -> bool:
        """Whether nothing of it is unknown."""
        return all(basis != UNKNOWN for change in self.changes for _, basis, _ in change.rests_on)

"""The malts page."""

from __future__ import annotations

from dataclasses import dataclass

from journal.pages.grist import LabGroup
from journal.pages.model import Link, Model, Number


@dataclass(frozen=True)
class MaltResult:
    """What batches made mostly of one malt gave: mean and spread of an efficiency over `batches`; of one, its own value."""

    words: str
    number: Number
    batches: int


@dataclass(frozen=True)
class MaltSheet:
    """One lot of malt, a kind used without a sheet, or a grain described in the entries alone.

    `against_sheet`: what the record says that a lot gave against its sheet, a sentence a brewhouse.
    """

    anchor: str
    name: str
    facts: tuple[str, ...]
    labs: tuple[LabGroup, ...]
    used: Number | None
    batches: tuple[Link, ...]
    gave: tuple[MaltResult, ...]
    left_out: tuple[Link, ...]
    against_sheet: tuple[str, ...] = ()


@dataclass(frozen=True)
class MaltGroup:
    """Malts that are described in the same way."""

    words: str
    remark: str
    malts: tuple[MaltSheet, ...]


@dataclass(frozen=True, kw_only=True)
class MaltsModel(Model):
    """Every malt of the journal."""

    groups: tuple[MaltGroup, ...]

"""A brew's plan beside what it came to, and the malt that planned brews need."""

from __future__ import annotations

from dataclasses import dataclass

from journal.pages.model import Link, Model, When


@dataclass(frozen=True)
class Brew:
    """A planned brew in the head of the list."""

    batch: Link
    brewed: When


@dataclass(frozen=True)
class Needed:
    """One malt: what each brew needs of it, empty where none, in all, and what that costs where its price is known."""

    malt: Link
    amounts: tuple[str, ...]
    total: str
    cost: str


@dataclass(frozen=True, kw_only=True)
class MaltNeededModel(Model):
    """The malt that all planned brews need; `cost` of all whose price is known, `remark` on what is not counted."""

    brews: tuple[Brew, ...]
    rows: tuple[Needed, ...]
    total: tuple[str, ...]
    cost: str
    remark: str

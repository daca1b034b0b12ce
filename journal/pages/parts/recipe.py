"""The recipe as a brewer would hand it on: what, how much, and when."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from typing import NamedTuple

from journal.measures import writing
from journal.measures.wording import plain
from journal.pages.grist import lot_name, malt_link
from journal.pages.index import Index
from journal.pages.model import UNBROKEN, Link
from journal.pages.paths import accounts_path, reading_anchor
from journal.pages.recipe import STAGES, Recipe, RecipeAddition, RecipeGrain, RecipeHop, recipe_of
from journal.pages.words import MONTHS
from journal.reading import Batch
from journal.reading.kinds import GRAINS

_WHERE = dict(STAGES)


class RecipeLine(NamedTuple):
    """One thing of the recipe: what it is, how much as a link to the line of the entry, and its share or when it goes in."""

    what: Link
    amount: Link
    when: str


@dataclass(frozen=True)
class RecipeGroup:
    """Things of one kind."""

    words: str
    lines: tuple[RecipeLine, ...]


def recipe_groups(index: Index, batch: Batch, recipe: Recipe | None = None) -> tuple[RecipeGroup, ...]:
    """The recipe by kinds, those of which nothing is written left out."""
    maker = _RecipeWords(index, batch, recipe or recipe_of(batch))
    found = (
        RecipeGroup("Grist", tuple(maker.grains())),
        RecipeGroup("Hops", tuple(maker.hops())),
        RecipeGroup("Mash", tuple(maker.mash())),
        RecipeGroup("Yeast", tuple(maker.yeast())),
        RecipeGroup("Besides", tuple(maker.additions())),
    )
    return tuple(group for group in found if group.lines)


def _unbroken(text: str) -> str:
    return text.replace(" ", UNBROKEN)


def _day(when: date) -> str:
    return f"{when.day}{UNBROKEN}{MONTHS[when.month - 1]}"


class _RecipeWords:
    """Puts one recipe into words."""

    def __init__(self, index: Index, batch: Batch, recipe: Recipe) -> None:
        self.index, self.batch, self.recipe = index, batch, recipe
        self.system = index.system

    def row(self, path: str, words: str) -> Link:
        """An amount, leading to where the accounts have it; no link without one."""
        anchor = f"{accounts_path(self.batch.id)}#{reading_anchor(path)}"
        return Link(_unbroken(words), anchor if words else "")

    def weight(self, kg: float | None) -> str:
        """A weight as it is weighed out; empty where none is stated."""
        return "" if kg is None else writing.weight(kg, self.system)

    def grains(self) -> Iterator[RecipeLine]:
        """The grist, each with its share."""
        for grain in self.recipe.grains:
            yield RecipeLine(self._malt(grain), self.row(grain.path, self.weight(grain.weight)), _share(grain))

    def _malt(self, grain: RecipeGrain) -> Link:
        words = lot_name(self.index, grain.malt)
        known = grain.malt in self.index.record.journal.malts.by_key or grain.malt in GRAINS
        return malt_link(grain.malt, words) if known else Link(words)

    def hops(self) -> Iterator[RecipeLine]:
        """Hops by when they go in."""
        for hop in self.recipe.hops:
            words = hop.hop if hop.alpha is None else f"{hop.hop}, {plain(100 * hop.alpha, 1)}{UNBROKEN}% alpha"
            yield RecipeLine(Link(words), self.row(hop.path, self.weight(hop.weight)), _when(hop))

    def mash(self) -> Iterator[RecipeLine]:
        """Liquor, rests and sparge."""
        mash, lauter = self.batch.mash, self.batch.lauter
        if mash.liquor:
            yield RecipeLine(
                Link("liquor"), self.row("mash.liquor", writing.volume(mash.liquor.value, self.system)), ""
            )
        for place, rest in enumerate(mash.rests):
            warm = (
                writing.temperature(rest.temperature.value, self.system).replace("deg", "°") if rest.temperature else ""
            )
            time = _unbroken(writing.time(rest.time.value)) if rest.time else ""
            yield RecipeLine(Link("rest"), self.row(f"mash.rests[{place}]", warm), time)
        yield from self._sparge(lauter.method or "sparge", lauter.liquor)

    def _sparge(self, method: str, liquor: object) -> Iterator[RecipeLine]:
        """The sparge, each filling of its own; a method without liquor stands alone."""
        fillings = liquor if isinstance(liquor, tuple) and not hasattr(liquor, "value") else (liquor,)
        for place, filling in enumerate(fillings):
            value = getattr(filling, "value", None)
            path = f"lauter.liquor[{place}]" if len(fillings) > 1 else "lauter.liquor"
            if value:
                yield RecipeLine(Link(method), self.row(path, writing.volume(value, self.system)), "")
            elif self.batch.lauter.method:
                yield RecipeLine(Link(method), Link(""), "")

    def yeast(self) -> Iterator[RecipeLine]:
        """The yeast, and how warm it is kept."""
        if self.recipe.yeast:
            yield RecipeLine(Link(self.recipe.yeast), Link(""), "")
        for place, held in enumerate(getattr(self.batch.fermenter, "temperatures", ())):
            warm = (
                writing.temperature(held.temperature.value, self.system).replace("deg", "°") if held.temperature else ""
            )
            words = getattr(held, "why", None) or ("pitched" if place == 0 else "held")
            since = getattr(held, "on", None)
            when = f"from {_day(since)}" if isinstance(since, date) else ""
            yield RecipeLine(Link(words), self.row(f"fermenter.temperatures[{place}]", warm), when)

    def additions(self) -> Iterator[RecipeLine]:
        """Whatever else went in."""
        for added in self.recipe.additions:
            yield RecipeLine(
                self._added(added), self.row(added.path, self._amount(added)), _WHERE.get(added.at, added.at)
            )

    def _added(self, added: RecipeAddition) -> Link:
        words = lot_name(self.index, added.addition)
        return (
            malt_link(added.addition, words)
            if added.addition in self.index.record.journal.malts.by_key
            else Link(words)
        )

    def _amount(self, added: RecipeAddition) -> str:
        return added.written if added.weight is None else self.weight(added.weight)


def _share(grain: RecipeGrain) -> str:
    if grain.share is None:
        return ""
    return f"{plain(100 * grain.share, 0 if grain.share >= 0.0095 else 1)}{UNBROKEN}%"


def _when(hop: RecipeHop) -> str:
    minutes = "" if hop.minutes is None else _unbroken(writing.time(hop.minutes))
    if hop.on or hop.off:
        days = " to ".join(_day(when) for when in (hop.on, hop.off) if when)
        return f"{_WHERE[hop.at]}, {days}"
    if hop.first_wort:
        return "first wort"
    if hop.at == "boil":
        return minutes
    return ", ".join(part for part in (_WHERE[hop.at], minutes) if part)

"""The recipe as a brewer would hand it on: what, how much, and when."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import NamedTuple

from journal.frozen import dataclass
from journal.measures import Measure, writing
from journal.measures.units import VOLUME
from journal.measures.wording import plain
from journal.pages.grist import lot_name, malt_link
from journal.pages.index import Index
from journal.pages.model import UNBROKEN, Link
from journal.pages.paths import accounts_path, reading_anchor
from journal.pages.recipe import STAGES, Recipe, RecipeAddition, RecipeGrain, RecipeHop, recipe_of
from journal.pages.words import MONTHS
from journal.reading import Batch
from journal.reading.entry import WITHOUT_SPARGE
from journal.reading.kinds import GRAINS
from journal.reading.rests import Rest
from journal.reading.table import written_at

_WHERE = dict(STAGES)
#: Units that a volume is written in, and not a weight or a depth for one.
_VOLUMES = frozenset(VOLUME.written.values())


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


def recipe_groups(index: Index, batch: Batch) -> tuple[RecipeGroup, ...]:
    """The recipe by kinds, those of which nothing is written left out."""
    maker = _RecipeWords(index, batch, recipe_of(batch, index.record.journal.malts))
    found = (
        RecipeGroup("Grist", tuple(maker.grains())),
        RecipeGroup("Hops", tuple(maker.hops())),
        RecipeGroup("Water", tuple(maker.water())),
        RecipeGroup("Mash", tuple(maker.mash())),
        RecipeGroup("Souring", tuple(maker.souring())),
        RecipeGroup("Boil", tuple(maker.boil())),
        RecipeGroup("Yeast", tuple(maker.yeast())),
        RecipeGroup("Besides", tuple(maker.additions())),
        RecipeGroup("Package", tuple(maker.package())),
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
            name = lot_name(self.index, hop.hop)
            words = name if hop.alpha is None else f"{name}, {plain(100 * hop.alpha, 1)}{UNBROKEN}% alpha"
            yield RecipeLine(Link(words), self.row(hop.path, self.weight(hop.weight)), _when(hop))

    def water(self) -> Iterator[RecipeLine]:
        """Which water, and what it was mixed of."""
        water = self.batch.water
        if water.name:
            yield RecipeLine(Link(water.name), self.row("water.name", ""), "")
        for place, source in enumerate(water.sources):
            share = f"{plain(100 * source.share.value, 0)} %" if source.share else ""
            yield RecipeLine(Link(source.name or ""), self.row(f"water.sources[{place}]", share), "")

    def mash(self) -> Iterator[RecipeLine]:
        """Liquor, rests and sparge."""
        mash, lauter = self.batch.mash, self.batch.lauter
        if mash.liquor:
            yield RecipeLine(Link("liquor"), self.row("mash.liquor", self._volume(mash.liquor, "mash.liquor")), "")
        for place, rest in enumerate(mash.rests):
            path = f"mash.rests[{place}]"
            time = _unbroken(writing.time(rest.time.value)) if rest.time else ""
            yield RecipeLine(Link(self._rest(rest, path)), self.row(path, self._warmth(rest.temperature)), time)
        method = lauter.method or "sparge"
        rinsed = f"{method}, rinsed with" if method in WITHOUT_SPARGE else method
        for place, filling in enumerate(lauter.fillings):
            path = f"lauter.liquor[{place}]" if len(lauter.fillings) > 1 else "lauter.liquor"
            if filling.value:
                yield RecipeLine(Link(rinsed), self.row("lauter.liquor", self._volume(filling, path)), "")
        if lauter.method and not any(filling.value for filling in lauter.fillings):
            yield RecipeLine(Link(method), Link(""), "")

    def _rest(self, rest: Rest, path: str) -> str:
        """A rest by what brought the mash to it."""
        if rest.decoction:
            return f"rest, by a decoction of {_unbroken(self._volume(rest.decoction, f'{path}.decoction'))}"
        if rest.infusion:
            return f"rest, by {_unbroken(self._volume(rest.infusion, f'{path}.infusion'))} more liquor"
        return "rest"

    def _volume(self, volume: Measure, path: str) -> str:
        """Liquor as it is measured out; by weight or by dip as the brewer wrote it."""
        return writing.volume(volume.value, self.system) if volume.unit in _VOLUMES else self.batch.written(path)

    def _warmth(self, temperature: Measure | None) -> str:
        return writing.temperature(temperature.value, self.system).replace("deg", "°") if temperature else ""

    def souring(self) -> Iterator[RecipeLine]:
        """What sours the wort before the boil, how warm it is kept, and how long."""
        souring = self.batch.souring
        time = ""
        if souring.began and souring.ended:
            time = _unbroken(_long((souring.ended - souring.began).total_seconds() / 60))
        if souring.culture or souring.temperature or time:
            warmth = self.row("souring.temperature", self._warmth(souring.temperature))
            yield RecipeLine(Link(souring.culture or "soured"), warmth, time)

    def boil(self) -> Iterator[RecipeLine]:
        """How long it boils, what is done with it hot after that, and how it is cooled."""
        boil, stand = self.batch.boil, self.batch.stand
        if boil.time:
            yield RecipeLine(Link("boil"), self.row("boil.time", writing.time(boil.time.value)), "")
        if stand.temperature or stand.time:
            path = "stand.temperature" if stand.temperature else "stand.time"
            time = _unbroken(writing.time(stand.time.value)) if stand.time else ""
            yield RecipeLine(Link("stand"), self.row(path, self._warmth(stand.temperature)), time)
        cooling = self.batch.cooling
        if cooling.method or cooling.to:
            time = _unbroken(_long(cooling.time.value)) if cooling.time else ""
            words = ", ".join(part for part in ("cooling", cooling.method) if part)
            yield RecipeLine(Link(words), self.row("cooling.to", self._warmth(cooling.to)), time)

    def yeast(self) -> Iterator[RecipeLine]:
        """The yeast, and how warm it is kept."""
        yeast = self.batch.fermenter.yeast
        if self.recipe.yeast:
            amount = "cells" if yeast.cells and not yeast.amount else "amount"
            path = f"fermenter.yeast.{amount}"
            yield RecipeLine(Link(self.recipe.yeast), self.row(path, self.batch.written(path)), "")
        for place, held in enumerate(self.batch.fermenter.temperatures):
            words = held.why or ("pitched" if place == 0 else "held")
            since = f"from {_day(held.on)}" if held.on else ""
            path = f"fermenter.temperatures[{place}]"
            yield RecipeLine(Link(words), self.row(path, self._warmth(held.temperature)), since)

    def additions(self) -> Iterator[RecipeLine]:
        """Whatever else went in, water after the run-off first."""
        for group in ("boil", "fermenter", "package"):
            path = f"{group}.top_up"
            water = written_at(self.batch, path)
            if water is not None and water.value > 0.0:
                yield RecipeLine(Link("water"), self.row(path, self._volume(water, path)), _WHERE[group])
        for added in self.recipe.additions:
            where = _WHERE.get(added.at, added.at)
            when = f"{where}, {_day(added.on)}" if added.on else where
            yield RecipeLine(self._added(added), self.row(added.path, self._amount(added)), when)

    def package(self) -> Iterator[RecipeLine]:
        """What it goes into, and the gas it is to hold or the pressure it is kept under."""
        package = self.batch.package
        into = package.container or ""
        share = package.carbon_dioxide.value if package.carbon_dioxide else 1.0
        for path, written, when in (
            ("package.carbonation", package.carbonation, ""),
            ("package.pressure", package.pressure, "" if share == 1.0 else f"{plain(100 * share, 0)} % carbon dioxide"),
        ):
            if written:
                words = self.batch.written(path).replace(" deg", " °")
                yield RecipeLine(Link(into or path.rpartition(".")[2]), self.row(path, words), _unbroken(when))
                into = ""
        if into:
            yield RecipeLine(Link(into), Link(""), "")

    def _added(self, added: RecipeAddition) -> Link:
        words = lot_name(self.index, added.addition)
        return (
            malt_link(added.addition, words)
            if added.addition in self.index.record.journal.malts.by_key
            else Link(words)
        )

    def _amount(self, added: RecipeAddition) -> str:
        return added.written if added.weight is None else writing.amount(added.weight, added.unit, self.system)


def _long(minutes: float) -> str:
    """A time that may be days, min, as it is said."""
    return writing.time(minutes) if minutes < 180.0 else f"{plain(minutes / 60, 0)} h"


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

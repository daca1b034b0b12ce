"""A recipe as plain text, to hand on: as it was brewed, or for another volume and brewhouse."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

from journal.frozen import dataclass
from journal.history.plan.rescale import Rescaled
from journal.measures import Measure, writing
from journal.measures.units import is_depth, is_weight
from journal.measures.wording import METRIC, plain, show
from journal.pages.recipe import STAGES, RecipeAddition, RecipeGrain, RecipeHop, recipe_of
from journal.pages.trade_words import trade_word
from journal.reading import Batch, Malts
from journal.reading.table import written_at

_WHERE = dict(STAGES)
#: kg/L of water at 20 °C.
_COLD_WATER = 0.9982
#: A recipe that is not rescaled.
AS_BREWED = Rescaled(1.0, 1.0, 0.0, None, None, None, None)


def recipe_text(
    batch: Batch, malts: Malts, rescaled: Rescaled = AS_BREWED, system: str = METRIC, *, doubted: bool = False
) -> str:
    """The recipe, a line a thing; amounts multiplied as `rescaled` has it, those that can't be are said to stay.

    A malt of `malts` goes by its name there. `doubted`: the batch's readings contradict one another, which is said where they are
    used.
    """
    lines = [f"{batch.title}", *_wort(batch, rescaled, system)]
    for words, found in _RecipeLines(batch, malts, rescaled, system).groups():
        if found:
            lines += ["", words, *(f"  {amount:>10}  {what}".rstrip() for amount, what in found)]
    lines += ["", *_remarks(batch, rescaled, system, doubted=doubted)] if rescaled is not AS_BREWED else []
    return "\n".join(lines)


def _wort(batch: Batch, rescaled: Rescaled, system: str) -> Iterator[str]:
    parts = [batch.style or ""]
    if rescaled.volume:
        parts.append(f"{writing.volume(rescaled.volume, system)} into the fermenter")
    if rescaled.gravity:
        parts.append(writing.gravity(rescaled.gravity))
    if rescaled.efficiency:
        parts.append(f"at {show(rescaled.efficiency, 0.0, '1', system)} brewhouse efficiency")
    yield ", ".join(part for part in parts if part)


@dataclass(frozen=True)
class _RecipeLines:
    """What goes in, each as an amount and what it is."""

    batch: Batch
    malts: Malts
    by: Rescaled
    system: str

    def groups(self) -> Iterator[tuple[str, list[tuple[str, str]]]]:
        """By kinds, in the order of the work."""
        recipe = recipe_of(self.batch, self.malts)
        yield "Grist", [(self.weight(line.weight, self.by.by_grist), self.malt(line)) for line in recipe.grains]
        yield "Mash", list(self.mash())
        yield "Souring", list(self.souring())
        yield "Boil", list(self.boil())
        yield "Hops", [(self.weight(line.weight, self.by.by_volume), self.hop(line)) for line in recipe.hops]
        yield "Besides", [*self.top_ups(), *(self.addition(line) for line in recipe.additions)]
        yield "Yeast", [*([("", recipe.yeast)] if recipe.yeast else []), *self.fermentation()]
        yield "Package", list(self.package())

    def weight(self, kg: float | None, factor: float) -> str:
        """A weight multiplied, as it is weighed out; empty where none is stated."""
        return writing.weight(kg * factor, self.system) if kg else ""

    def named(self, key: str) -> str:
        """A malt, sugar or hop by its name in malts.yaml, as written where it has none."""
        sheet = self.malts.by_key.get(key)
        return (sheet.name if sheet else None) or key

    def malt(self, line: RecipeGrain) -> str:
        """A malt and its share of the grist."""
        share = f", {100 * line.share:.{0 if line.share >= 0.0095 else 1}f} %" if line.share else ""
        return self.named(line.malt) + share

    def mash(self) -> Iterator[tuple[str, str]]:
        """The liquor and the rests."""
        mash = self.batch.mash
        if mash.liquor:
            yield self.liquor(mash.liquor), trade_word("liquor", self.system)
        for rest in mash.rests:
            how = []
            if rest.infusion:
                hot = f" at {self.warm(rest.infusion_temperature)}" if rest.infusion_temperature else ""
                how.append(f"by {self.liquor(rest.infusion)} of that {trade_word('liquor', self.system)}{hot}")
            if rest.decoction:
                boiled = f", boiled {writing.time(rest.boiled.value)}" if rest.boiled else ""
                how.append(f"by a decoction of {self.liquor(rest.decoction)}{boiled}")
            yield (
                self.warm(rest.temperature),
                ", ".join([*([writing.time(rest.time.value)] if rest.time else []), *how]),
            )

    def warm(self, temperature: Measure | None) -> str:
        """A temperature; empty where none is stated."""
        return writing.temperature(temperature.value, self.system) if temperature else ""

    def liquor(self, measure: Measure) -> str:
        """Water or mash that goes with the grain."""
        return self.poured(measure, self.by.by_grist)

    def poured(self, measure: Measure, factor: float) -> str:
        """A volume multiplied; a depth belongs to one vessel and stays as it was."""
        if is_depth(measure.unit):
            return f"{plain(measure.value / 10, 1)} cm by the dip stick, as it was"
        litres = measure.value / _COLD_WATER if is_weight(measure.unit) else measure.value
        return writing.volume(litres * factor, self.system)

    def souring(self) -> Iterator[tuple[str, str]]:
        """What soured the wort, how warm it was kept and how long."""
        souring = self.batch.souring
        lasted = ""
        if souring.began and souring.ended:
            lasted = f"{plain((souring.ended - souring.began).total_seconds() / 3600, 0)} h"
        words = ", ".join(part for part in (lasted, souring.culture) if part)
        if words or souring.temperature:
            yield self.warm(souring.temperature), words

    def boil(self) -> Iterator[tuple[str, str]]:
        """How long it boils, and what is done with it hot after that."""
        boil, stand = self.batch.boil, self.batch.stand
        if boil.time:
            yield writing.time(boil.time.value), "boil"
        if stand.temperature or stand.time:
            lasts = f", {writing.time(stand.time.value)}" if stand.time else ""
            yield self.warm(stand.temperature), f"stand{lasts}"

    def fermentation(self) -> Iterator[tuple[str, str]]:
        """How warm it is kept, by days after pitching."""
        for place, held in enumerate(self.batch.fermenter.temperatures):
            why = held.why or ("pitched" if place == 0 else "held")
            yield self.warm(held.temperature), f"{why}{self.on_day(held.on)}"

    def on_day(self, when: datetime | None) -> str:
        """`, day 9`, counted from pitching; empty on that day, and where either is not stated."""
        pitched = self.batch.fermenter.pitched
        days = (when.date() - pitched.date()).days if when and pitched else 0
        return f", day {days}" if days > 0 else ""

    def package(self) -> Iterator[tuple[str, str]]:
        """What it goes into, and the gas it is to hold or the pressure it is kept under."""
        package = self.batch.package
        share = package.carbon_dioxide.value if package.carbon_dioxide else 1.0
        gas = "" if share == 1.0 else f" of {plain(100 * share, 0)} % carbon dioxide"
        if package.carbonation or package.container:
            yield self.batch.written("package.carbonation"), package.container or "carbonation"
        if package.pressure:
            yield "", f"at {self.batch.written('package.pressure')}{gas}"

    def hop(self, line: RecipeHop) -> str:
        """A hop, its alpha acid, and when it goes in."""
        alpha = "" if line.alpha is None else f"{show(line.alpha, 0.0, '1', self.system)} alpha acid"
        when = "first wort" if line.first_wort else _when(line.at, line.minutes)
        return ", ".join(part for part in (self.named(line.hop), alpha, when) if part) + self.on_day(line.on)

    def top_ups(self) -> Iterator[tuple[str, str]]:
        """Water that joined after the run-off."""
        for group in ("boil", "fermenter", "package"):
            water = written_at(self.batch, f"{group}.top_up")
            if water is not None and water.value > 0.0:
                yield self.poured(water, self.by.by_volume), f"water, {_WHERE[group]}"

    def addition(self, line: RecipeAddition) -> tuple[str, str]:
        """Anything else; what was not weighed stays as it was written, and that is said."""
        amount = writing.amount(line.weight * self.by.by_volume, line.unit, self.system) if line.weight else ""
        stays = "" if amount or self.by is AS_BREWED else ", as it was"
        where = f"{_WHERE.get(line.at, line.at)}{self.on_day(line.on)}"
        return amount or line.written, f"{self.named(line.addition)}, {where}{stays}"


def _when(stage: str, minutes: float | None) -> str:
    if stage == "boil":
        return "" if minutes is None else f"boiled {writing.time(minutes)}"
    return ", ".join(
        part for part in (_WHERE.get(stage, stage), "" if minutes is None else writing.time(minutes)) if part
    )


def _remarks(batch: Batch, by: Rescaled, system: str, *, doubted: bool) -> Iterator[str]:
    own = by.own_efficiency
    if own is not None and by.efficiency is not None:
        yield (
            f"Batch {batch.id} brought {show(own.value, own.sd, '1', system)} of its extract into the fermenter; the grist is calculated "
            "from that"
            + ("." if by.off is None else f", so the gravity is good to ± {by.off:.3f} where the yield is as stated.")
        )
    if own is not None and doubted:
        yield (
            f"The readings of batch {batch.id} contradict one another, and this hangs on them: `wortbook explain {batch.id} balance` "
            "says which is likely wrong; --yield states an efficiency of your own."
        )
    yield "Bitterness is kept by the litre; it is good to a fifth at best, and another kettle may draw more or less from the same hops."
    yield "Sparge with what fills your own kettle: what your vessels hold back and boil off is not in a recipe."

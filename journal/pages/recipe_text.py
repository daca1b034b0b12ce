"""A recipe as plain text, to hand on: as it was brewed, or for another volume and brewhouse."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from journal.history.plan.rescale import Rescaled
from journal.measures import writing
from journal.measures.wording import METRIC, show
from journal.pages.recipe import STAGES, RecipeAddition, RecipeGrain, RecipeHop, recipe_of
from journal.reading import Batch, Malts

_WHERE = dict(STAGES)
#: A recipe that is not rescaled.
AS_BREWED = Rescaled(1.0, 1.0, 0.0, None, None, None, None)


def recipe_text(batch: Batch, malts: Malts, rescaled: Rescaled = AS_BREWED, system: str = METRIC) -> str:
    """The recipe, a line a thing; amounts multiplied as `rescaled` has it, those that can't be are said to stay.

    A malt of `malts` goes by its name there.
    """
    lines = [f"{batch.title}", *_wort(batch, rescaled, system)]
    for words, found in _RecipeLines(batch, malts, rescaled, system).groups():
        if found:
            lines += ["", words, *(f"  {amount:>10}  {what}".rstrip() for amount, what in found)]
    lines += ["", *_remarks(batch, rescaled, system)] if rescaled is not AS_BREWED else []
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
        yield "Hops", [(self.weight(line.weight, self.by.by_volume), self.hop(line)) for line in recipe.hops]
        yield "Besides", [self.addition(line) for line in recipe.additions]
        yield "Yeast", [("", recipe.yeast)] if recipe.yeast else []

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
            yield writing.volume(mash.liquor.value * self.by.by_grist, self.system), "liquor"
        for rest in mash.rests:
            warm = writing.temperature(rest.temperature.value, self.system) if rest.temperature else ""
            yield warm, writing.time(rest.time.value) if rest.time else ""

    def hop(self, line: RecipeHop) -> str:
        """A hop, its alpha acid, and when it goes in."""
        alpha = "" if line.alpha is None else f"{show(line.alpha, 0.0, '1', self.system)} alpha acid"
        return ", ".join(part for part in (self.named(line.hop), alpha, _when(line.at, line.minutes)) if part)

    def addition(self, line: RecipeAddition) -> tuple[str, str]:
        """Anything else; what was not weighed stays as it was written, and that is said."""
        amount = self.weight(line.weight, self.by.by_volume)
        stays = "" if amount or self.by is AS_BREWED else ", as it was"
        return amount or line.written, f"{self.named(line.addition)}, {_WHERE.get(line.at, line.at)}{stays}"


def _when(stage: str, minutes: float | None) -> str:
    if stage == "boil":
        return "" if minutes is None else f"boiled {writing.time(minutes)}"
    return ", ".join(
        part for part in (_WHERE.get(stage, stage), "" if minutes is None else writing.time(minutes)) if part
    )


def _remarks(batch: Batch, by: Rescaled, system: str) -> Iterator[str]:
    own = by.own_efficiency
    if own is not None and by.efficiency is not None:
        yield (
            f"Batch {batch.id} brought {show(own.value, own.sd, '1', system)} of its extract into the fermenter; the grist is calculated "
            "from that"
            + ("." if by.off is None else f", so the gravity is good to ± {by.off:.3f} where the yield is as stated.")
        )
    yield "Bitterness is kept by the litre; it is good to a fifth at best, and another kettle may draw more or less from the same hops."
    yield "Sparge with what fills your own kettle: what your vessels hold back and boil off is not in a recipe."

"""The rows of a recipe from the fermenter to the package."""

from __future__ import annotations

from collections.abc import Iterator

from journal.frozen import dataclass
from journal.measures import Gravity, writing
from journal.measures.wording import plain
from journal.pages.recipe_amounts import RecipeAmounts, RecipeRow
from journal.reading.table import written_at


@dataclass(frozen=True)
class ColdSideRows(RecipeAmounts):
    """What goes into the fermenter, how warm it is kept and how long, and what it is packaged in."""

    def gravity(self, path: str) -> str:
        """`at 1.046`, as it was read; empty where it was not, and where the volume is another."""
        gravity = written_at(self.batch, path)
        return f"at {self.said(path, '')}" if isinstance(gravity, Gravity) else ""

    def pitching(self, yeast: str) -> Iterator[RecipeRow]:
        """What goes into the fermenter, and the yeast."""
        fermenter, path = self.batch.fermenter, "fermenter.volume"
        wanted = self.batch.target.volume
        if fermenter.volume:
            amount = self.poured(path, fermenter.volume, self.by.by_volume)
            if self.scaled:
                # what it is rescaled for: the volume as it was read may differ a little from the one that counts
                amount = writing.volume(self.by.volume, self.system)
            yield RecipeRow("into the fermenter", amount, self.gravity("fermenter.gravity"), path, read=True)
        elif wanted:
            path = "target.volume"
            yield RecipeRow("into the fermenter", self.poured(path, wanted, self.by.by_volume), "as planned", path)
        yield from self.top_up("fermenter")
        if fermenter.oxygen:
            yield RecipeRow(fermenter.oxygen, "", "", "fermenter.oxygen")
        if yeast:
            stated = "cells" if fermenter.yeast.cells and not fermenter.yeast.amount else "amount"
            path = f"fermenter.yeast.{stated}"
            amount, stays = self.amount(path, fermenter.yeast.amount, self.by.by_volume)
            yield RecipeRow(yeast, amount or self.batch.written(path), stays, path)

    def held(self) -> Iterator[RecipeRow]:
        """How warm it is kept from which day, and how long it ferments."""
        fermenter, package = self.batch.fermenter, self.batch.package
        for place, held in enumerate(fermenter.temperatures):
            day = self.day(held.on)
            path = f"fermenter.temperatures[{place}]"
            warmth = self.warm(f"{path}.temperature", held.temperature)
            yield RecipeRow(
                held.why or ("pitched" if place == 0 else "held"), warmth, f"from day {day}" if day else "", path
            )
        read = [
            (read.temperature.value, self.warm(f"readings[{place}].temperature", read.temperature))
            for place, read in enumerate(self.batch.readings)
            if read.temperature
        ]
        if read:
            ends = list(dict.fromkeys(words for _, words in (min(read), max(read))))
            yield RecipeRow("the fermenting beer, as read", " to ".join(ends), "", "readings[0].temperature", read=True)
        days = self.day(package.on)
        if days and days > 0:
            yield RecipeRow("until packaged", f"{days} days", "", "package.on", read=True)

    def top_up(self, group: str) -> Iterator[RecipeRow]:
        """Water that joins after the run-off."""
        path = f"{group}.top_up"
        water = written_at(self.batch, path)
        if water is not None and water.value > 0.0:
            part = "to top up, included" if group == "fermenter" else "to top up"
            yield RecipeRow("water", self.poured(path, water, self.by.by_volume), part, path)

    def package(self) -> Iterator[RecipeRow]:
        """What it goes into, and the gas it is to hold or the pressure it is kept under."""
        package = self.batch.package
        into = package.container or ""
        share = package.carbon_dioxide.value if package.carbon_dioxide else 1.0
        gas = "" if share == 1.0 else f"{plain(100 * share, 0)} % carbon dioxide"
        if package.volume:
            yield RecipeRow(
                "packaged",
                self.poured("package.volume", package.volume, self.by.by_volume),
                "",
                "package.volume",
                read=True,
            )
        for path, written, when in (
            ("package.carbonation", package.carbonation, ""),
            ("package.pressure", package.pressure, gas),
        ):
            if written:
                yield RecipeRow(into or path.rpartition(".")[2], self.said(path, ""), when, path)
                into = ""
        if into:
            yield RecipeRow(into, "")

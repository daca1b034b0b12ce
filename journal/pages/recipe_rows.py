"""The recipe as rows, what, how much and when: the page, its copied text and the terminal show these and no others."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from journal.frozen import dataclass
from journal.history.settings import lot_words
from journal.measures import writing
from journal.measures.wording import per_cents, plain
from journal.pages.recipe import STAGES, RecipeAddition, RecipeHop, recipe_of
from journal.pages.recipe_amounts import RecipeRow
from journal.pages.recipe_cold_side import ColdSideRows
from journal.pages.recipe_extract import brought_by
from journal.reading.entry import STEEP, WITHOUT_SPARGE
from journal.reading.known_readings import BY_PATH
from journal.reading.lines import Addition
from journal.reading.malts import may_bring_extract
from journal.reading.rests import Rest
from journal.reading.table import lines_of

_WHERE = dict(STAGES)
#: When something goes in that no more is said of, by its stage, where the heading that it stands under doesn't say so.
_INTO = {"lauter": "with the sparge", "boil.before": "before the boil", "stand": "in the stand"}


@dataclass(frozen=True)
class RecipeRows(ColdSideRows):
    """The rows of one batch's recipe; amounts multiplied as `by` has it, those that can't be are said to stay.

    As brewed, an amount is what the brewer wrote.
    """

    def groups(self) -> Iterator[tuple[str, list[RecipeRow]]]:
        """The rows by kinds, in the order of the work; kinds of which nothing is written are left out."""
        recipe = recipe_of(self.batch, self.malts)
        heading, fermentables, on_top = self.fermentables()
        added = [line for line in recipe.additions if line.path not in on_top]
        found = (
            (heading, fermentables),
            ("Hops", [self.hop(line) for line in recipe.hops]),
            ("Water", [*self.water()]),
            (
                "Steep" if self.steeped else "Mash",
                [*self.mash(), *self.additions(added, "mash"), *self.sparge(), *self.additions(added, "lauter")],
            ),
            ("Souring", [*self.souring()]),
            ("Boil", [*self.kettle(added), *self.after_the_boil(added)]),
            ("Fermentation", [*self.pitching(recipe.yeast), *self.additions(added, "fermenter"), *self.held()]),
            ("Package", [*self.package(), *self.additions(added, "package")]),
        )
        return ((words, rows) for words, rows in found if rows)

    @property
    def steeped(self) -> bool:
        """Whether the grain is lifted out of warm water and nothing is mashed."""
        return self.batch.lauter.method == STEEP

    def fermentables(self) -> tuple[str, list[RecipeRow], frozenset[str]]:
        """The grist by weight; with what joins beside it where that brings much of the extract: each with its share of it.

        The third are the paths of those additions.
        """
        brought = brought_by(self.batch, self.malts, self.by)
        if brought is None:
            grains = recipe_of(self.batch, self.malts).grains
            shares = per_cents([grain.share for grain in grains])
            rows = [
                RecipeRow(
                    lot_words(self.malts, grain.malt),
                    self.weight(f"{grain.path}.weight", grain.weight, self.by.by_grist),
                    share,
                    grain.path,
                    grain.malt,
                )
                for grain, share in zip(grains, shares, strict=True)
            ]
            return ("Grist, by weight" if any(shares) else "Grist"), rows, frozenset()
        whole = sum(line.extract for line in brought)
        rows = []
        for line, share in zip(brought, per_cents([line.extract / whole for line in brought]), strict=True):
            factor = self.by.by_volume if line.addition else self.by.by_grist
            stage = line.path.partition(".")[0]
            when = (self.when_added(line.addition, line.path) or f"in the {_WHERE[stage]}") if line.addition else ""
            rows.append(
                RecipeRow(
                    lot_words(self.malts, line.name),
                    self.weight(line.weight_path, line.weight, factor),
                    f"{share}, {when}" if when else share,
                    line.path,
                    line.name,
                )
            )
        joined = frozenset(line.path for line in brought if line.addition)
        return "Malt and extract, by the extract that each holds", rows, joined

    def hop(self, line: RecipeHop) -> RecipeRow:
        """Hops by when they go in."""
        name = lot_words(self.malts, line.hop)
        words = name if line.alpha is None else f"{name}, {plain(100 * line.alpha, 1)} % alpha"
        amount = self.weight(f"{line.path}.weight", line.weight, self.by.by_volume)
        return RecipeRow(words, amount, self.when_hopped(line), line.path)

    def when_hopped(self, line: RecipeHop) -> str:
        """`boiled 60 min`, `fermenter, day 7 to day 11`."""
        if line.on or line.off:
            days = " to ".join(f"day {self.day(when)}" for when in (line.on, line.off) if when)
            return f"{_WHERE[line.at]}, {days}"
        if line.first_wort:
            return "first wort"
        if line.at == "boil":
            # of hops the trade says no more than how long
            return self.boiled(line.minutes).removeprefix("boiled ")
        return ", ".join(
            part for part in (_WHERE[line.at], "" if line.minutes is None else self.minutes(line.minutes)) if part
        )

    def boiled(self, minutes: float | None) -> str:
        """How long something boils, which is when before the end it goes in."""
        if minutes is None:
            return ""
        return f"boiled {writing.time(minutes)}" if minutes else f"at {self.word('knockout')}"

    def water(self) -> Iterator[RecipeRow]:
        """Which water, and what it was mixed of."""
        water = self.batch.water
        if water.name:
            yield RecipeRow(water.name, "", "", "water.name")
        for place, source in enumerate(water.sources):
            share = f"{plain(100 * source.share.value, 0)} %" if source.share else ""
            yield RecipeRow(source.name or "", share, "", f"water.sources[{place}]")

    def mash(self) -> Iterator[RecipeRow]:
        """Liquor, strike, rests, pH."""
        mash, path = self.batch.mash, "mash.liquor"
        if mash.liquor:
            what = f"{self.word('liquor')} to steep in" if self.steeped else f"mash {self.word('liquor')}"
            hot = f"at {self.warm('mash.strike', mash.strike)}" if mash.strike else ""
            yield RecipeRow(what, self.poured(path, mash.liquor, self.by.by_grist), hot, path)
        elif mash.strike:
            yield RecipeRow(f"strike {self.word('liquor')}", self.warm("mash.strike", mash.strike), "", "mash.strike")
        for place, rest in enumerate(mash.rests):
            path = f"mash.rests[{place}]"
            time = self.minutes(rest.time.value) if rest.time else ""
            warmth = self.warm(f"{path}.temperature", rest.temperature)
            yield RecipeRow("steep" if self.steeped else self.rest(rest, path), warmth, time, path)
        if mash.ph:
            yield RecipeRow("pH of the mash, as read", self.said("mash.ph", ""), "", "mash.ph", read=True)

    def rest(self, rest: Rest, path: str) -> str:
        """A rest by what brought the mash to it."""
        if rest.decoction:
            boiled = f", boiled {writing.time(rest.boiled.value)}" if rest.boiled else ""
            return (
                f"rest, by a decoction of {self.poured(f'{path}.decoction', rest.decoction, self.by.by_grist)}{boiled}"
            )
        if rest.infusion:
            hot = self.warm(f"{path}.infusion_temperature", rest.infusion_temperature)
            more = f"{self.poured(f'{path}.infusion', rest.infusion, self.by.by_grist)} of that {self.word('liquor')}"
            return f"rest, by {more}{f' at {hot}' if hot else ''}"
        return "rest"

    def sparge(self) -> Iterator[RecipeRow]:
        """What the grain is rinsed with."""
        lauter = self.batch.lauter
        method = lauter.method or "sparge"
        rinsed = f"{method}, rinsed with" if method in WITHOUT_SPARGE else method
        hot = self.warm("lauter.liquor_temperature", lauter.liquor_temperature)
        for place, filling in enumerate(lauter.fillings):
            if filling.value:
                path = f"lauter.liquor[{place}]" if len(lauter.fillings) > 1 else "lauter.liquor"
                amount = self.poured(path, filling, self.by.by_grist)
                yield RecipeRow(rinsed, amount, f"at {hot}" if hot else "", "lauter.liquor")
        if lauter.method and lauter.method != STEEP and not any(filling.value for filling in lauter.fillings):
            yield RecipeRow(method, "")

    def souring(self) -> Iterator[RecipeRow]:
        """What sours the wort before the boil, how warm it is kept, and how long."""
        souring, path = self.batch.souring, "souring.temperature"
        time = (
            self.minutes((souring.ended - souring.began).total_seconds() / 60)
            if souring.began and souring.ended
            else ""
        )
        if souring.culture or souring.temperature or time:
            yield RecipeRow(souring.culture or "soured", self.warm(path, souring.temperature), time, path)

    def kettle(self, added: Sequence[RecipeAddition]) -> Iterator[RecipeRow]:
        """What stands in the kettle, what goes in before the boil, and how long it boils."""
        boil, stage = self.batch.boil, "boil.before"
        path = f"{stage}.volume"
        if boil.before.volume:
            amount = self.poured(path, boil.before.volume, self.by.by_volume)
            yield RecipeRow("in the kettle before the boil", amount, self.gravity(f"{stage}.gravity"), path, read=True)
        elif expected := self.foreseen.get(BY_PATH[path].figure):
            amount = writing.volume(expected * self.by.by_volume, self.system)
            yield RecipeRow("in the kettle before the boil", amount, f"expected, at {self.degrees(20.0)}", read=True)
        yield from self.additions(added, stage)
        yield from self.top_up("boil")
        if boil.time:
            yield RecipeRow("boil", self.said("boil.time", writing.time(boil.time.value)), "", "boil.time")
        yield from self.additions(added, "boil")

    def after_the_boil(self, added: Sequence[RecipeAddition]) -> Iterator[RecipeRow]:
        """What is done with it hot, and how it is cooled."""
        stand, cooling = self.batch.stand, self.batch.cooling
        if stand.temperature or stand.time:
            path = "stand.temperature" if stand.temperature else "stand.time"
            time = writing.time(stand.time.value) if stand.time else ""
            yield RecipeRow("stand", self.warm("stand.temperature", stand.temperature), time, path)
        yield from self.additions(added, "stand")
        if cooling.method or cooling.to:
            words = ", ".join(part for part in ("cooling", cooling.method) if part)
            time = self.minutes(cooling.time.value) if cooling.time else ""
            yield RecipeRow(words, self.warm("cooling.to", cooling.to), time, "cooling.to")

    def additions(self, added: Sequence[RecipeAddition], stage: str) -> Iterator[RecipeRow]:
        """Whatever else goes in at a stage."""
        yield from self.top_up("package") if stage == "package" else ()
        for line in added:
            if line.at == stage:
                yield self.addition(line)

    def addition(self, line: RecipeAddition) -> RecipeRow:
        """Anything else; a salt goes with its liquor, what was counted stays as it was, and that is said."""
        found = dict(lines_of(self.batch, Addition)).get(line.path)
        if found is None:
            path, measure, factor, when = (
                line.path,
                self.batch.package.priming.weight,
                self.by.by_volume,
                self.primed or "to carbonate it",
            )
        else:
            path, measure = f"{line.path}.{found.weight_field}", found.weight or found.amount
            salt = line.at in {"mash", "lauter"} and not may_bring_extract(found, self.malts)
            factor, when = self.by.by_grist if salt else self.by.by_volume, self.when_added(found, line.path)
        amount, stays = self.amount(path, measure, factor)
        return RecipeRow(
            lot_words(self.malts, line.addition),
            amount or line.written,
            ", ".join(part for part in (when, stays) if part),
            line.path,
            line.addition,
        )

    def when_added(self, line: Addition, path: str) -> str:
        """When something else goes in: `boiled 15 min`, `day 6`."""
        stage = path.rpartition("[")[0].rpartition(".")[0]
        if line.boiled is not None:
            return self.boiled(line.boiled.value)
        day = self.day(line.on)
        return ", ".join(part for part in (_INTO.get(stage, ""), "" if day is None else f"day {day}") if part)

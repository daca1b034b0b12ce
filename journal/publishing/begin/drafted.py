"""The text of an entry for a drafted brew: each number that was reckoned says from what."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from journal.balance.vessels import Vessel
from journal.history.plan.draft import Charge, Draft
from journal.history.plan.strike import ROOM
from journal.history.plan.ways import REST
from journal.measures import Measure, writing
from journal.measures.units import is_depth, is_weight
from journal.measures.wording import METRIC, plain, show, signed
from journal.publishing.begin.bare import unread
from journal.publishing.begin.yaml_lines import YamlLine, quoted
from journal.reading.entry import Addition, Boil, Fermenter, Hop, Lauter, Mash
from journal.reading.table import fields_of


@dataclass(frozen=True)
class DraftHead:
    """What an entry begins with; `gravity` and `volume` are the target as typed, empty where it was not."""

    number: str
    title: str
    day: str
    brewhouse: str
    gravity: str
    volume: str


class DraftedEntry:
    """Writes one drafted brew; `system` is that of the brewery."""

    def __init__(self, head: DraftHead, draft: Draft, system: str = METRIC) -> None:
        self.head, self.draft, self.system = head, draft, system
        self.like = draft.like

    def lines(self) -> Iterator[YamlLine]:
        """The whole entry."""
        yield YamlLine("---")
        yield from self._head()
        yield from self._grains()
        yield from self._mash()
        yield from self._lauter()
        yield from self._boil()
        yield from self._fermenter()
        yield from self._practice()
        yield YamlLine("---")
        yield YamlLine("")

    @property
    def _as_before(self) -> str:
        return f"as batch {self.like.id}" if self.like else self._as_usual

    @property
    def _as_usual(self) -> str:
        """Whose ways they are where the batch that it is like says nothing."""
        return f"as batch {self.draft.ways.batch}" if self.draft.ways.batch else "common practice"

    def _source(self, path: str) -> str:
        """What an earlier entry says at a path, in its brewer's own writing; empty where it says nothing on one line."""
        if self.like is None or self.like.source is None or path not in self.like.places:
            return ""
        span = self.like.places[path]
        text = self.like.source.text[span.start : span.end].strip()
        return "" if "\n" in text else text

    def _kept(self, path: str, key: str, indent: str, comment: str = "") -> Iterator[YamlLine]:
        """A field carried over as it was written."""
        text = self._source(path)
        if text:
            yield YamlLine(f"{indent}{key}: {text}", comment)

    def _head(self) -> Iterator[YamlLine]:
        head, aim = self.head, self.draft.aim
        yield YamlLine(f"batch: {head.number}")
        yield YamlLine(f"title: {quoted(head.title)}")
        yield YamlLine(f"brewed: {head.day}")
        yield from self._kept("style", "style", "")
        if head.brewhouse:
            yield YamlLine(f"brewhouse: {quoted(head.brewhouse)}")
        if self.like and self.like.tags:
            yield YamlLine(f"tags: [{', '.join(quoted(tag) for tag in self.like.tags)}]")
        gravity = head.gravity or writing.gravity(aim.gravity)
        volume = head.volume or writing.volume(aim.volume, self.system)
        yield YamlLine("target:")
        yield YamlLine(f"  gravity: {gravity}", "" if head.gravity else self._as_before)
        yield YamlLine(
            f"  volume: {volume}", "in the fermenter" if head.volume else f"in the fermenter, {self._as_before}"
        )

    def _efficiency(self) -> str:
        plan, learnt = self.draft.plan, self.draft.learnt
        share = show(plan.mash_efficiency, 0.0, "1", self.system)
        rests = (
            f"from {learnt} batches of this brewhouse"
            if learnt
            else "by common practice: this brewhouse has no record yet"
        )
        return f"{share} of its extract is expected in the kettle, {rests}"

    def _grains(self) -> Iterator[YamlLine]:
        yield YamlLine("grains:", self._efficiency())
        for charge in self.draft.grains:
            yield YamlLine(
                f"  - malt: {quoted(charge.malt)}", f"instead of {charge.instead_of}" if charge.instead_of else ""
            )
            yield YamlLine(f"    weight: {writing.weight(charge.weight, self.system)}", self._weighed(charge))
            if not charge.instead_of:
                for key in ("extract", "extract_as_is", "moisture", "diastatic_power", "colour", "source"):
                    yield from self._kept(f"grains[{charge.place}].{key}", key, "    ")
        yield from self._kept("crush", "crush", "", self._as_before)

    def _weighed(self, charge: Charge) -> str:
        if charge.share is not None:
            before = f"{plain(100 * charge.share, 1)} % of the grist"
        elif self.like is None or charge.before is None:
            return "the grist a first brew is planned with: put your malt's name and weights here"
        else:
            before = f"{writing.weight(charge.before, self.system)} in batch {self.like.id}"
        if not charge.instead_of:
            return before
        by = "by the two sheets"
        if charge.gave:
            by += " and what the lots gave over them (" + ", ".join(_per_cent(part) for part in charge.gave) + ")"
        return f"{before}, {by}"

    def _mash(self) -> Iterator[YamlLine]:
        draft, plan = self.draft, self.draft.plan
        yield YamlLine("mash:")
        thickness = show(plan.mash_liquor / plan.grain, 0.0, "L/kg", self.system)
        note = f"{thickness}, {self._as_before}" if draft.aim.sparges else "all of it, for nothing is sparged"
        yield YamlLine(f"  liquor: {writing.volume(plan.mash_liquor, self.system)}", note)
        yield from self._strike()
        if draft.grain_temperature is not None:
            yield YamlLine(f"  grain_temperature: {writing.temperature(draft.grain_temperature, self.system)}")
        yield YamlLine("  rests:")
        rests = self.like.mash.rests if self.like else ()
        for place in range(len(rests)):
            temperature, time = (self._source(f"mash.rests[{place}].{part}") for part in ("temperature", "time"))
            yield YamlLine(f"    - {temperature} for {time}", self._as_before if place == 0 else "")
        if not rests:
            at = writing.temperature(draft.mash_temperature, self.system)
            yield YamlLine(f"    - {at} for {writing.time(REST)}", self._as_usual)
        yield from self._kept("mash.mixing", "mixing", "  ")
        yield from self._salts()
        yield from unread(Mash, "  ", "ph", "first_wort", "stuck")

    def _strike(self) -> Iterator[YamlLine]:
        found = self.draft.strike
        if found is None or found.temperature >= 100:
            yield YamlLine("  # strike: no liquor is hot enough to get there in one step")
            return
        at = self.draft.grain_temperature
        grain = f"grain at {show(ROOM if at is None else at, 0.0, '°C', self.system)}{' (taken to be)' if at is None else ''}"
        to = show(self.draft.mash_temperature, 0.0, "°C", self.system)
        spread = show(found.temperature, found.sd, "°C", self.system).sd
        yield YamlLine(
            f"  strike: {writing.temperature(found.temperature, self.system)}",
            f"± {spread}: to settle at {to} with {grain}, by heat balance",
        )

    def _salts(self) -> Iterator[YamlLine]:
        salts = self.like.mash.additions if self.like else ()
        if salts:
            yield YamlLine("  additions:", f"scaled with the mash liquor, {self._as_before}")
        for salt in salts:
            yield YamlLine(f"    - addition: {quoted(salt.addition or '')}")
            yield from self._amount(salt)

    def _amount(self, salt: Addition) -> Iterator[YamlLine]:
        if salt.amount is not None:
            yield YamlLine(f"      amount: {self._scaled(salt.amount, self.draft.times.liquor)}")

    def _scaled(self, amount: Measure, times: float) -> str:
        """A weight, a volume or a number, whichever it was."""
        return writing.amount(amount.value * times, amount.unit, self.system)

    def _lauter(self) -> Iterator[YamlLine]:
        draft, plan = self.draft, self.draft.plan
        yield YamlLine("lauter:")
        yield YamlLine(f"  method: {draft.aim.method}", self._as_before)
        if draft.aim.sparges:
            full = writing.volume(plan.kettle.volume, self.system)
            yield YamlLine(
                f"  liquor: {writing.volume(plan.sparge_liquor, self.system)}", f"fills the kettle to {full} at 20 °C"
            )
            yield from self._kept("lauter.liquor_temperature", "liquor_temperature", "  ")
        yield from unread(Lauter, "  ", "time", "last_runnings")

    def _boil(self) -> Iterator[YamlLine]:
        plan = self.draft.plan
        yield YamlLine("boil:")
        time = self._source("boil.time")
        boil = time or writing.time(60.0 * self.draft.aim.boil)
        yield YamlLine(f"  time: {boil}", self._as_before if time else self._as_usual)
        yield from self._vessel("before", plan.kettle)
        yield from self._vessel("after", plan.knockout)
        if self.like:
            yield from self._top_up(self.like.boil.top_up)
            yield from self._hops(self.like.boil.hops)
            yield from self._sugars("boil", self.like.boil.additions)

    def _vessel(self, name: str, wort: Vessel) -> Iterator[YamlLine]:
        """A reading of the kettle, still to be taken, with what is expected of it."""
        yield YamlLine(f"  {name}:", fields_of(Boil)[name].doc)
        yield YamlLine("    volume:", f"expected: {writing.volume(wort.volume, self.system)} at 20 °C")
        yield YamlLine("    gravity:", f"expected: {plain(wort.gravity, 4)}")

    def _top_up(self, amount: Measure | None) -> Iterator[YamlLine]:
        if amount is not None and is_depth(amount.unit):
            yield YamlLine("  top_up:", f"by the dip stick {self._as_before}: write it as a volume")
        elif amount is not None and is_weight(amount.unit):
            yield YamlLine(
                f"  top_up: {self._scaled(amount, self.draft.times.volume)}",
                f"scaled with the volume, {self._as_before}",
            )
        elif amount is not None and amount.value > 0:
            text = writing.volume(amount.value * self.draft.times.volume, self.system)
            yield YamlLine(f"  top_up: {text}", f"scaled with the volume, {self._as_before}")

    def _hops(self, hops: tuple[Hop, ...]) -> Iterator[YamlLine]:
        if hops:
            yield YamlLine("  hops:", f"scaled with the volume, {self._as_before}")
        for place, hop in enumerate(hops):
            yield YamlLine(f"    - hop: {quoted(hop.hop or '')}")
            if hop.weight is not None:
                yield YamlLine(f"      weight: {self._scaled(hop.weight, self.draft.times.volume)}")
            for key in ("alpha", "boiled"):
                yield from self._kept(f"boil.hops[{place}].{key}", key, "      ")

    def _sugars(self, group: str, sugars: tuple[Addition, ...]) -> Iterator[YamlLine]:
        if sugars:
            yield YamlLine("  additions:", f"scaled with the extract, {self._as_before}")
        for place, sugar in enumerate(sugars):
            yield YamlLine(f"    - addition: {quoted(sugar.addition or '')}")
            if sugar.weight is not None:
                yield YamlLine(f"      weight: {self._scaled(sugar.weight, self.draft.times.extract)}")
            for key in ("extract", "extract_as_is", "moisture", "colour", "source"):
                yield from self._kept(f"{group}.additions[{place}].{key}", key, "      ")

    def _fermenter(self) -> Iterator[YamlLine]:
        yield YamlLine("fermenter:")
        yield from unread(Fermenter, "  ", "volume", "gravity")
        fermenter = self.like.fermenter if self.like else None
        if fermenter:
            yield from self._top_up(fermenter.top_up)
            yield from self._sugars("fermenter", fermenter.additions)
        yield YamlLine(
            f"  yeast: {self._source('fermenter.yeast')}".rstrip(),
            self._as_before if self._source("fermenter.yeast") else "",
        )
        yield from unread(Fermenter, "  ", "pitched")

    def _practice(self) -> Iterator[YamlLine]:
        if self.like and self.like.practice:
            yield YamlLine("practice:", self._as_before)
            for name in self.like.practice:
                yield from self._kept(f"practice.{name}", quoted(name), "  ")


def _per_cent(part: float) -> str:
    return f"{signed(plain(part * 100, 1))} %"


def entry_of(head: DraftHead, draft: Draft, system: str) -> list[YamlLine]:
    """The lines of the entry for a draft."""
    return list(DraftedEntry(head, draft, system).lines())

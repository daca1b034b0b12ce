"""The text of an entry for a drafted brew: each number that was reckoned says from what."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from journal.balance.vessels import Vessel
from journal.frozen import dataclass
from journal.history.plan.draft import Charge, Draft
from journal.history.plan.strike import ROOM
from journal.history.plan.ways import REST
from journal.measures import Measure, read_measure, writing
from journal.measures.units import VOLUME
from journal.measures.wording import METRIC, plain, show, signed
from journal.publishing.begin.bare import empty_fields
from journal.publishing.begin.carried import CarriedOver
from journal.publishing.begin.yaml_lines import YamlLine, quote
from journal.reading.entry import STEEP, Boil, Fermenter, Lauter, Mash
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
    """Writes one drafted brew; `carried` is what it takes over from the batch it is like, None where it is like none.

    `foreseen` is what it comes to once its amounts are rounded, L and SG by figure; the plan's own number stands for what isn't there.
    """

    def __init__(
        self,
        head: DraftHead,
        draft: Draft,
        carried: CarriedOver | None,
        system: str = METRIC,
        foreseen: Mapping[str, float] | None = None,
    ) -> None:
        self.head, self.draft, self.carried, self.system = head, draft, carried, system
        self.foreseen = foreseen or {}
        self.like = draft.like

    def lines(self) -> Iterator[YamlLine]:
        """The whole entry."""
        yield YamlLine("---")
        yield from self._head()
        yield from self._grains()
        yield from self._carried("water")
        yield from self._mash()
        yield from self._carried("souring")
        yield from self._lauter()
        yield from self._boil()
        for group in ("stand", "cooling"):
            yield from self._carried(group)
        yield from self._fermenter()
        yield from self._carried("ice_removed")
        yield from self._carried("package")
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
        return self.carried.source(path) if self.carried else ""

    def _kept(self, path: str, key: str, indent: str, comment: str = "") -> Iterator[YamlLine]:
        """A field carried over as it was written."""
        text = self._source(path)
        if text:
            yield YamlLine(f"{indent}{key}: {text}", comment)

    def _carried(self, path: str) -> Iterator[YamlLine]:
        """A whole group as the batch before had it; nothing where it had none."""
        if self.like is not None and self.carried is not None:
            yield from self.carried.field(path, getattr(self.like, path), "")

    def _inside(self, path: str) -> Iterator[YamlLine]:
        """What a group that is there already takes over."""
        if self.carried is not None:
            yield from self.carried.group(path, "  ")

    def _head(self) -> Iterator[YamlLine]:
        head, aim = self.head, self.draft.aim
        yield YamlLine(f"batch: {head.number}")
        yield YamlLine(f"title: {quote(head.title)}")
        yield YamlLine(f"brewed: {head.day}")
        yield from self._kept("style", "style", "")
        if head.brewhouse:
            yield YamlLine(f"brewhouse: {quote(head.brewhouse)}")
        if self.like and self.like.tags:
            yield YamlLine(f"tags: [{', '.join(quote(tag) for tag in self.like.tags)}]")
        gravity = head.gravity or writing.gravity(aim.gravity)
        volume = head.volume or writing.volume(aim.volume, self.system)
        yield YamlLine("target:")
        yield YamlLine(f"  gravity: {gravity}", "" if head.gravity else self._as_before)
        yield YamlLine(
            f"  volume: {volume}", "in the fermenter" if head.volume else f"in the fermenter, {self._as_before}"
        )

    def _efficiency(self) -> str:
        plan, learnt = self.draft.plan, self.draft.learnt
        if self.draft.aim.method == STEEP:
            return f"steeped: scaled with the extract, {self._as_before}"
        share = show(plan.mash_efficiency, 0.0, "1", self.system)
        rests = (
            f"from {learnt} batches of this brewhouse"
            if learnt
            else "by common practice: this brewhouse has too few batches to go by"
        )
        return f"{share} of its extract is expected in the kettle, {rests}"

    def _grains(self) -> Iterator[YamlLine]:
        if not self.draft.grains:
            return
        yield YamlLine("grains:", self._efficiency())
        for charge in self.draft.grains:
            yield YamlLine(
                f"  - malt: {quote(charge.malt)}", f"instead of {charge.instead_of}" if charge.instead_of else ""
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
        if not draft.grains:
            yield from self._carried("mash")
            return
        yield YamlLine("mash:")
        thickness = show(plan.mash_liquor / plan.grain, 0.0, "L/kg", self.system)
        note = f"{thickness}, {self._as_before}" if draft.aim.sparges else self._all_of_it()
        yield YamlLine(f"  liquor: {writing.volume(plan.mash_liquor, self.system)}", note)
        yield from self._strike()
        if draft.grain_temperature is not None:
            yield YamlLine(f"  grain_temperature: {writing.temperature(draft.grain_temperature, self.system)}")
        yield from self._rests()
        yield from self._inside("mash")
        yield from empty_fields(Mash, "  ", "ph", "first_wort", "stuck")

    def _rests(self) -> Iterator[YamlLine]:
        """The rests, with the infusions and decoctions that bring the mash to them."""
        yield YamlLine("  rests:")
        for place, rest in enumerate(self.like.mash.rests if self.like else ()):
            path = f"mash.rests[{place}]"
            if self.carried and (rest.infusion or rest.decoction):
                yield from self.carried.line(path, rest, "    ")
            else:
                temperature, time = (self._source(f"{path}.{part}") for part in ("temperature", "time"))
                yield YamlLine(f"    - {temperature} for {time}", self._as_before if place == 0 else "")
        if not (self.like and self.like.mash.rests):
            at = writing.temperature(self.draft.mash_temperature, self.system)
            yield YamlLine(f"    - {at} for {writing.time(REST)}", self._as_usual)

    def _all_of_it(self) -> str:
        """Beside the liquor of a mash that isn't rinsed."""
        if self.draft.aim.method != STEEP:
            return "all of it, for nothing is sparged"
        full = writing.volume(self.draft.plan.kettle.volume, self.system)
        return f"{self._as_before}; the kettle is filled to {full} at 20 °C before the boil"

    def _strike(self) -> Iterator[YamlLine]:
        found = self.draft.strike
        if found is None or found.temperature >= 100:
            yield YamlLine("  # strike: no liquor is hot enough to get there in one step")
            return
        at = self.draft.grain_temperature
        grain = (
            f"grain at {show(ROOM if at is None else at, 0.0, '°C', self.system)}{' (assumed)' if at is None else ''}"
        )
        to = show(self.draft.mash_temperature, 0.0, "°C", self.system)
        spread = show(found.temperature, found.sd, "°C", self.system).sd
        yield YamlLine(
            f"  strike: {writing.temperature(found.temperature, self.system)}",
            f"± {spread}: to settle at {to} with {grain}, by heat balance",
        )

    def _lauter(self) -> Iterator[YamlLine]:
        draft = self.draft
        if not draft.grains:
            return
        yield YamlLine("lauter:")
        yield YamlLine(f"  method: {draft.aim.method}", self._as_before)
        if draft.aim.sparges:
            yield from self._fillings()
        yield from self._inside("lauter")
        yield from empty_fields(Lauter, "  ", "time", "last_runnings")

    def _fillings(self) -> Iterator[YamlLine]:
        """The sparge liquor; of several fillings each in its proportion."""
        plan = self.draft.plan
        volume = self._expected("kettle", "volume", plan.kettle.volume)
        full = f"fills the kettle to {writing.volume(volume, self.system)} at 20 °C"
        before = [filling.value for filling in self.like.lauter.fillings] if self.like else []
        # the whole liquor is what fills the kettle: what the mash liquor was rounded by goes with the sparge
        poured = read_measure(writing.volume(plan.mash_liquor, self.system), VOLUME)
        sparge = plan.sparge_liquor + (plan.mash_liquor - poured.value if isinstance(poured, Measure) else 0.0)
        parts = [sparge * each / sum(before) for each in before] if len(before) > 1 else [sparge]
        texts = [writing.volume(part, self.system) for part in parts]
        yield YamlLine(f"  liquor: {texts[0] if len(texts) == 1 else '[' + ', '.join(texts) + ']'}", full)

    def _boil(self) -> Iterator[YamlLine]:
        plan = self.draft.plan
        yield YamlLine("boil:")
        time = self._source("boil.time")
        boil = time or writing.time(60.0 * self.draft.aim.boil)
        yield YamlLine(f"  time: {boil}", self._as_before if time else self._as_usual)
        yield from self._vessel("before", plan.kettle)
        yield from self._vessel("after", plan.knockout)
        yield from self._inside("boil")

    def _expected(self, station: str, what: str, planned: float) -> float:
        return self.foreseen.get(f"{station}_{what}", planned)

    def _vessel(self, name: str, wort: Vessel) -> Iterator[YamlLine]:
        """A reading of the kettle, still to be taken, with what is expected of it."""
        yield YamlLine(f"  {name}:", fields_of(Boil)[name].doc)
        if name == "before" and self.carried is not None:
            yield from self.carried.group("boil.before", "    ")
        station = {"before": "kettle", "after": "knockout"}[name]
        volume = self._expected(station, "volume", wort.volume)
        gravity = self._expected(station, "gravity", wort.gravity)
        yield YamlLine("    volume:", f"expected: {writing.volume(volume, self.system)} at 20 °C")
        yield YamlLine("    gravity:", f"expected: {plain(gravity, 4)}")

    def _fermenter(self) -> Iterator[YamlLine]:
        yield YamlLine("fermenter:")
        yield from empty_fields(Fermenter, "  ", "volume", "gravity")
        inner = list(self._inside("fermenter"))
        yield from inner
        if not any(line.text.startswith("  yeast:") for line in inner):
            yield YamlLine("  yeast:")
        yield from empty_fields(Fermenter, "  ", "pitched")

    def _practice(self) -> Iterator[YamlLine]:
        if self.like and self.like.practice:
            yield YamlLine("practice:", self._as_before)
            for name in self.like.practice:
                yield from self._kept(f"practice.{name}", quote(name), "  ")


def _per_cent(part: float) -> str:
    return f"{signed(plain(part * 100, 1))} %"


def entry_of(
    head: DraftHead,
    draft: Draft,
    carried: CarriedOver | None,
    system: str,
    foresee: Callable[[list[YamlLine]], Mapping[str, float]],
) -> list[YamlLine]:
    """The lines of the entry for a draft; `foresee` says what such lines are expected to come to."""
    lines = list(DraftedEntry(head, draft, carried, system).lines())
    return list(DraftedEntry(head, draft, carried, system, foresee(lines)).lines())

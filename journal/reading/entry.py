"""The fields of an entry: one batch as its brewer wrote it.

Each record is a group of fields of the front matter; each line says what the field holds. An absent field is None or an
empty list. Numbers are in kept units: kg, L, degC, min, mm, fractions of 1, WK, EBC.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from datetime import date, datetime
from typing import Any

from journal.measures import Gravity, Measure
from journal.measures.units import (
    CARBONATION,
    COLOUR,
    DIASTATIC_POWER,
    LENGTH,
    NUMBER,
    PH,
    SHARE,
    TEMPERATURE,
    TIME,
    VOLUME,
    WEIGHT,
)
from journal.problems import Place, Source, Span
from journal.reading.kinds import ADDITIONS, GRAINS
from journal.reading.liquor import Water
from journal.reading.located_yaml import Node, Scalar
from journal.reading.logs import Log
from journal.reading.sieve import SieveFraction, SieveTest
from journal.reading.table import Group, entry_field, is_blank
from journal.reading.values import (
    AMOUNT,
    Choice,
    Context,
    Day,
    FileName,
    GravityText,
    Id,
    ListOf,
    Moment,
    Named,
    Quantity,
    Text,
    WordOrNumber,
    YesNo,
)

#: How good a malt's numbers are, best first.
SOURCES = ("certificate", "datasheet", "typical", "guess")
MIXING = ("none", "stirred", "recirculated")
LAUTER_METHODS = ("no sparge", "batch sparge", "fly sparge", "bag")
#: Methods for which a sparge that is not stated was none.
WITHOUT_SPARGE = ("no sparge", "bag")
IODINE = ("passed", "failed")
CONTAINERS = ("bottles", "keg", "cask")


@dataclass(frozen=True, kw_only=True)
class LabValues:
    """What is stated of a malt or sugar: its laboratory values."""

    extract: Measure | None = entry_field(
        Quantity(SHARE, zero=True), "fine-grind extract, dry basis, as the maltster states it"
    )
    extract_as_is: Measure | None = entry_field(
        Quantity(SHARE.such_as("78.0 %"), zero=True), "extract of the malt or sugar as weighed"
    )
    moisture: Measure | None = entry_field(Quantity(SHARE.such_as("4.0 %"), zero=True), "moisture")
    diastatic_power: Measure | None = entry_field(Quantity(DIASTATIC_POWER), "diastatic power, WK or °Lintner")
    colour: Measure | None = entry_field(Quantity(COLOUR), "colour, EBC or °L")
    source: str | None = entry_field(Choice(SOURCES), "how good these numbers are")


@dataclass(frozen=True, kw_only=True)
class Grain(LabValues):
    """One line of the grist."""

    malt: str | None = entry_field(
        Text(known=GRAINS), "a key of malts.yaml, a kind, or any name with its values given here", required=True
    )
    weight: Measure | None = entry_field(Quantity(WEIGHT), "weight as milled")


@dataclass(frozen=True, kw_only=True)
class Sugar(LabValues):
    """Extract that did not come from the mash."""

    addition: str | None = entry_field(
        Text(known=ADDITIONS), "what was added: a key of malts.yaml, a kind, or any name", required=True
    )
    weight: Measure | None = entry_field(Quantity(WEIGHT.such_as("250 g")), "weight added")


def named_in(line: object) -> str:
    """What a line of a list is of: its malt, its hop, what was added; empty where it names nothing."""
    return next((getattr(line, name) or "" for name in ("malt", "addition", "hop") if hasattr(line, name)), "")


@dataclass(frozen=True)
class Target:
    """What the brewer is after, in the fermenter."""

    gravity: Gravity | None = entry_field(GravityText(), "gravity before yeast")
    volume: Measure | None = entry_field(Quantity(VOLUME), "volume in the fermenter")


@dataclass(frozen=True)
class Rest:
    """One step of the mash."""

    temperature: Measure | None = entry_field(Quantity(TEMPERATURE), "temperature of the mash", required=True)
    time: Measure | None = entry_field(Quantity(TIME), "how long it was held", required=True)


@dataclass(frozen=True)
class RestForm:
    """A rest, as `66.5 degC for 60 min` or as a group."""

    words: str = "a rest such as 66.5 degC for 60 min"

    def read(self, node: Node, path: str, context: Context) -> Rest | None:
        """The rest; both parts are needed."""
        if not isinstance(node, Scalar):
            rest = Group(Rest).read(node, path, context)
            return rest if isinstance(rest, Rest) else None
        parts = re.fullmatch(r"(.*?)(\s+for\s+)(.*)", node.text.strip())
        if not parts:
            hint = "Write it like this: 66.5 degC for 60 min."
            context.report(
                "number-unreadable", f"“{node.text}” is no rest: a temperature, `for`, a time", hint, node.span, path
            )
            return None
        time_start = node.span.start + parts.start(3)
        places = {
            "temperature": Span(node.span.start, node.span.start + parts.end(1)),
            "time": Span(time_start, node.span.end),
        }
        values: dict[str, Any] = {}
        for name, kind, text in (("temperature", TEMPERATURE, parts[1]), ("time", TIME, parts[3])):
            part_path = f"{path}.{name}"
            context.places[part_path] = places[name]
            values[name] = Quantity(kind).read(Scalar(text, places[name], node.plain), part_path, context)
        return None if None in values.values() else Rest(**values)


@dataclass(frozen=True)
class MashAddition:
    """Salts and acids in the mash."""

    addition: str | None = entry_field(Text(known=ADDITIONS), "salt or acid, with its strength", required=True)
    amount: Measure | None = entry_field(AMOUNT, "weight or volume of it, or how many")


@dataclass(frozen=True)
class MashReading:
    """One look at the wort of the mash while it converts."""

    at: Measure | None = entry_field(Quantity(TIME, zero=True), "time since mashing in", required=True)
    gravity: Gravity | None = entry_field(GravityText(), "gravity of the wort, well mixed", required=True)


@dataclass(frozen=True)
class Mash:
    """From strike to first wort."""

    liquor: Measure | None = entry_field(
        Quantity(VOLUME), "all liquor with the grain when the first wort is read, as measured cold"
    )
    strike: Measure | None = entry_field(Quantity(TEMPERATURE.such_as("72.0 degC")), "temperature of the strike liquor")
    grain_temperature: Measure | None = entry_field(
        Quantity(TEMPERATURE.such_as("18 degC")), "temperature of the grist before mashing in"
    )
    rests: tuple[Rest, ...] = entry_field(ListOf(RestForm()), "rests in order")
    readings: tuple[MashReading, ...] = entry_field(ListOf(Group(MashReading)), "gravities during the mash")
    ph: Measure | None = entry_field(Quantity(PH), "pH of the mash, with the sample's temperature")
    first_wort: Gravity | None = entry_field(GravityText(), "strength of the first runnings, before any sparge")
    iodine: str | None = entry_field(Choice(IODINE), "whether iodine showed no starch at the end")
    mixing: str | None = entry_field(Choice(MIXING), "how the mash was mixed")
    stuck: Measure | None = entry_field(Quantity(TIME.such_as("5 min"), zero=True), "how long the run-off stood still")
    log: str | None = entry_field(FileName(), "a temperature logger's file beside the entry")
    additions: tuple[MashAddition, ...] = entry_field(ListOf(Group(MashAddition)), "salts and acids")


@dataclass(frozen=True)
class Lauter:
    """From first wort to the full kettle."""

    method: str | None = entry_field(Choice(LAUTER_METHODS), "how the grain was rinsed")
    liquor: Measure | None = entry_field(Quantity(VOLUME, zero=True), "sparge liquor, as measured cold")
    liquor_temperature: Measure | None = entry_field(
        Quantity(TEMPERATURE.such_as("76 degC")), "temperature of the sparge liquor"
    )
    time: Measure | None = entry_field(Quantity(TIME), "how long the run-off took")
    last_runnings: Gravity | None = entry_field(GravityText(), "strength of the last runnings")
    ph: Measure | None = entry_field(Quantity(PH), "pH of the last runnings, with the sample's temperature")


@dataclass(frozen=True)
class VesselReadings:
    """What stood in the kettle: read together."""

    volume: Measure | None = entry_field(
        Quantity(VOLUME.such_as("24.5 L at 68 degC")), "volume, with its temperature if it was hot"
    )
    gravity: Gravity | None = entry_field(GravityText(), "gravity")


@dataclass(frozen=True)
class Hop:
    """One addition of hops to the kettle."""

    hop: str | None = entry_field(Text(), "variety", required=True)
    weight: Measure | None = entry_field(Quantity(WEIGHT.such_as("30 g")), "weight", shown="g")
    alpha: Measure | None = entry_field(Quantity(SHARE.such_as("5.5 %")), "alpha acid")
    boiled: Measure | None = entry_field(Quantity(TIME, zero=True), "how long it boiled")


@dataclass(frozen=True)
class Boil:
    """From the full kettle to knockout."""

    before: VesselReadings = entry_field(Group(VesselReadings), "the full kettle, before the boil")
    top_up: Measure | None = entry_field(
        Quantity(VOLUME, zero=True), "water that went into the kettle after `before` was read"
    )
    after: VesselReadings = entry_field(Group(VesselReadings), "at knockout, everything still in the kettle")
    time: Measure | None = entry_field(Quantity(TIME), "how long it boiled")
    hops: tuple[Hop, ...] = entry_field(ListOf(Group(Hop)), "hops in the kettle")
    additions: tuple[Sugar, ...] = entry_field(ListOf(Group(Sugar)), "sugars, between `before` and `after`")


@dataclass(frozen=True)
class Fermenter:
    """What went in."""

    volume: Measure | None = entry_field(Quantity(VOLUME), "what went in, any top-up and addition included")
    gravity: Gravity | None = entry_field(GravityText(), "gravity of that, before yeast")
    top_up: Measure | None = entry_field(Quantity(VOLUME, zero=True), "water added after the boil")
    additions: tuple[Sugar, ...] = entry_field(
        ListOf(Group(Sugar)), "sugars after the boil and before `gravity` was read"
    )
    yeast: str | None = entry_field(Text(), "yeast")
    pitched: datetime | None = entry_field(Moment(), "when the yeast went in")


@dataclass(frozen=True)
class Reading:
    """One look at the fermenting beer."""

    at: datetime | None = entry_field(Moment(), "when it was read", required=True)
    gravity: Gravity | None = entry_field(GravityText(), "gravity")
    temperature: Measure | None = entry_field(
        Quantity(TEMPERATURE.such_as("19.5 degC")), "the beer's temperature; it never corrects the gravity"
    )
    ph: Measure | None = entry_field(Quantity(PH.such_as("4.35 at 20 degC")), "pH of the beer")


@dataclass(frozen=True)
class Priming:
    """Sugar for a last fermentation in the closed container."""

    addition: str | None = entry_field(Text(), "the sugar: dextrose (as sold, with its water), glucose or sucrose")
    weight: Measure | None = entry_field(
        Quantity(WEIGHT.such_as("120 g")), "weight for all that was packaged", shown="g"
    )


@dataclass(frozen=True)
class Package:
    """Into bottle, keg or cask."""

    on: date | None = entry_field(Day(), "the day it was packaged")
    volume: Measure | None = entry_field(Quantity(VOLUME), "volume packaged")
    gravity: Gravity | None = entry_field(GravityText(), "gravity at packaging")
    carbonation: Measure | None = entry_field(
        Quantity(CARBONATION), "carbon dioxide the beer is to hold in the package"
    )
    warmest: Measure | None = entry_field(
        Quantity(TEMPERATURE.such_as("20 degC")), "the warmest the beer has been since it stopped fermenting"
    )
    container: str | None = entry_field(Choice(CONTAINERS), "what it went into")
    priming: Priming = entry_field(Group(Priming), "sugar for a last fermentation in the container")


@dataclass(frozen=True)
class Tasting:
    """One tasting, in the brewer's own words."""

    on: date | None = entry_field(Day(), "the day it was tasted", required=True)
    words: str | None = entry_field(Text(), "what it was like")
    score: Measure | None = entry_field(Quantity(NUMBER.such_as("4"), zero=True), "how good, out of `out_of`")
    out_of: Measure | None = entry_field(Quantity(NUMBER.such_as("5")), "the highest score there is")
    faults: tuple[str, ...] = entry_field(ListOf(Text()), "faults by plain names, such as astringent or sulphury")


@dataclass(frozen=True)
class Batch:
    """One batch: its fields, where they stand, and its prose."""

    batch: str | None = entry_field(Id(), "its number or id, unique in the journal", required=True)
    title: str | None = entry_field(Text(), "what the beer is called", required=True)
    brewed: date | None = entry_field(Day(), "the day it was brewed", required=True)
    style: str | None = entry_field(Text(), "free text")
    brewhouse: str | None = entry_field(Text(), "a key of brewery.yaml")
    tags: tuple[str, ...] = entry_field(ListOf(Text()), "words to find it by")
    target: Target = entry_field(Group(Target), "what the brewer is after")
    grains: tuple[Grain, ...] = entry_field(ListOf(Group(Grain)), "the grist")
    crush: Measure | None = entry_field(Quantity(LENGTH), "the mill's roller gap")
    sieve: tuple[SieveFraction, ...] | None = entry_field(SieveTest(), "sieve test of the crushed malt")
    water: Water = entry_field(Group(Water), "the liquor, where it is not that of brewery.yaml")
    mash: Mash = entry_field(Group(Mash), "the mash")
    lauter: Lauter = entry_field(Group(Lauter), "the run-off")
    boil: Boil = entry_field(Group(Boil), "the boil")
    fermenter: Fermenter = entry_field(Group(Fermenter), "the wort pitched")
    readings: tuple[Reading, ...] = entry_field(ListOf(Group(Reading)), "looks at the fermenting beer")
    readings_log: str | None = entry_field(FileName(), "a logger's file beside the entry: time, gravity, temperature")
    package: Package = entry_field(Group(Package), "packaging")
    tasting: tuple[Tasting, ...] = entry_field(ListOf(Group(Tasting)), "tastings")
    practice: dict[str, str | bool | float] = entry_field(
        Named(WordOrNumber(), "practice"), "anything else the brewer varies"
    )
    trust: dict[str, bool] = entry_field(
        Named(YesNo(), "trust", "{boil.before.volume: no}"), "readings to leave out of the balance, or `balance: yes`"
    )

    source: Source = field(default_factory=lambda: Source("", ""))
    places: dict[str, Span] = field(default_factory=dict, repr=False, hash=False, compare=False)
    names: dict[str, Span] = field(default_factory=dict, repr=False, hash=False, compare=False)
    prose_start: int = 0
    #: What the files named by `mash.log` and `readings_log` hold; None where there is none, or where it can't be read.
    mash_log: Log | None = field(default=None, repr=False, compare=False)
    fermentation_log: Log | None = field(default=None, repr=False, compare=False)
    #: Of everything the batch was read from: settings, its own text, its logs; empty for one that came from no journal.
    digest: str = field(default="", repr=False, compare=False)

    @property
    def id(self) -> str:
        """The batch's id as text; every batch that was read without error has one."""
        return self.batch or ""

    @property
    def file(self) -> str:
        """The entry's path from the journal's root."""
        return self.source.name

    @property
    def day(self) -> date:
        """The day it was brewed."""
        return self.brewed or date.min

    @property
    def prose(self) -> str:
        """The Markdown after the front matter."""
        return self.source.text[self.prose_start :]

    @property
    def planned(self) -> bool:
        """Nothing is measured from the first wort onward, and no yeast was pitched."""
        fermenter, package = self.fermenter, self.package
        measured = (
            self.mash.first_wort,
            self.lauter.last_runnings,
            fermenter.volume,
            fermenter.gravity,
            fermenter.pitched,
        )
        # the carbonation and the container can be planned
        packaged = (package.on, package.volume, package.gravity)
        filled = not (is_blank(self.boil.before) and is_blank(self.boil.after))
        return not (any(measured) or any(packaged) or filled or self.readings or self.readings_log)

    def place(self, path: str) -> Place:
        """Where a reading stands.

        For one that is not there, the nearest group that would hold it, else the front matter's start.
        """
        probe = path
        while probe:
            if probe in self.places:
                return Place(self.source, self.places[probe], path)
            probe = probe[: max(probe.rfind("."), probe.rfind("["), 0)]
        return Place(self.source, Span(0, min(3, len(self.source.text))), path)

    def written(self, path: str) -> str:
        """What the brewer wrote there, on one line; empty if nothing stands there."""
        span = self.places.get(path)
        return " ".join(self.source.text[span.start : span.end].split()) if span else ""

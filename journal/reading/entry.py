"""The fields of an entry: one batch as its brewer wrote it.

Each record is a group of fields of the front matter; each line says what the field holds. An absent field is None or an
empty list. Numbers are in kept units: kg, L, degC, min, mm, fractions of 1, WK, EBC.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field, replace
from datetime import date
from functools import cached_property

from journal.frozen import dataclass
from journal.measures import Gravity, Measure
from journal.measures.units import LENGTH, VOLUME
from journal.problems import Place, Source, Span
from journal.reading.cold_side import (
    CONTAINERS,
    Fermenter,
    HeldTemperature,
    Package,
    Priming,
    Reading,
    Starter,
    Tasting,
    Yeast,
)
from journal.reading.forms import ClockForm, ClockTime
from journal.reading.hot_side import (
    IODINE,
    LAUTER_METHODS,
    MIXING,
    STEEP,
    WITHOUT_SPARGE,
    Boil,
    Cooling,
    FullKettle,
    Lauter,
    Mash,
    MashReading,
    Souring,
    SouringReading,
    Stand,
    VesselReadings,
)
from journal.reading.lines import SOURCES, Addition, Grain, Hop, LabValues, name_of_line
from journal.reading.liquor import Water
from journal.reading.logs import Log
from journal.reading.relatives import Relatives
from journal.reading.rests import Rest, RestForm
from journal.reading.sieve import SieveFraction, SieveTest
from journal.reading.table import Group, entry_field, is_blank
from journal.reading.values import (
    Day,
    FileName,
    GravityText,
    Id,
    ListOf,
    Named,
    Quantity,
    Text,
    VesselVolume,
    WordOrNumber,
    YesNo,
)

__all__ = [
    "CONTAINERS",
    "IODINE",
    "LAUTER_METHODS",
    "MIXING",
    "SOURCES",
    "STEEP",
    "WITHOUT_SPARGE",
    "Addition",
    "Batch",
    "Boil",
    "Cooling",
    "Fermenter",
    "FullKettle",
    "Grain",
    "HeldTemperature",
    "Hop",
    "LabValues",
    "Lauter",
    "Mash",
    "MashReading",
    "Package",
    "Priming",
    "Reading",
    "Rest",
    "RestForm",
    "Souring",
    "SouringReading",
    "Stand",
    "Starter",
    "Target",
    "Tasting",
    "VesselReadings",
    "Yeast",
    "name_of_line",
]


@dataclass(frozen=True)
class Target:
    """What the brewer is after, in the fermenter."""

    gravity: Gravity | None = entry_field(GravityText(), "gravity before yeast")
    volume: Measure | None = entry_field(VesselVolume(), "volume in the fermenter")


@dataclass(frozen=True)
class Batch:
    """One batch: its fields, where they stand, and its prose."""

    batch: str | None = entry_field(Id(), "its number or id, unique in the journal", required=True)
    title: str | None = entry_field(Text(), "what the beer is called", required=True)
    brewed: date | None = entry_field(
        Day(),
        "the day it was brewed",
        required=True,
        unless=("part_of", "second_wort_of", "blend_of"),
    )
    part_of: str | None = entry_field(
        Id(), "the batch this is a fermenter of; its brew day stands there, and so do its day and brewhouse"
    )
    taken: date | None = entry_field(Day(), "the day a part was split off, where that was after pitching")
    second_wort_of: str | None = entry_field(Id(), "the batch whose mash gave this beer's wort after its own")
    joins: str | None = entry_field(Id(), "the batch whose fermenter this brew went into")
    blend_of: dict[str, Measure] = entry_field(
        Named(Quantity(VOLUME), "batches", "{14: 12 L, 17: 6 L}"), "the batches it was blended of, and how much of each"
    )
    style: str | None = entry_field(Text(), "free text")
    picture: str | None = entry_field(FileName(), "a picture beside the entry that leads its page")
    brewhouse: str | None = entry_field(Text(), "a key of brewery.yaml")
    tags: tuple[str, ...] = entry_field(ListOf(Text()), "words to find it by")
    target: Target = entry_field(Group(Target), "what the brewer is after")
    grains: tuple[Grain, ...] = entry_field(ListOf(Group(Grain)), "the grist")
    crush: Measure | None = entry_field(Quantity(LENGTH), "the mill gap, between its rollers")
    sieve: tuple[SieveFraction, ...] | None = entry_field(SieveTest(), "sieve test of the crushed malt")
    water: Water = entry_field(Group(Water), "the liquor, where it is not that of brewery.yaml")
    mash: Mash = entry_field(Group(Mash), "the mash")
    souring: Souring = entry_field(Group(Souring), "souring of the wort between mash and boil")
    lauter: Lauter = entry_field(Group(Lauter), "the run-off")
    boil: Boil = entry_field(Group(Boil), "the boil")
    stand: Stand = entry_field(Group(Stand), "a hot stand, after `boil.after` was read and before cooling")
    cooling: Cooling = entry_field(Group(Cooling), "how the wort was cooled")
    fermenter: Fermenter = entry_field(Group(Fermenter), "the wort pitched")
    readings: tuple[Reading, ...] = entry_field(ListOf(Group(Reading)), "readings of the fermenting beer")
    readings_log: str | None = entry_field(FileName(), "a logger's file beside the entry: time, gravity, temperature")
    ice_removed: Measure | None = entry_field(
        Quantity(VOLUME.such_as("3 L")), "ice taken out of the beer; local law may forbid it"
    )
    package: Package = entry_field(Group(Package), "packaging")
    tasting: tuple[Tasting, ...] = entry_field(ListOf(Group(Tasting)), "tastings")
    clock: tuple[ClockTime, ...] = entry_field(
        ListOf(ClockForm()), "the day by the clock, in order; a time earlier than the one above is of the next day"
    )
    practice: dict[str, str | bool | float] = entry_field(
        Named(WordOrNumber(), "practice"), "anything else the brewer varies"
    )
    trust: dict[str, bool] = entry_field(
        Named(YesNo(), "trust", "{boil.before.volume: no}"), "readings to leave out of the balance, or `balance: yes`"
    )

    source: Source = field(default_factory=lambda: Source("", ""))
    places: Mapping[str, Span] = field(default_factory=dict, repr=False, hash=False, compare=False)
    names: Mapping[str, Span] = field(default_factory=dict, repr=False, hash=False, compare=False)
    prose_start: int = 0
    #: What the files named by `mash.log` and `readings_log` hold; None where there is none, or where it can't be read.
    mash_log: Log | None = field(default=None, repr=False, compare=False)
    fermentation_log: Log | None = field(default=None, repr=False, compare=False)
    #: Of everything the batch was read from: settings, its own text, its logs, its relatives; empty for one that came from
    #: no journal.
    digest: str = field(default="", repr=False, compare=False)
    #: Of the same but for its prose, which no sum goes by: what its numbers hang on.
    facts_digest: str = field(default="", repr=False, compare=False)
    relatives: Relatives = field(default_factory=Relatives, repr=False, compare=False)

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
    def by_shares(self) -> bool:
        """Whether its grist is stated in shares of its weight, and no weight is."""
        return any(grain.share for grain in self.grains) and not any(grain.weight for grain in self.grains)

    @property
    def brewed_here(self) -> bool:
        """Whether its brew day stands in its own entry: not so of a part and of a blend."""
        return not (self.part_of or self.blend_of)

    @property
    def shares_mash(self) -> bool:
        """Whether one mash gave its wort and another batch's."""
        return bool(self.second_wort_of or self.relatives.seconds)

    @cached_property
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
        if any(measured) or any(packaged) or self.readings or self.readings_log:
            return False
        # what is to go into the full kettle can be planned
        return is_blank(replace(self.boil.before, additions=())) and is_blank(self.boil.after)

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

"""Groups of an entry from strike to the chilled wort: mash, souring, run-off, boil, stand, cooling."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime

from journal.frozen import dataclass
from journal.measures import Gravity, Measure
from journal.measures.units import PH, TEMPERATURE, TIME, VOLUME
from journal.reading.forms import OneOrMore
from journal.reading.lines import Addition, Hop
from journal.reading.rests import Rest, RestForm
from journal.reading.table import Group, entry_field
from journal.reading.values import (
    Choice,
    Day,
    FileName,
    GravityText,
    ListOf,
    Moment,
    Quantity,
    Text,
    VesselVolume,
)

MIXING = ("none", "stirred", "recirculated")
LAUTER_METHODS = ("no sparge", "batch sparge", "fly sparge", "bag", "steep")
#: Methods for which a sparge that is not stated was none.
WITHOUT_SPARGE = ("no sparge", "bag", "steep")
#: Grains steeped in liquor and lifted out: no mash, and judged as none.
STEEP = "steep"
IODINE = ("passed", "failed")
COOLING_METHODS = ("immersion", "counterflow", "plate", "ice bath", "closed overnight")
#: No wort stands hotter than it boils.
_STANDING = replace(TEMPERATURE, example="80 degC", high=100.0)

_ADDITIONS = ListOf(Group(Addition))
_HOPS = ListOf(Group(Hop))


@dataclass(frozen=True)
class MashReading:
    """One look at the wort of the mash while it converts."""

    at: Measure | None = entry_field(Quantity(TIME, zero=True), "time since mashing in", required=True)
    gravity: Gravity | None = entry_field(GravityText(), "gravity of the wort, well mixed", required=True)


@dataclass(frozen=True)
class Mash:
    """From strike to first wort."""

    liquor: Measure | None = entry_field(
        VesselVolume(), "all liquor with the grain when the first wort is read, as measured cold"
    )
    strike: Measure | None = entry_field(Quantity(TEMPERATURE.such_as("72.0 degC")), "temperature of the strike liquor")
    grain_temperature: Measure | None = entry_field(
        Quantity(TEMPERATURE.such_as("18 degC")), "temperature of the grist before mashing in"
    )
    rests: tuple[Rest, ...] = entry_field(ListOf(RestForm()), "rests in order")
    readings: tuple[MashReading, ...] = entry_field(ListOf(Group(MashReading)), "gravities during the mash")
    ph: Measure | None = entry_field(Quantity(PH), "pH of the mash, with the sample's temperature")
    first_wort: Gravity | None = entry_field(GravityText(), "strength of the first wort, before any sparge")
    iodine: str | None = entry_field(Choice(IODINE), "whether iodine showed no starch at the end")
    mixing: str | None = entry_field(Choice(MIXING), "how the mash was mixed")
    stuck: Measure | None = entry_field(Quantity(TIME.such_as("5 min"), zero=True), "how long the run-off stood still")
    log: str | None = entry_field(FileName(), "a temperature logger's file beside the entry")
    hops: tuple[Hop, ...] = entry_field(_HOPS, "hops in the mash")
    additions: tuple[Addition, ...] = entry_field(_ADDITIONS, "salts, acids and whatever else went into the mash")


@dataclass(frozen=True)
class SouringReading:
    """One look at the souring wort."""

    at: datetime | None = entry_field(Moment(), "when it was read", required=True)
    ph: Measure | None = entry_field(Quantity(PH.such_as("3.9 at 20 degC")), "pH of the wort")
    temperature: Measure | None = entry_field(Quantity(TEMPERATURE.such_as("38 degC")), "temperature of the wort")


@dataclass(frozen=True)
class Souring:
    """Wort soured between mash and boil."""

    began: datetime | None = entry_field(Moment(), "when the culture went in")
    ended: datetime | None = entry_field(Moment(), "when it was heated to stop it")
    temperature: Measure | None = entry_field(Quantity(TEMPERATURE.such_as("38 degC")), "how warm it was held")
    culture: str | None = entry_field(Text(), "what soured it")
    readings: tuple[SouringReading, ...] = entry_field(ListOf(Group(SouringReading)), "readings of the souring wort")


@dataclass(frozen=True)
class Lauter:
    """From first wort to the full kettle."""

    method: str | None = entry_field(Choice(LAUTER_METHODS), "how the grain was rinsed (bag: brew in a bag)")
    liquor: Measure | tuple[Measure, ...] | None = entry_field(
        OneOrMore(VesselVolume(zero=True)), "sparge liquor, as measured cold; of several fillings a list"
    )
    liquor_temperature: Measure | None = entry_field(
        Quantity(TEMPERATURE.such_as("76 degC")), "temperature of the sparge liquor"
    )
    time: Measure | None = entry_field(Quantity(TIME), "how long the run-off took")
    last_runnings: Gravity | None = entry_field(GravityText(), "strength of the last runnings")
    ph: Measure | None = entry_field(Quantity(PH), "pH of the last runnings, with the sample's temperature")
    additions: tuple[Addition, ...] = entry_field(
        _ADDITIONS, "salts, acids and whatever else went into the sparge liquor"
    )

    @property
    def fillings(self) -> tuple[Measure, ...]:
        """The sparge liquor filling by filling; empty where none is stated."""
        if self.liquor is None:
            return ()
        # a measure is a tuple of its own
        return (self.liquor,) if isinstance(self.liquor, Measure) else self.liquor


@dataclass(frozen=True)
class VesselReadings:
    """What stood in the kettle: read together."""

    volume: Measure | None = entry_field(
        VesselVolume(VOLUME.such_as("24.5 L at 68 degC")), "volume, with its temperature if it was hot"
    )
    gravity: Gravity | None = entry_field(GravityText(), "gravity")


@dataclass(frozen=True)
class FullKettle(VesselReadings):
    """The full kettle, and what was in it that is not the grist's."""

    additions: tuple[Addition, ...] = entry_field(
        _ADDITIONS, "malt extract and whatever else was in it when it was read"
    )


@dataclass(frozen=True)
class Boil:
    """From the full kettle to knockout."""

    on: date | None = entry_field(Day(), "the day it was boiled, where that is not the day of brewing")
    before: FullKettle = entry_field(Group(FullKettle), "the full kettle, before the boil")
    top_up: Measure | None = entry_field(
        VesselVolume(zero=True), "water that went into the kettle after `before` was read"
    )
    after: VesselReadings = entry_field(Group(VesselReadings), "at knockout, everything still in the kettle")
    time: Measure | None = entry_field(Quantity(TIME, zero=True), "how long it boiled; 0 min if not at all")
    hops: tuple[Hop, ...] = entry_field(_HOPS, "hops in the kettle")
    additions: tuple[Addition, ...] = entry_field(_ADDITIONS, "sugars and the like, between `before` and `after`")


@dataclass(frozen=True)
class Stand:
    """A hot stand after knockout, before cooling."""

    temperature: Measure | None = entry_field(Quantity(_STANDING), "how hot the wort stood")
    time: Measure | None = entry_field(Quantity(TIME.such_as("20 min"), zero=True), "how long it stood")
    hops: tuple[Hop, ...] = entry_field(_HOPS, "hops in the stand")
    additions: tuple[Addition, ...] = entry_field(_ADDITIONS, "what else went in; it counts with the fermenter's")


@dataclass(frozen=True)
class Cooling:
    """From knockout, or the stand, to the fermenter's temperature."""

    method: str | None = entry_field(Choice(COOLING_METHODS), "how the wort was cooled")
    time: Measure | None = entry_field(Quantity(TIME.such_as("25 min"), zero=True), "how long that took")
    to: Measure | None = entry_field(Quantity(TEMPERATURE.such_as("19 degC")), "the temperature it was cooled to")

"""Groups of an entry from pitching to the glass: fermenter, yeast, looks at the beer, package, tastings."""

from __future__ import annotations

from datetime import date, datetime

from journal.frozen import dataclass
from journal.measures import Gravity, Measure
from journal.measures.units import (
    CARBONATION,
    CELLS,
    NUMBER,
    PH,
    PRESSURE,
    RATED_PRESSURE,
    SHARE,
    TEMPERATURE,
    VOLUME,
    WEIGHT,
)
from journal.reading.forms import OrText
from journal.reading.lines import Addition, Hop
from journal.reading.table import Group, entry_field
from journal.reading.values import AMOUNT, Choice, Day, GravityText, Id, ListOf, Moment, Quantity, Text, VesselVolume

CONTAINERS = ("bottles", "heavy bottles", "keg", "cask")
YEAST_FORMS = ("dry", "liquid", "slurry", "starter")


@dataclass(frozen=True)
class Starter:
    """Wort that yeast was grown in."""

    volume: Measure | None = entry_field(Quantity(VOLUME.such_as("1.5 L")), "volume of the starter")
    gravity: Gravity | None = entry_field(GravityText(), "gravity of its wort")


@dataclass(frozen=True)
class Yeast:
    """What was pitched."""

    strain: str | None = entry_field(Text(), "which yeast")
    form: str | None = entry_field(Choice(YEAST_FORMS), "what it was pitched as")
    amount: Measure | None = entry_field(AMOUNT, "how much of it")
    generation: Measure | None = entry_field(
        Quantity(NUMBER.such_as("3"), zero=True), "how often it was used before, and once more"
    )
    of_batch: str | None = entry_field(Id(), "the batch it was taken from")
    starter: Starter = entry_field(Group(Starter), "the starter it was grown in")
    cells: Measure | None = entry_field(Quantity(CELLS), "living cells pitched, as counted or as stated")


@dataclass(frozen=True)
class HeldTemperature:
    """A temperature that the beer was brought to, or is to be."""

    on: datetime | None = entry_field(Moment(), "from when", required=True)
    temperature: Measure | None = entry_field(
        Quantity(TEMPERATURE.such_as("18 degC")), "the temperature held", required=True
    )
    why: str | None = entry_field(Text(), "what for, such as a diacetyl rest")


@dataclass(frozen=True)
class Fermenter:
    """What went in."""

    vessel: str | None = entry_field(
        Text(), "which fermenter, by its key in brewery.yaml where it has marks of its own"
    )
    volume: Measure | None = entry_field(VesselVolume(), "what went in, any top-up and addition included")
    gravity: Gravity | None = entry_field(GravityText(), "gravity of that, before yeast")
    top_up: Measure | None = entry_field(VesselVolume(zero=True), "water added after the boil")
    additions: tuple[Addition, ...] = entry_field(
        ListOf(Group(Addition)),
        "after the boil and before `gravity` was read; with `on` after pitching, during fermentation",
    )
    yeast: Yeast = entry_field(OrText(Yeast, "strain"), "yeast")
    oxygen: str | None = entry_field(Text(), "how the wort was given oxygen")
    pitched: datetime | None = entry_field(Moment(), "when the yeast went in")
    temperatures: tuple[HeldTemperature, ...] = entry_field(
        ListOf(Group(HeldTemperature)), "temperatures of the fermentation in order, the first that of pitching"
    )
    hops: tuple[Hop, ...] = entry_field(ListOf(Group(Hop)), "dry hops")


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

    addition: str | None = entry_field(
        Text(), "the sugar, by its kind: sucrose, dextrose (as sold, with its water), honey and so on"
    )
    weight: Measure | None = entry_field(
        Quantity(WEIGHT.such_as("120 g")), "weight for all that was packaged", shown="g"
    )


@dataclass(frozen=True)
class Package:
    """Into bottle, keg or cask."""

    on: date | None = entry_field(Day(), "the day it was packaged")
    volume: Measure | None = entry_field(VesselVolume(), "volume packaged")
    gravity: Gravity | None = entry_field(GravityText(), "gravity at packaging")
    carbonation: Measure | None = entry_field(
        Quantity(CARBONATION), "carbon dioxide the beer is to hold in the package"
    )
    warmest: Measure | None = entry_field(
        Quantity(TEMPERATURE.such_as("20 degC")), "the warmest the beer has been since it stopped fermenting"
    )
    container: str | None = entry_field(Choice(CONTAINERS), "what it went into; heavy bottles are made for pressure")
    priming: Priming = entry_field(Group(Priming), "sugar for a last fermentation in the container")
    pressure: Measure | None = entry_field(
        Quantity(PRESSURE, zero=True), "gauge pressure over the beer, with the beer's temperature"
    )
    carbon_dioxide: Measure | None = entry_field(
        Quantity(SHARE.such_as("100 %"), zero=True), "its share of the gas; all of it if not stated"
    )
    rated: Measure | None = entry_field(Quantity(RATED_PRESSURE), "the pressure that the container is made for")
    closed: datetime | None = entry_field(Moment(), "when the fermenter was closed, so that the beer kept its gas")
    spund: Gravity | None = entry_field(GravityText(), "gravity when the fermenter was closed")
    top_up: Measure | None = entry_field(Quantity(VOLUME, zero=True), "water added at packaging")
    hops: tuple[Hop, ...] = entry_field(ListOf(Group(Hop)), "hops in the package")
    additions: tuple[Addition, ...] = entry_field(ListOf(Group(Addition)), "what else went in, priming sugar apart")


@dataclass(frozen=True)
class Tasting:
    """One tasting, in the brewer's own words."""

    on: date | None = entry_field(Day(), "the day it was tasted", required=True)
    words: str | None = entry_field(Text(), "what it was like")
    score: Measure | None = entry_field(Quantity(NUMBER.such_as("4"), zero=True), "how good, out of `out_of`")
    out_of: Measure | None = entry_field(Quantity(NUMBER.such_as("5")), "the highest score there is")
    faults: tuple[str, ...] = entry_field(ListOf(Text()), "faults by plain names, such as astringent or sulphury")

"""brewery.yaml: name, units, instruments, brewhouses; and the defaults where it is silent."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date

from journal.measures import Measure
from journal.measures.units import (
    NUMBER,
    REFRACTION,
    TEMPERATURE,
    TEMPERATURE_DIFFERENCE,
    VOLUME,
    VOLUME_BY_WEIGHT,
    VOLUME_RATE,
    WEIGHT,
)
from journal.problems import Source, Span
from journal.reading.liquor import Water
from journal.reading.table import Group, entry_field, is_blank
from journal.reading.values import Choice, Day, ListOf, Named, Quantity, Text, WebAddress


@dataclass(frozen=True)
class Hydrometer:
    """A hydrometer."""

    uncertainty: Measure | None = entry_field(Quantity(NUMBER), "standard uncertainty of a reading, such as 0.0007")
    calibrated_at: Measure | None = entry_field(
        Quantity(TEMPERATURE.such_as("20 degC")), "the temperature it is made for; 20 degC if not stated"
    )


@dataclass(frozen=True)
class Refractometer:
    """A refractometer."""

    uncertainty: Measure | None = entry_field(Quantity(REFRACTION), "standard uncertainty of a reading")
    wort_factor: Measure | None = entry_field(
        Quantity(NUMBER), "what a reading of wort is divided by, such as 1.03 ± 0.01"
    )


@dataclass(frozen=True)
class PhMeter:
    """A pH meter."""

    uncertainty: Measure | None = entry_field(Quantity(NUMBER), "standard uncertainty of a reading, such as 0.03")
    calibrated: tuple[date, ...] = entry_field(ListOf(Day()), "days it was calibrated")


@dataclass(frozen=True)
class Instruments:
    """Standard uncertainties of the brewer's instruments; None means the default of common practice."""

    malt_scale: Measure | None = entry_field(Quantity(WEIGHT), "standard uncertainty of a malt's weight")
    hop_scale: Measure | None = entry_field(Quantity(WEIGHT), "standard uncertainty of a hop's weight")
    volume: Measure | None = entry_field(Quantity(VOLUME.such_as("0.2 L")), "standard uncertainty of a volume")
    hydrometer: Hydrometer = entry_field(Group(Hydrometer), "the hydrometer")
    refractometer: Refractometer = entry_field(Group(Refractometer), "the refractometer")
    thermometer: Measure | None = entry_field(Quantity(TEMPERATURE_DIFFERENCE), "standard uncertainty of a temperature")
    ph_meter: PhMeter = entry_field(Group(PhMeter), "the pH meter")


@dataclass(frozen=True)
class MashTun:
    """The mash tun."""

    volume: Measure | None = entry_field(Quantity(VOLUME.such_as("40 L")), "what it holds")
    dead_space: Measure | None = entry_field(
        Quantity(VOLUME.such_as("1.2 L"), zero=True), "wort left under the false bottom and in hoses"
    )


@dataclass(frozen=True)
class Kettle:
    """The kettle."""

    volume: Measure | None = entry_field(Quantity(VOLUME.such_as("40 L")), "what it holds")
    loss: Measure | None = entry_field(Quantity(VOLUME.such_as("1.2 L"), zero=True), "wort left with hops and trub")


@dataclass(frozen=True)
class Brewhouse:
    """One set of vessels."""

    name: str | None = entry_field(Text(), "what it is called")
    mash_tun: MashTun = entry_field(Group(MashTun), "the mash tun")
    kettle: Kettle = entry_field(Group(Kettle), "the kettle")
    boil_off: Measure | None = entry_field(Quantity(VOLUME_RATE, zero=True), "evaporation")
    absorption: Measure | None = entry_field(Quantity(VOLUME_BY_WEIGHT), "liquor in less wort out, by weight of grain")


@dataclass(frozen=True)
class Brewery:
    """The settings of a journal."""

    name: str | None = entry_field(Text(), "the brewery's name")
    units: str | None = entry_field(Choice(("metric", "us")), "what the pages show first")
    address: str | None = entry_field(WebAddress(), "where the journal will be published")
    theme: str | None = entry_field(
        Text(), "the look of the pages: notebook, almanac, or a folder of your own in themes/"
    )
    instruments: Instruments = entry_field(Group(Instruments), "standard uncertainties of the instruments")
    brewhouses: dict[str, Brewhouse] = entry_field(Named(Group(Brewhouse), "brewhouses"), "sets of vessels by key")
    water: Water = entry_field(Group(Water), "the liquor, where an entry states no other")
    waters: dict[str, Water] = entry_field(Named(Group(Water), "waters"), "waters by key, for entries that mix them")

    source: Source | None = None
    places: dict[str, Span] = field(default_factory=dict, repr=False, hash=False, compare=False)

    def water_of(self, stated: Water) -> Water:
        """The liquor of a batch: what its entry states, whole, or else the brewery's."""
        return self.water if is_blank(stated) else stated

    def brewhouse_of(self, key: str | None) -> tuple[str, Brewhouse]:
        """The brewhouse a batch was brewed on.

        The one it names, or the only one; an unknown one has no stated values.
        """
        if key is None and len(self.brewhouses) == 1:
            key = next(iter(self.brewhouses))
        return key or "", self.brewhouses.get(key or "", Brewhouse())

"""brewery.yaml: name, units, instruments, brewhouses; and the defaults where it is silent."""

from __future__ import annotations

import re
from dataclasses import field
from datetime import date
from typing import Any

from journal.frozen import dataclass
from journal.measures import Measure
from journal.measures.units import (
    IMPERIAL,
    US,
    VOLUME,
    VOLUME_BY_WEIGHT,
    VOLUME_RATE,
)
from journal.problems import Source, Span
from journal.reading.dip import Dipped
from journal.reading.instrument_checks import Check, VolumeCheck, checks_field
from journal.reading.instruments import Instruments
from journal.reading.liquor import Water, mix_waters
from journal.reading.table import Group, entry_field, is_blank
from journal.reading.values import Choice, Day, ListOf, Named, Quantity, Text, WebAddress


@dataclass(frozen=True)
class MashTun:
    """The mash tun."""

    volume: Measure | None = entry_field(Quantity(VOLUME.such_as("40 L")), "what it holds")
    dead_space: Measure | None = entry_field(
        Quantity(VOLUME.such_as("1.2 L"), zero=True), "wort left under the false bottom and in hoses"
    )


@dataclass(frozen=True, kw_only=True)
class Kettle(Dipped):
    """The kettle."""

    volume: Measure | None = entry_field(Quantity(VOLUME.such_as("40 L")), "what it holds")
    loss: Measure | None = entry_field(Quantity(VOLUME.such_as("1.2 L"), zero=True), "wort left with hops and trub")
    checks: tuple[VolumeCheck, ...] = checks_field(VolumeCheck)


@dataclass(frozen=True, kw_only=True)
class FermentingVessel(Dipped):
    """A fermenter that has marks of its own."""

    volume: Measure | None = entry_field(Quantity(VOLUME.such_as("30 L")), "what it holds")
    checks: tuple[VolumeCheck, ...] = checks_field(VolumeCheck)


@dataclass(frozen=True)
class Change:
    """Something that was changed in a brewhouse."""

    on: date | None = entry_field(Day(), "the day of the change", required=True)
    what: str | None = entry_field(Text(), "what was changed, such as new mill rollers", required=True)


@dataclass(frozen=True)
class Brewhouse:
    """One set of vessels."""

    name: str | None = entry_field(Text(), "what it is called")
    mash_tun: MashTun = entry_field(Group(MashTun), "the mash tun")
    kettle: Kettle = entry_field(Group(Kettle), "the kettle")
    boil_off: Measure | None = entry_field(Quantity(VOLUME_RATE, zero=True), "evaporation")
    absorption: Measure | None = entry_field(Quantity(VOLUME_BY_WEIGHT), "liquor in less wort out, by weight of grain")
    changes: tuple[Change, ...] = entry_field(ListOf(Group(Change)), "what was changed in it, and when")


@dataclass(frozen=True)
class Brewery:
    """The settings of a journal."""

    name: str | None = entry_field(Text(), "the brewery's name")
    units: str | None = entry_field(Choice(("metric", "us")), "what the pages show first")
    gallon: str | None = entry_field(
        Choice((US, IMPERIAL)), "which gallon `gal` is, where the word alone stands; a quart is a quarter of it"
    )
    address: str | None = entry_field(WebAddress(), "where the journal will be published")
    theme: str | None = entry_field(
        Text(), "the look of the pages: notebook, almanac, or a folder of your own in themes/"
    )
    instruments: Instruments = entry_field(
        Group(Instruments), "the instruments: how far each may be off, and its checks"
    )
    brewhouses: dict[str, Brewhouse] = entry_field(Named(Group(Brewhouse), "brewhouses"), "sets of vessels by key")
    fermenters: dict[str, FermentingVessel] = entry_field(
        Named(Group(FermentingVessel), "fermenters"), "vessels by key, as `fermenter.vessel` of an entry names them"
    )
    water: Water = entry_field(Group(Water), "the liquor, where an entry states no other")
    waters: dict[str, Water] = entry_field(Named(Group(Water), "waters"), "waters by key, for entries that mix them")

    source: Source | None = None
    places: dict[str, Span] = field(default_factory=dict, repr=False, hash=False, compare=False)

    def water_of(self, stated: Water) -> Water:
        """The liquor of a batch: what its entry states, whole, or else the brewery's."""
        return mix_waters(self.water if is_blank(stated) else stated, self.waters)

    def check_at(self, path: str) -> Check:
        """The check at a path of the file, such as `instruments.hydrometer.checks[0]`; raises KeyError where there is none."""
        place = re.fullmatch(r"(.+)\.checks\[(\d+)\]", path)
        found = self._held_at(place[1]) if place else None
        if place is None or found is None:
            raise KeyError(path)
        check: Check = found.checks[int(place[2])]
        return check

    def _held_at(self, path: str) -> Any:
        """The instrument or vessel at a path; a key of the brewer's own may hold any sign."""
        group, _, rest = path.partition(".")
        if group == "instruments":
            return getattr(self.instruments, rest, None)
        if group == "fermenters":
            return self.fermenters.get(rest)
        house = self.brewhouses.get(rest.removesuffix(".kettle"))
        return house.kettle if house else None

    @property
    def own_gallon(self) -> str:
        """What a bare `gal` is: as stated, or the US gallon of a brewery whose units are those; else nothing is said."""
        return self.gallon or (US if self.units == "us" else "")

    def brewhouse_of(self, key: str | None) -> tuple[str, Brewhouse]:
        """The brewhouse a batch was brewed on.

        The one it names, or the only one; an unknown one has no stated values.
        """
        if key is None and len(self.brewhouses) == 1:
            key = next(iter(self.brewhouses))
        return key or "", self.brewhouses.get(key or "", Brewhouse())

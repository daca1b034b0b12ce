"""Grains and sugars: what they are called, where they are described, and their laboratory values with their origin."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import NamedTuple

from journal.figures.instruments import (
    COLOUR_SHARE,
    EXTRACT_BY_SOURCE,
    MOISTURE_BY_SOURCE,
    POWER_SHARE,
    malt_deviation,
)
from journal.frozen import dataclass
from journal.history.settings import lot_words
from journal.pages.index import Index
from journal.pages.model import Link, Number
from journal.pages.numbers import quantity
from journal.pages.paths import MALTS_PAGE, malt_anchor, reading_anchor
from journal.reading import Batch, MaltValues, StatedValue, resolve
from journal.reading.entry import Addition, Hop, LabValues, name_of_line
from journal.reading.table import lines_of


class Lab(NamedTuple):
    """A laboratory value of a grain or sugar; `anchor` is set where the entry itself states it."""

    words: str
    number: Number
    anchor: str


@dataclass(frozen=True)
class LabGroup:
    """Laboratory values of one origin."""

    origin: str
    labs: tuple[Lab, ...]


#: How good a value is, in words.
SOURCES = {
    "certificate": "the lot’s certificate",
    "datasheet": "the maltster’s datasheet",
    "typical": "what is typical of its kind",
    "guess": "a guess",
}
#: A value's name, its words, its unit, its deviation by source, and whether that is a share of the value.
_VALUES = (
    ("extract", "extract (dry basis)", "1", EXTRACT_BY_SOURCE, False),
    ("extract_as_is", "extract as is", "1", EXTRACT_BY_SOURCE, False),
    ("moisture", "moisture", "1", MOISTURE_BY_SOURCE, False),
    ("diastatic_power", "diastatic power", "WK", POWER_SHARE, True),
    ("colour", "colour", "EBC of malt", COLOUR_SHARE, True),
)


def lot_name(index: Index, named: str) -> str:
    """A malt by its name and lot, as malts.yaml has them; as written where it has none."""
    return lot_words(index.record.journal.malts, named)


def malt_link(named: str, words: str) -> Link:
    """A malt, leading to its place on the malts page."""
    return Link(words, f"{MALTS_PAGE}#{malt_anchor(named)}")


def line_names(index: Index, batch: Batch) -> dict[str, str]:
    """What each grain, hop and sugar of a batch is called, by its path."""
    names = {path: lot_name(index, name_of_line(line)) for path, line in lines_of(batch, LabValues)}
    return names | {path: name_of_line(line) for path, line in lines_of(batch, (Hop, Addition))}


def _lab_values(index: Index, values: MaltValues) -> Iterator[tuple[str, Number, StatedValue]]:
    """Each known value of a malt: what it is, the number with its uncertainty, and how it was stated."""
    for name, words, unit, by_source, share in _VALUES:
        stated: StatedValue | None = getattr(values, name)
        if stated is not None:
            sd = malt_deviation(stated, by_source, share) if stated.value else 0.0
            yield words, quantity(stated.value, sd, unit, index.system), stated


def grain_labs(index: Index, batch: Batch, line: LabValues, path: str) -> tuple[LabGroup, ...]:
    """The laboratory values that count for a line of the grist; those stated in the entry itself bear an anchor."""
    values = resolve(line, path, index.record.journal.malts)
    # on the batch's page few words do: its diastatic power is a figure of the whole grist
    return lab_groups(index, replace(values, diastatic_power=None), frozenset(batch.places))


def lab_groups(index: Index, values: MaltValues, places: frozenset[str] = frozenset()) -> tuple[LabGroup, ...]:
    """Laboratory values by their origin; those stated at one of `places` bear an anchor."""
    groups: dict[str, list[Lab]] = {}
    for words, number, stated in _lab_values(index, values):
        anchor = reading_anchor(stated.origin) if stated.origin in places else ""
        groups.setdefault(SOURCES[stated.source], []).append(Lab(words, number, anchor))
    return tuple(LabGroup(origin, tuple(labs)) for origin, labs in groups.items())

"""By which vessel's dip table a volume of an entry was read."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from journal.measures import Measure
from journal.measures.units import is_depth
from journal.measures.wording import plain
from journal.problems import Problem
from journal.reading.brewery import Brewery
from journal.reading.dip import DipMark
from journal.reading.entry import Batch
from journal.reading.known_readings import READINGS, VOLUME
from journal.reading.table import walk, written_at


class VesselDip(NamedTuple):
    """The table that held on the day, None where there is none; where in brewery.yaml it stands, or would."""

    table: tuple[DipMark, ...] | None
    path: str
    of_fermenter: bool


def dip_of(batch: Batch, brewery: Brewery, path: str) -> VesselDip:
    """The table of the vessel that the volume at `path` was read in: the fermenter from pitching on, else the kettle, in which
    liquor is heated too.
    """
    if path.startswith(("fermenter.", "package.", "target.")):
        named = batch.fermenter.vessel or ""
        vessel = brewery.fermenters.get(named)
        table = vessel.dip_on(batch.day) if vessel else None
        return VesselDip(table, f"fermenters.{named or 'NAME'}.dip", True)
    key, brewhouse = brewery.brewhouse_of(batch.brewhouse)
    return VesselDip(brewhouse.kettle.dip_on(batch.day), f"brewhouses.{key or 'NAME'}.kettle.dip", False)


def _dipped(batch: Batch) -> Iterator[tuple[str, Measure]]:
    """Every volume that a dip stick gave, with its path."""
    for reading in READINGS:
        held = written_at(batch, reading.path) if reading.unit == VOLUME else None
        parts = [(reading.path, held)] if isinstance(held, Measure) else []
        if held is not None and not parts:
            parts = [(f"{reading.path}[{index}]", each) for index, each in enumerate(held)]
        yield from ((path, each) for path, each in parts if is_depth(each.unit))
    besides = [(f"mash.rests[{index}]", rest) for index, rest in enumerate(batch.mash.rests)]
    for at, record in (*besides, ("target", batch.target)):
        for path, value, _ in walk(record, at):
            if isinstance(value, Measure) and is_depth(value.unit):
                yield path, value


def find_unknown_dips(batch: Batch, brewery: Brewery) -> Iterator[Problem]:
    """Depths that no table makes a volume of."""
    for path, depth in _dipped(batch):
        vessel = dip_of(batch, brewery, path)
        place = batch.place(path)
        if vessel.table is None:
            whose = "the fermenter" if vessel.of_fermenter else "the kettle"
            message = f"`{path}` is a depth, and brewery.yaml has no dip table of {whose} for {batch.day}"
            hint = f"Add {vessel.path}: [0 cm = 1.2 L, 10 cm = 8.4 L, 40 cm = 30.0 L] there"
            hint += "; name the fermenter here as vessel:." if vessel.of_fermenter else "."
            yield Problem("dip-unknown", message, hint, place)
        elif not vessel.table[0].depth <= depth.value <= vessel.table[-1].depth:
            low, high = (plain(mark.depth / 10.0, 1) for mark in (vessel.table[0], vessel.table[-1]))
            message = f"`{path}: {batch.written(path)}` lies outside the table, which goes from {low} to {high} cm"
            yield Problem(
                "dip-unknown", message, f"Check the depth and its unit, or add marks to {vessel.path}.", place
            )

"""A vessel's dip table: how much stands in it at which depth."""

from __future__ import annotations

import re
from datetime import date
from itertools import pairwise
from typing import NamedTuple

from journal.frozen import dataclass
from journal.measures import Fault
from journal.measures.units import LENGTH, VOLUME
from journal.reading.located_yaml import Node, Scalar, Sequence
from journal.reading.table import Group, entry_field
from journal.reading.values import Context, Day, ListOf


class DipMark(NamedTuple):
    """A depth, mm, and what stands in the vessel then, L of cold liquor."""

    depth: float
    litres: float


@dataclass(frozen=True)
class DipTable:
    """A list of depths with their volumes, rising in both."""

    words: str = "a list such as [0 cm = 1.2 L, 10 cm = 8.4 L, 40 cm = 30.0 L]"

    def read(self, node: Node, path: str, context: Context) -> tuple[DipMark, ...] | None:
        """The marks, the lowest first; None after reporting what is wrong."""
        if not isinstance(node, Sequence):
            hint = f"Write {path}: [0 cm = 1.2 L, 10 cm = 8.4 L, 40 cm = 30.0 L]."
            context.report("wrong-shape", f"`{path}` must be a list of depths and volumes", hint, node.span, path)
            return None
        marks = [self._mark(item, f"{path}[{index}]", context) for index, item in enumerate(node.items)]
        known = [mark for mark in marks if mark is not None]
        if len(known) < len(marks):
            return None
        if len(known) < 2:
            message = f"`{path}` has {len(known)} mark{'s' * (len(known) != 1)}, and a table needs two at least"
            context.report("dip-table", message, "Add the depth of another known volume.", node.span, path)
            return None
        for index, (low, high) in enumerate(pairwise(known), start=1):
            if high.depth <= low.depth or high.litres <= low.litres:
                message = f"`{path}[{index}]` does not rise above the mark before it"
                hint = "Each mark is deeper and holds more than the one before it; check this one, or their order."
                context.report("dip-table", message, hint, node.items[index].span, f"{path}[{index}]")
                return None
        return tuple(known)

    @staticmethod
    def _mark(item: Node, path: str, context: Context) -> DipMark | None:
        context.places[path] = item.span
        parts = re.fullmatch(r"(.+?)\s*=\s*(.+)", item.text.strip()) if isinstance(item, Scalar) else None
        if parts is None:
            message, hint = f"`{path}` is no depth with its volume", "Write it like this: 10 cm = 8.4 L."
            context.report("number-unreadable", message, hint, item.span, path)
            return None
        depth = context.measure(parts[1], LENGTH.such_as("10 cm"), zero=True)
        litres = context.measure(parts[2], VOLUME.such_as("8.4 L"), zero=True)
        for found in (depth, litres):
            if isinstance(found, Fault):
                context.report(found.code, f"`{path}`: {found.message}", found.hint, item.span, path)
        if isinstance(depth, Fault) or isinstance(litres, Fault):
            return None
        if litres.at is not None:
            message = f"`{path}`: a dip table's volumes are of cold liquor"
            context.report("temperature-misplaced", message, "Leave the temperature out.", item.span, path)
            return None
        return DipMark(depth.value, litres.value)


@dataclass(frozen=True)
class DatedDip:
    """A dip table that a later one took the place of."""

    dip_since: date | None = entry_field(Day(), "the day from which it held", required=True)
    dip: tuple[DipMark, ...] | None = entry_field(DipTable(), "its depths and volumes", required=True)


@dataclass(frozen=True, kw_only=True)
class Dipped:
    """What a vessel that is read by a dip stick states of it."""

    dip: tuple[DipMark, ...] | None = entry_field(DipTable(), "how much stands in it at which depth, of cold liquor")
    dip_since: date | None = entry_field(Day(), "the day from which that table holds; from the first if not stated")
    older_dips: tuple[DatedDip, ...] = entry_field(ListOf(Group(DatedDip)), "tables that held before it")

    def dip_on(self, day: date) -> tuple[DipMark, ...] | None:
        """The table that held on a day; None where none did."""
        dated = [(self.dip_since or date.min, self.dip)] if self.dip else []
        dated += [(each.dip_since, each.dip) for each in self.older_dips if each.dip_since and each.dip]
        held = [(since, table) for since, table in dated if since <= day]
        return max(held, key=lambda each: each[0])[1] if held else None

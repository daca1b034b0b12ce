"""Which field a column means: a path such as `boil.hops[0].weight`, walked through the field table."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache

from journal.frozen import dataclass
from journal.measures.units import SHARE
from journal.reading.entry import Batch, Rest, RestForm
from journal.reading.forms import OneOrMore, OrText
from journal.reading.sieve import SieveTest
from journal.reading.table import Group, fields_of
from journal.reading.values import ListOf, Named, Quantity, Value

#: A path's parts: names of fields and places in lists, counted from 0.
Parts = tuple[str | int, ...]
#: No entry has as many of anything; a path beyond it is refused rather than padded.
LONGEST_LIST = 200
#: Kinds of value that hold others.
_SEVERAL = (Group, ListOf, Named, SieveTest)
#: What a batch's prose is called among its columns; no field has that name.
PROSE = "prose"


@dataclass(frozen=True)
class FieldPath:
    """A place in an entry. `value` is the kind of value that stands there, None for the prose and where only reading tells."""

    parts: Parts
    value: Value | None

    @property
    def text(self) -> str:
        """As an entry's messages name it."""
        return path_text(self.parts)


def path_text(parts: Parts) -> str:
    """`("boil", "hops", 0, "weight")` as `boil.hops[0].weight`."""
    joined = "".join(f"[{part}]" if isinstance(part, int) else f".{part}" for part in parts)
    return joined.removeprefix(".")


def find_field(text: str) -> FieldPath | None:
    """The field of a path; None where the table of fields has none there, or only a group of them."""
    if text == PROSE:
        return FieldPath((PROSE,), None)
    parts: list[str | int] = []
    value: Value | None = Group(Batch)
    rest = text
    while rest:
        if value is None:
            return None
        part, value, rest = _step(value, rest)
        parts.append(part)
    alone = isinstance(value, OrText) or not isinstance(value, (*_SEVERAL, type(None)))
    # without a place in its list it is the one quantity
    return FieldPath(tuple(parts), value.item if isinstance(value, OneOrMore) else value) if parts and alone else None


def _step(value: Value, rest: str) -> tuple[str | int, Value | None, str]:
    """The first part of a path that begins in `value`, what stands there, None for nothing, and the rest of the path."""
    if isinstance(value, Named | SieveTest):
        # its keys are the brewer's own: whatever is left is one
        return rest, value.value if isinstance(value, Named) else Quantity(SHARE), ""
    if isinstance(value, ListOf | OneOrMore):
        found = re.match(r"\[(\d{1,3})\]\.?", rest)
        place = int(found[1]) if found else LONGEST_LIST
        return place, value.item if place < LONGEST_LIST else None, rest[found.end() :] if found else ""
    name, _, _ = re.split(r"([.\[]|$)", rest, maxsplit=1)
    table = (
        fields_of(Rest if isinstance(value, RestForm) else value.record) if isinstance(value, Group | RestForm) else {}
    )
    return name, table[name].value if name in table else None, rest[len(name) :].removeprefix(".")


@cache
def known_fields() -> tuple[str, ...]:
    """The path of every field that holds one value, the first of each list; for suggestions."""
    return tuple(_paths(Group(Batch), ""))


def _paths(value: Value, path: str) -> Iterator[str]:
    if isinstance(value, Group):
        for name, facts in fields_of(value.record).items():
            yield from _paths(facts.value, f"{path}.{name}" if path else name)
    elif isinstance(value, ListOf):
        yield from _paths(value.item, f"{path}[0]")
    elif not isinstance(value, Named | SieveTest):
        yield path

"""Examples of fields, as they stand in a file: lists as blocks, a line for each field."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

from journal.reading.table import Group, fields_of
from journal.reading.values import (
    AnyOf,
    Choice,
    Day,
    GravityText,
    Id,
    ListOf,
    Moment,
    Quantity,
    Text,
    YesNo,
)

_OF_SORT: dict[type, str] = {
    GravityText: "1.048",
    Day: "2026-04-11",
    Moment: "2026-04-11 17:30",
    Id: "31",
    YesNo: "yes",
}


def example_of(value: Any) -> str:
    """One value of a kind, as a brewer might write it; empty for one that takes several lines."""
    found = _OF_SORT.get(type(value), "")
    if isinstance(value, Quantity):
        found = value.kind.example
    elif isinstance(value, AnyOf):
        found = value.kinds[0].example
    elif isinstance(value, Choice):
        found = value.choices[0]
    elif isinstance(value, Text) and value.known:
        found = _quoted(value.known[0])
    if found or isinstance(value, Group | ListOf):
        return found
    return re.split(r",? or ", value.words.partition(" such as ")[2])[0] or "text"


def _quoted(text: str) -> str:
    return f'"{text}"' if "," in text else text


def block_of(path: str, value: ListOf) -> str:
    """A list field as a block, below the groups it stands in."""
    *groups, name = path.replace("[]", "").split(".")
    above = [f"{'  ' * depth}{group}:" for depth, group in enumerate(groups)]
    inside = [f"{'  ' * len(groups)}{line}" for line in _list_lines(name, value)]
    return "\n".join([*above, *inside])


def _list_lines(name: str, value: ListOf) -> Iterator[str]:
    yield f"{name}:"
    if not isinstance(value.item, Group):
        yield f"  - {example_of(value.item)}"
        return
    for index, line in enumerate(_field_lines(value.item)):
        yield f"  {'- ' if index == 0 else '  '}{line}"


def _field_lines(group: Group) -> Iterator[str]:
    # what must be there stands first, and of two ways to say one thing the first
    table = fields_of(group.record)
    ordered = sorted(table.items(), key=lambda item: not item[1].required)
    for name, facts in ordered:
        if name == "extract_as_is" and "extract" in table:
            continue
        if isinstance(facts.value, ListOf):
            yield from _list_lines(name, facts.value)
        elif isinstance(facts.value, Group):
            yield f"{name}:"
            yield from (f"  {line}" for line in _field_lines(facts.value))
        else:
            yield f"{name}: {example_of(facts.value)}"

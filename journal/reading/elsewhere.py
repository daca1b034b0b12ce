"""Where a name belongs that is no field where a brewer wrote it: deeper in its group, elsewhere in the entry, in the settings."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from typing import Any, NamedTuple

from journal.problems import in_words
from journal.reading.brewery import Brewery, Brewhouse
from journal.reading.entry import Batch
from journal.reading.instruments import Instruments
from journal.reading.rests import Rest, RestForm
from journal.reading.table import Group, fields_of
from journal.reading.values import Elsewhere, ListOf, Value

#: So many places of one name are told; more of them help nobody.
_MOST = 5
_SETTINGS = "entries/brewery.yaml"


class _Spot(NamedTuple):
    """A field below the top of an entry: its path, what it takes, and the list in whose lines it stands, if any, with its words."""

    path: str
    value: Value
    held: str = ""
    words: str = ""


def find_elsewhere(path: str, name: str) -> Elsewhere | None:
    """Where a name belongs that was written into the group at `path` of an entry, empty for its top; None if nowhere near."""
    before = f"{path}." if path else ""
    below = [spot for spot in _spots().get(name, ()) if spot.path.startswith(before)]
    if below:
        kinds = {repr(spot.value) for spot in below}
        return Elsewhere(_advice(below), below[0].value if len(kinds) == 1 else None)
    where = "" if path else _settings().get(name, "")
    return Elsewhere(f"It belongs in {where}, once for the whole journal.") if where else None


def _advice(spots: list[_Spot]) -> str:
    if len(spots) == 1 and spots[0].held:
        return f"It belongs in `{spots[0].held}`, {spots[0].words}."
    # the nearest first; of equally near ones, those that stand in no line of a list
    nearest = sorted(spots, key=lambda spot: (spot.path.count("."), spot.held))
    named = dict.fromkeys(f"a line of `{spot.held}`" if spot.held else f"`{spot.path}`" for spot in nearest)
    return f"It belongs in {in_words(list(named)[:_MOST], 'or')}."


@cache
def _spots() -> dict[str, list[_Spot]]:
    """By name, every field below the top of an entry."""
    found: dict[str, list[_Spot]] = {}
    for spot in _below(Batch, _Spot("", Group(Batch))):
        if "." in spot.path:
            found.setdefault(spot.path.rpartition(".")[2], []).append(spot)
    return found


def _below(record: type, at: _Spot) -> Iterator[_Spot]:
    """The fields of a record and of what it holds, lines of its lists too, but not lists within these."""
    for name, facts in fields_of(record).items():
        spot = at._replace(path=f"{at.path}.{name}".lstrip("."), value=facts.value)
        yield spot
        item: Any = facts.value.item if isinstance(facts.value, ListOf) else facts.value
        if isinstance(facts.value, ListOf):
            if at.held:
                continue
            spot = spot._replace(held=spot.path, words=facts.value.words)
        inner = Rest if isinstance(item, RestForm) else getattr(item, "record", None)
        if inner:
            yield from _below(inner, spot)


@cache
def _settings() -> dict[str, str]:
    """Where a setting belongs that a brewer may write into an entry, in words: those that have one place."""
    within = {
        **dict.fromkeys(fields_of(Brewhouse), f"{_SETTINGS}, under its brewhouse"),
        **dict.fromkeys(fields_of(Instruments), f"{_SETTINGS}, under `instruments`"),
    }
    # a name may be the beer's as well
    return {
        name: where
        for name, where in {**within, **dict.fromkeys(fields_of(Brewery), _SETTINGS)}.items()
        if name != "name"
    }

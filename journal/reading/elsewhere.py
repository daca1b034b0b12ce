"""Where a name belongs that is no field where a brewer wrote it: deeper in its group, elsewhere in the entry, in the settings."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

from journal.problems import in_words
from journal.reading.brewery import Brewery, Brewhouse
from journal.reading.instruments import Instruments
from journal.reading.table import fields_of
from journal.reading.values import Elsewhere

if TYPE_CHECKING:
    from journal.reading.schema import FieldLine

#: So many places of one name are told whole; of more the nearest few.
_MOST, _FEW = 5, 3
_SETTINGS = "entries/brewery.yaml"
#: Fields of hops that no addition has.
_OF_HOPS = frozenset({"hop", "alpha", "with_first_wort", "stood"})
#: What brewers call a list of an entry, by the words that the trade has for it.
_TRADE_WORDS = {
    **dict.fromkeys(("dry_hop", "dry_hops", "dryhop", "dryhops", "dry_hopping"), "fermenter.hops"),
    **dict.fromkeys(("whirlpool", "whirlpool_hops", "hop_stand", "hopstand"), "stand.hops"),
    **dict.fromkeys(("kettle_hops", "boil_hops"), "boil.hops"),
    **dict.fromkeys(("steep", "steeping", "steeped"), "lauter.method"),
    **dict.fromkeys(("malts", "malt_bill", "grain_bill", "grist", "fermentables"), "grains"),
}


def find_elsewhere(path: str, name: str) -> Elsewhere | None:
    """Where a name belongs that was written into the group at `path` of an entry, empty for its top; None if nowhere near."""
    if called := trade_word(name):
        return Elsewhere(_belongs(_entry_lines()[called]))
    if (
        name in _OF_HOPS
        and ".additions[" in path
        and (hops := f"{path.split('.', maxsplit=1)[0]}.hops") in _entry_lines()
    ):
        return Elsewhere(f"Hops belong in `{hops}`.")
    before = f"{path}." if path else ""
    # in a line of a list, but not in a list within a line
    below = [line for line in _below_the_top(name) if line.path.startswith(before) and line.path.count("[]") < 2]
    if below:
        kinds = {repr(line.value) for line in below}
        return Elsewhere(_advice(name, below), below[0].value if len(kinds) == 1 else None)
    where = "" if path else _settings().get(name, "")
    return Elsewhere(f"It belongs in {where}, once for the whole journal.") if where else None


def trade_word(name: str) -> str:
    """The field of an entry that brewers also call by a name; empty where there is none."""
    return _TRADE_WORDS.get("_".join(name.lower().replace("-", " ").replace("_", " ").split()), "")


def _belongs(line: FieldLine) -> str:
    return f"It belongs in `{line.path}`, {line.written}."


@cache
def _entry_lines() -> dict[str, FieldLine]:
    # hardly any entry has a field that is none
    from journal.reading.schema import field_lines  # noqa: PLC0415

    return {line.path: line for line in field_lines("entry")}


def _below_the_top(name: str) -> list[FieldLine]:
    return [line for path, line in _entry_lines().items() if path.endswith(f".{name}")]


def _advice(name: str, lines: list[FieldLine]) -> str:
    lists = [line.path.partition("[]")[0] for line in lines if "[]" in line.path]
    if len(lists) == len(lines) == 1:
        return _belongs(_entry_lines()[lists[0]])
    # the nearest first; of equally near ones, those that stand in no line of a list
    nearest = sorted((line.path for line in lines), key=lambda path: (path.count("."), "[]" in path))
    named = list(
        dict.fromkeys(f"a line of `{path.partition('[]')[0]}`" if "[]" in path else f"`{path}`" for path in nearest)
    )
    if len(named) <= _MOST:
        return f"It belongs in {in_words(named, 'or')}."
    return f"It belongs deeper, such as in {in_words(named[:_FEW], 'or')}; `wortbook fields {name}` lists all places."


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

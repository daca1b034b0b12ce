"""The field table told to others: as a JSON Schema for editors, as lines for people."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import singledispatch
from typing import Any

from journal.frozen import dataclass
from journal.measures import MeasureKind
from journal.measures.units import SHARE
from journal.problems import capital
from journal.reading.brewery import Brewery
from journal.reading.dip import DipTable
from journal.reading.entry import Batch, Rest, RestForm
from journal.reading.examples import block_of
from journal.reading.forms import KNOCKOUT, ClockForm, OffForm, OneOrMore, OrText
from journal.reading.instruments import OrUncertainty
from journal.reading.malts import Malt
from journal.reading.sheet_values import PRICE, Price
from journal.reading.sieve import SieveTest
from journal.reading.table import Group, fields_of
from journal.reading.values import (
    AnyOf,
    Choice,
    Day,
    GravityText,
    Id,
    ListOf,
    Moment,
    Named,
    Quantity,
    Text,
    Value,
    VesselVolume,
    WordOrNumber,
    YesNo,
)

#: The files that have a table: what each holds.
TABLES: dict[str, Any] = {"entry": Group(Batch), "brewery": Group(Brewery), "malts": Named(Group(Malt), "malts")}
_DIALECT = "https://json-schema.org/draft/2020-12/schema"
_FRACTION = r"(\d+[ -]?)?(\d{1,2}/\d{1,2}|[½¼¾⅓⅔⅛⅜⅝⅞])"
_NUMBER = rf"([+-]?\d+(\.\d+)?|{_FRACTION})(\s*(±|\+/-)\s*\d+(\.\d+)?)?"
_AT = r"(\s+at\s+-?\d+(\.\d+)?\s*(°C|degC|C|°F|degF|F))?"


@singledispatch
def _schema(value: Any) -> dict[str, Any]:
    """What a value may be, as a JSON Schema; anything that is one line where nothing more is said."""
    return {"type": ["string", "number", "boolean"], "description": value.words}


@_schema.register
def _(value: Text) -> dict[str, Any]:
    found: dict[str, Any] = {"type": ["string", "number", "boolean"], "description": value.words}
    return {**found, "examples": list(value.known)} if value.known else found


@_schema.register
def _(value: Group) -> dict[str, Any]:
    table = fields_of(value.record)
    properties = {
        name: {**_schema(facts.value), "description": _sentence(facts.doc, facts.value)}
        for name, facts in table.items()
    }
    required = [name for name, facts in table.items() if facts.required and not facts.unless]
    either = [(name, *facts.unless) for name, facts in table.items() if facts.required and facts.unless]
    # a field that is still blank is as good as absent
    return {
        "type": ["object", "null"],
        "properties": {name: _or_blank(found) for name, found in properties.items()},
        "additionalProperties": False,
    } | {
        **({"required": required} if required else {}),
        **({"allOf": [{"anyOf": [{"required": [n]} for n in names]} for names in either]} if either else {}),
    }


@_schema.register
def _(value: OrUncertainty) -> dict[str, Any]:
    return {"anyOf": [_quantity(value.kind), _schema(Group(value.record))]}


@_schema.register
def _(value: DipTable) -> dict[str, Any]:
    mark = {"type": "string", "pattern": r"^.+=.+$", "examples": ["10 cm = 8.4 L"]}
    return {"type": "array", "items": mark, "description": value.words}


def _or_blank(found: dict[str, Any]) -> dict[str, Any]:
    if "type" in found:
        kinds = found["type"] if isinstance(found["type"], list) else [found["type"]]
        return {**found, "type": list(dict.fromkeys([*kinds, "null"]))}
    if "enum" in found:
        return {**found, "enum": [*found["enum"], None]}
    return {"description": found.get("description", ""), "anyOf": [found, {"type": "null"}]}


@_schema.register
def _(value: ListOf) -> dict[str, Any]:
    return {"type": "array", "items": _schema(value.item)}


@_schema.register
def _(value: Named) -> dict[str, Any]:
    return {"type": ["object", "null"], "additionalProperties": _schema(value.value)}


@_schema.register
def _(_value: SieveTest) -> dict[str, Any]:
    return {"type": ["object", "null"], "additionalProperties": _schema(Quantity(SHARE))}


@_schema.register
def _(value: Choice) -> dict[str, Any]:
    # `none` is a word of the format and no null
    return {"enum": list(value.choices)}


@_schema.register
def _(value: YesNo) -> dict[str, Any]:
    return {"enum": [True, False, "yes", "no"], "description": value.words}


@_schema.register
def _(value: WordOrNumber) -> dict[str, Any]:
    return {"type": ["string", "number", "boolean"], "description": value.words}


@_schema.register
def _(_value: Id) -> dict[str, Any]:
    return {"type": ["string", "integer"], "pattern": "^[A-Za-z0-9]([A-Za-z0-9-]{0,38}[A-Za-z0-9])?$"}


@_schema.register
def _(_value: Day) -> dict[str, Any]:
    return {"type": "string", "pattern": r"^\d{4}-\d{2}-\d{2}$", "examples": ["2026-04-11"]}


@_schema.register
def _(_value: Moment) -> dict[str, Any]:
    return {
        "type": "string",
        "pattern": r"^\d{4}-\d{2}-\d{2}([T ]\d{2}:\d{2}(:\d{2})?)?$",
        "examples": ["2026-04-11 17:30"],
    }


def _units(kind: MeasureKind) -> str:
    spellings = sorted(filter(None, kind.written), key=len, reverse=True)
    pointed = (re.escape(each).replace("\\ ", " ") + r"\.?" * each[-1].isalpha() for each in spellings)
    return "|".join(pointed)


def _quantity(kind: MeasureKind) -> dict[str, Any]:
    units = _units(kind)
    unit = f"\\s*({units})" if "" not in kind.written else f"(\\s*({units}))?" if units else ""
    more = f"(\\s+({_FRACTION}|\\d+(\\.\\d+)?)\\s*({units}))*" if kind.compound else ""
    at = _AT if kind.at else ""
    found: dict[str, Any] = {"type": "string", "pattern": f"^{_NUMBER}{unit}{more}{at}$", "examples": [kind.example]}
    return {**found, "type": ["string", "number"]} if "" in kind.written else found


@_schema.register
def _(_value: Price) -> dict[str, Any]:
    return {"type": ["string", "number"], "pattern": f"^{PRICE}$", "examples": ["1.45", "$1.60 per lb"]}


@_schema.register
def _(value: OrText) -> dict[str, Any]:
    return {"anyOf": [{"type": ["string", "number", "boolean"]}, _schema(Group(value.record))]}


@_schema.register
def _(value: OneOrMore) -> dict[str, Any]:
    return {"anyOf": [_quantity(value.item.kind), {"type": "array", "items": _quantity(value.item.kind)}]}


@_schema.register
def _(_value: OffForm) -> dict[str, Any]:
    return {"anyOf": [{"const": KNOCKOUT}, _schema(Moment())]}


@_schema.register
def _(_value: ClockForm) -> dict[str, Any]:
    return {"type": "string", "pattern": r"^\d{1,2}[:.]\d{2}\s+\S.*$", "examples": ["08:40 mashed in"]}


@_schema.register
def _(value: Quantity) -> dict[str, Any]:
    return _quantity(value.kind)


@_schema.register
def _(value: VesselVolume) -> dict[str, Any]:
    return {"anyOf": [_quantity(kind) for kind in value.kinds]}


@_schema.register
def _(value: AnyOf) -> dict[str, Any]:
    return {"anyOf": [_quantity(kind) for kind in value.kinds]}


@_schema.register
def _(_value: GravityText) -> dict[str, Any]:
    return {
        "type": ["string", "number"],
        "pattern": f"^{_NUMBER}(\\s*(°P|P|Plato|°Bx|Bx|Brix))?{_AT}$",
        "examples": ["1.048", "12.0 °P"],
    }


@_schema.register
def _(_value: RestForm) -> dict[str, Any]:
    return {
        "anyOf": [
            {"type": "string", "pattern": r"^.+\sfor\s.+$", "examples": ["66.5 degC for 60 min"]},
            _schema(Group(Rest)),
        ]
    }


def _sentence(doc: str, value: Value) -> str:
    """What a field holds and how it is written."""
    words = "" if isinstance(value, Group | ListOf | Named) else f" ({value.words})"
    return f"{capital(doc)}{words}."


def json_schema(file: str = "entry") -> dict[str, Any]:
    """The JSON Schema (draft 2020-12) of one of TABLES: for an entry of its front matter, read as YAML 1.2 with dates as text."""
    titles = {"entry": "The front matter of a batch", "brewery": "brewery.yaml", "malts": "malts.yaml"}
    return {"$schema": _DIALECT, "title": titles[file], **_schema(TABLES[file])}


@dataclass(frozen=True)
class FieldLine:
    """One field: its path in the file (`mash.first_wort`, `grains[].weight`), what it is, and how it is written.

    `value` is the kind of value that it holds; `known` are words it may hold that need no describing; `block` is a list as it stands in a
    file, empty for anything else.
    """

    path: str
    meaning: str
    value: Value
    written: str
    required: bool
    known: tuple[str, ...] = ()
    block: str = ""

    @property
    def verbatim(self) -> bool:
        """Whether `written` is what stands in the file, letter by letter, and no words about it."""
        return " | " in self.written or ": " in self.written

    def answers(self, name: str) -> bool:
        """Whether a path of this field is meant by a name: the last part of it, or all, keys and places of a list filled in or not."""
        if name == self.path.rsplit(".", 1)[-1]:
            return True
        any_key = re.escape(re.sub(r"\[\d*\]", "[]", self.path)).replace("NAME", r"[^.]+")
        return re.fullmatch(any_key, re.sub(r"\[\d*\]", "[]", name)) is not None


def field_lines(file: str = "entry") -> list[FieldLine]:
    """Every field of one of TABLES, in the order of the table, groups before their fields."""
    table = TABLES[file]
    return list(_lines(table, "NAME" if isinstance(table, Named) else ""))


def _lines(value: Any, path: str) -> Iterator[FieldLine]:
    if isinstance(value, ListOf):
        yield from _lines(value.item, f"{path}[]")
    elif isinstance(value, Named):
        yield from _lines(value.value, f"{path}.NAME" if path != "NAME" else path)
    elif isinstance(value, RestForm):
        yield from _lines(Group(Rest), path)
    elif isinstance(value, Group):
        for name, facts in fields_of(value.record).items():
            inside = f"{path}.{name}" if path else name
            group = isinstance(facts.value, Group) and not isinstance(facts.value, OrText)
            known = facts.value.known if isinstance(facts.value, Text) else ()
            words = "" if group and not isinstance(facts.value, OrUncertainty) else facts.value.words
            block = block_of(inside.removeprefix("NAME."), facts.value) if isinstance(facts.value, ListOf) else ""
            yield FieldLine(inside, facts.doc, facts.value, words, facts.required, known, block)
            yield from _lines(facts.value, inside)

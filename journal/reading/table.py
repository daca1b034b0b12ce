"""The field table: a frozen dataclass per group of fields, a line per field, read by what the line says.

`entry_field` puts a field's kind of value, its meaning and whether it is required into the dataclass; `Group` reads a
mapping by that table. Whatever lists the fields (messages, references, schemas) reads the same table.
"""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Iterator
from functools import cache
from itertools import pairwise
from operator import attrgetter
from typing import Any

from journal.frozen import dataclass
from journal.problems import Span, capital, nearest
from journal.reading.located_yaml import Mapping, Node, Scalar
from journal.reading.values import AnyOf, Context, Elsewhere, GravityText, ListOf, Named, Quantity, Value
from journal.reading.yaml_faults import ODD_SPACE


@dataclass(frozen=True)
class FieldFacts:
    """One line of the table."""

    name: str
    value: Value
    doc: str
    required: bool
    shown: str = ""
    unless: tuple[str, ...] = ()


def entry_field(
    value: Value, doc: str, *, required: bool = False, shown: str = "", unless: tuple[str, ...] = ()
) -> Any:
    """A dataclass field that the brewer fills: absent lists and groups are empty, other absent values None.

    `shown` is the unit that pages show it in, where that is not the one its kind has. One that is required may still be
    missing where one of the fields `unless` is there, which says it as well.
    """
    metadata = {"value": value, "doc": doc, "required": required, "shown": shown, "unless": unless}
    if isinstance(value, ListOf):
        return dataclasses.field(default=(), metadata=metadata)
    if isinstance(value, Named):
        return dataclasses.field(default_factory=dict, metadata=metadata)
    if isinstance(value, Group):
        return dataclasses.field(default_factory=value.record, metadata=metadata)
    return dataclasses.field(default=None, metadata=metadata)


def is_blank(group: Any) -> bool:
    """Whether nothing was written in a group."""
    record: type = type(group)
    return bool(group == _blank(record))


@cache
def _blank(record: type) -> Any:
    return record()


def walk(record: Any, path: str = "") -> list[tuple[str, Any, FieldFacts]]:
    """Every field of a record and of all that it holds, by its path, in order: what stands there, and the table's line."""
    found: list[tuple[str, Any, FieldFacts]] = []
    _walk_on(record, f"{path}." if path else "", found)
    return found


def _walk_on(record: Any, before: str, found: list[tuple[str, Any, FieldFacts]]) -> None:
    table: type = type(record)
    for name, facts, is_group, is_list in _lines_of_table(table):
        value = getattr(record, name)
        found.append((before + name, value, facts))
        if is_group:
            _walk_on(value, f"{before}{name}.", found)
        elif is_list and value:
            for index, item in enumerate(value):
                if dataclasses.is_dataclass(item):
                    _walk_on(item, f"{before}{name}[{index}].", found)


@cache
def _lines_of_table(record: type) -> tuple[tuple[str, FieldFacts, bool, bool], ...]:
    """A record's lines, each with whether it is a group and whether a list: every entry is walked through several times."""
    return tuple(
        (name, facts, isinstance(facts.value, Group), isinstance(facts.value, ListOf))
        for name, facts in fields_of(record).items()
    )


def lines_of(record: Any, kinds: type | tuple[type, ...], path: str = "") -> Iterator[tuple[str, Any]]:
    """Every line of such kinds in the lists of a record, by its path: all additions of a batch, all hops."""
    table: type = type(record)
    for inner, items_of in _lists_in(table):
        items, list_path = items_of(record), f"{path}.{inner}" if path else inner
        yield from ((f"{list_path}[{n}]", item) for n, item in enumerate(items) if isinstance(item, kinds))
        for n, item in enumerate(items):
            if dataclasses.is_dataclass(item):
                yield from lines_of(item, kinds, f"{list_path}[{n}]")


@cache
def _lists_in(record: type) -> tuple[tuple[str, attrgetter[Any]], ...]:
    """A record's own lists and those of its groups, by path: pages ask for lines a thousand times, and most fields hold none."""
    paths = []
    for facts in fields_of(record).values():
        if isinstance(facts.value, Group):
            paths += [f"{facts.name}.{inner}" for inner, _ in _lists_in(facts.value.record)]
        elif isinstance(facts.value, ListOf):
            paths.append(facts.name)
    return tuple((path, attrgetter(path)) for path in paths)


def written_at(record: Any, path: str) -> Any:
    """What stands at a path of a batch, such as `mash.liquor`: an absent value is None, an absent list empty."""
    return _getter(path)(record)


_getter = cache(attrgetter)


def field_at(record: type, path: str) -> FieldFacts:
    """The table's line for a path through groups, such as `mash.liquor`."""
    first, _, rest = path.partition(".")
    facts = fields_of(record)[first]
    return field_at(facts.value.record, rest) if rest and isinstance(facts.value, Group) else facts


def fields_of(record: type) -> dict[str, FieldFacts]:
    """The table of one record, in order of declaration."""
    return _fields_of(record)


@cache
def _fields_of(record: type) -> dict[str, FieldFacts]:
    return {
        f.name: FieldFacts(f.name, *(f.metadata[fact] for fact in ("value", "doc", "required", "shown", "unless")))
        for f in dataclasses.fields(record)
        if "value" in f.metadata
    }


def read_fields(record: type, node: Mapping, path: str, context: Context) -> dict[str, Any]:
    """The values of a mapping by a record's table; unknown and missing fields are reported."""
    table = fields_of(record)
    values: dict[str, Any] = {}
    torn = _torn_by_commas(node, path, context)
    before: tuple[Scalar, Node] | None = None
    for key, value in node.pairs:
        in_front, before = before, (key, value)
        field_path = f"{path}.{key.text}" if path else key.text
        facts = table.get(key.text)
        if key.text in torn:
            # of the two halves of a number the second is no field that anybody meant
            if facts is None and not key.text[0].isdigit():
                _report_unknown(key, path, table, context)
            continue
        if facts is None:
            blank = isinstance(value, Scalar) and value.empty
            _report_unknown(key, path, table, context, in_front if blank else None)
            _report_quantity(key, value, path, table, context)
            continue
        context.names[field_path], context.places[field_path] = key.span, value.span
        if isinstance(value, Scalar) and value.empty:
            _report_hidden(key, field_path, context)
            continue
        read = facts.value.read(value, field_path, context)
        if read is not None:
            values[key.text] = read
    if _has_required(record):
        _report_missing(node, path, table, context)
    return values


@cache
def _has_required(record: type) -> bool:
    """Whether a record has fields that must be there: most groups have none."""
    return any(facts.required for facts in fields_of(record).values())


def _report_missing(node: Mapping, path: str, table: dict[str, FieldFacts], context: Context) -> None:
    given = {key.text for key, value in node.pairs if not (isinstance(value, Scalar) and value.empty)}
    meant = {_meant(key.text, table) for key, _ in node.pairs if key.text not in table}
    for facts in table.values():
        # a required field that is only misspelt has been told of
        if facts.required and facts.name not in given | meant and not given.intersection(facts.unless):
            full = f"{path}.{facts.name}" if path else facts.name
            empty = context.names.get(full, context.names.get(path, node.span))
            context.report(
                "field-missing",
                f"`{full}` is missing",
                f"Add {facts.name}: {facts.doc}{_such_as(facts.value)}.",
                _first_line(empty, context),
                path,
            )


def _report_hidden(key: Scalar, path: str, context: Context) -> None:
    """A value that begins with a hash, which makes a comment of it; a comment beside a blank field has a space behind its hash."""
    text = context.source.text
    end = text.find("\n", key.span.end)
    behind = re.fullmatch(r":\s+(#[^\s#].*)", text[key.span.end : end if end >= 0 else len(text)].rstrip())
    if behind:
        message = f"`{path}` is blank: “{behind[1]}” is a comment, for it begins with a hash"
        hint = f'If it is the value, put it in quotation marks: {key.text}: "{behind[1]}".'
        context.report("hidden-by-hash", message, hint, key.span, path)


#: What a brewer may call the words below the fields.
DIARY_WORDS = frozenset({"notes", "note", "comments", "comment", "remarks", "remark", "description", "diary", "text"})
#: What a brewer may call a field whose name is not like it.
_CALLED = {
    "date": ("on", "at"),
    "name": ("title", "malt", "hop", "addition", "strain"),
    "time": ("boiled",),
    "amount": ("weight",),
    "quantity": ("weight", "amount"),
    "temp": ("temperature",),
}


def _meant(name: str, table: dict[str, FieldFacts]) -> str | None:
    """The field that a name is nearest to."""
    return next((other for other in _CALLED.get(name, ()) if other in table), None) or nearest(name, table)


def _torn_by_commas(node: Mapping, path: str, context: Context) -> set[str]:
    """The keys of quantities that a decimal comma tore apart inside braces, each pair reported once.

    `{weight: 4,2 kg}` is YAML for a weight of 4 and a field named `2 kg`.
    """
    torn: set[str] = set()
    for (key, value), (next_key, next_value) in pairwise(node.pairs):
        rest = isinstance(next_value, Scalar) and next_value.empty and re.match(r"\d+(?!\d)", next_key.text)
        between = context.source.text[value.span.end : next_key.span.start]
        if rest and isinstance(value, Scalar) and re.fullmatch(r"\d+", value.text) and between == ",":
            span = Span(value.span.start, next_key.span.end)
            field_path = f"{path}.{key.text}" if path else key.text
            message = f"`{field_path}`: “{value.text},{next_key.text}” has a decimal comma"
            hint = f"Write {value.text}.{next_key.text} with a decimal point."
            context.report("decimal-comma", message, hint, span, field_path)
            torn |= {key.text, next_key.text}
    return torn


def _such_as(value: Value) -> str:
    """The example that the words for a kind of value end with, if they do."""
    return f", such as {_example(value)}" if _example(value) else ""


def _example(value: Value) -> str:
    return value.words.partition(" such as ")[2]


def _first_line(span: Any, context: Context) -> Any:
    line_end = context.source.text.find("\n", span.start)
    return span if line_end < 0 or line_end >= span.end else span.within(0, line_end - span.start)


def _report_unknown(
    key: Scalar, path: str, table: dict[str, FieldFacts], context: Context, before: tuple[Scalar, Node] | None = None
) -> None:
    """A field that nobody knows, with what was likelier meant; `before` is the pair in front of one that has no value."""
    file = context.source.name.rsplit("/", 1)[-1]
    where = f"`{path}`" if path else "the entry" if file.endswith(".md") else file
    full = f"{path}.{key.text}" if path else key.text
    hint = _slip(key, before, context) or _instead(key, path, table, file.endswith(".md"), context)
    context.report("unknown-field", f"{where} has no field `{key.text}`", hint, key.span, full)


def _elsewhere(name: str, path: str, table: dict[str, FieldFacts], context: Context) -> Elsewhere | None:
    """Where a name belongs as it stands, unless it is one of this table but for its ending, or one that goes by another name."""
    here = {f"{name}s", name.removesuffix("s"), *_CALLED.get(name, ())}
    return None if here & table.keys() else context.elsewhere(path, name)


def _instead(key: Scalar, path: str, table: dict[str, FieldFacts], entry: bool, context: Context) -> str:
    near = _meant(key.text, table)
    # one that is not known may stand where anything may that the brewer varies
    practice = "under `practice` goes what has no field of its own" if entry and path != "practice" else ""
    if entry and not path and key.text.lower() in DIARY_WORDS:
        return "Words in any number go below the second line of three hyphens."
    if found := _elsewhere(key.text, path, table, context):
        return found.advice
    if near:
        return f"Did you mean `{near}`?" + (f" If not: {practice}." if practice else "")
    fields = f"Fields here: {', '.join(table)}."
    return f"{fields} {capital(practice)}." if practice else fields


def _slip(key: Scalar, before: tuple[Scalar, Node] | None, context: Context) -> str:
    """What was likelier meant by a name that is none: a space that is none, a colon without one, a value with a comma."""
    if ODD_SPACE.search(key.text):
        return "One of its spaces is a non-breaking one or its like; type a plain space in its place."
    name, colon, value = key.text.partition(":")
    if colon and value and re.fullmatch(r"[\w-]+", name):
        return f"A space belongs after the colon: {name}: {value.strip()}."
    if before is None or not isinstance(before[1], Scalar) or not before[1].plain:
        return ""
    if context.source.text[before[1].span.end : key.span.start].strip() != ",":
        return ""
    whole = f"{before[1].text}, {key.text}"
    return f'Inside braces a comma ends the value. If it is part of it, put it in quotation marks: {before[0].text}: "{whole}".'


def _report_quantity(key: Scalar, value: Node, path: str, table: dict[str, FieldFacts], context: Context) -> None:
    """What is wrong with a quantity under a wrong name, lest it is told only once the name is right."""
    found = _elsewhere(key.text, path, table, context)
    near = table.get(_meant(key.text, table) or "")
    meant = found.value if found else near and near.value
    if isinstance(meant, Quantity | AnyOf | GravityText) and isinstance(value, Scalar) and not value.empty:
        meant.read(value, f"{path}.{key.text}" if path else key.text, context)


@dataclass(frozen=True)
class Group:
    """A group of fields, read into a record."""

    record: type

    @property
    def words(self) -> str:
        """The fields of the group."""
        return "{" + ", ".join(fields_of(self.record)) + "}"

    @property
    def example(self) -> str:
        """What must be in it, such as `{on: 2026-04-11 17:30, temperature: 18 degC}`; empty where that has no example."""
        needed = [facts for facts in fields_of(self.record).values() if facts.required]
        shown = [f"{facts.name}: {_example(facts.value)}" for facts in needed]
        return "{" + ", ".join(shown) + "}" if shown and all(_example(facts.value) for facts in needed) else ""

    def read(self, node: Node, path: str, context: Context) -> Any:
        """The record, or None if something else stands there."""
        if not isinstance(node, Mapping):
            hint = f"It holds any of {', '.join(fields_of(self.record))}; write each with a colon and its value"
            hint += f", such as {self.example}." if self.example else "."
            glued = re.match(r"([\w-]+):(\S+)", node.text) if isinstance(node, Scalar) and node.plain else None
            if glued and _meant(glued[1], fields_of(self.record)):
                hint = f"A space belongs after the colon: {glued[1]}: {glued[2]} …"
            context.report("wrong-shape", f"`{path}` must be a group of fields", hint, node.span, path)
            return None
        return self.record(**read_fields(self.record, node, path, context))

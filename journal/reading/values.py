"""The kinds of value a field can take, and how each is read from its node.

A kind of value has `read(node, path, context)`: it returns the value, or None after reporting what is wrong. It also
has `words`, which says in a few words what is wanted, for messages and references.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date, datetime
from typing import Any, Protocol
from urllib.parse import quote, urlsplit, urlunsplit

from journal.measures import Fault, Gravity, Measure, MeasureKind, read_gravity, read_measure
from journal.measures.grammar import of_no_kind, unit_meant
from journal.measures.units import COUNT, DEPTH, VOLUME, WEIGHT
from journal.problems import Place, Problem, Source, Span, did_you_mean, in_words
from journal.reading.located_yaml import Mapping, Node, Scalar, Sequence
from journal.reading.other_dates import other_dates

_BARE_GALLON = re.compile(r"(?<!US )(?<!UK )(?<!imp )(?<![^\W\d])gal(?:s|lons?)?(?![^\W\d])")


@dataclass(frozen=True)
class Elsewhere:
    """Where a name belongs that is no field where it stands, as an advice; and what it holds there, if that is one thing."""

    advice: str
    value: Value | None = None


def _nowhere(path: str, name: str) -> Elsewhere | None:
    del path, name
    return None


@dataclass
class Context:
    """What is gathered while one file is read: problems, and the place of each reading and of each field's name.

    `gallon` is what the brewery says a bare `gal` is: `us`, `imperial`, or nothing. `elsewhere` says where a name belongs that
    is no field of the group at a path.
    """

    source: Source
    gallon: str = ""
    elsewhere: Callable[[str, str], Elsewhere | None] = _nowhere
    problems: list[Problem] = field(default_factory=list)
    places: dict[str, Span] = field(default_factory=dict)
    names: dict[str, Span] = field(default_factory=dict)

    def report(self, code: str, message: str, hint: str, span: Span, path: str) -> None:
        """Note a problem at a span of the file."""
        self.problems.append(Problem(code, message, hint, Place(self.source, span, path)))

    def move(self, path: str, to: str | None) -> None:
        """Have what was found at a path of a list, and within it, stand at another; nowhere, if None."""
        for found in (self.places, self.names):
            for each in [each for each in found if each == path or each.startswith((f"{path}.", f"{path}["))]:
                span = found.pop(each)
                if to is not None:
                    found[to + each.removeprefix(path)] = span

    def measure(self, text: str, kind: MeasureKind, zero: bool = False) -> Measure | Fault:
        """A quantity of a kind, by the brewery's own gallon."""
        return read_measure(text, kind, zero, self.gallon)

    def note_bare_gallon(self, span: Span, path: str) -> None:
        """Say once in a file that a `gal` was taken for the US gallon, where nothing says which it is."""
        text = self.source.text[span.start : span.end]
        told = any(problem.code == "gallon-unsaid" for problem in self.problems)
        if self.gallon or told or not _BARE_GALLON.search(text):
            return
        message = f"`{path}`: a gallon is taken for the US gallon, 3.785 L"
        hint = "Say it once in entries/brewery.yaml: gallon: us, or gallon: imperial (4.546 L). US gal and UK gal are read too."
        self.report("gallon-unsaid", message, hint, span, path)


class Value(Protocol):
    """A kind of value."""

    @property
    def words(self) -> str:
        """What is wanted, in a few words."""
        ...

    def read(self, node: Node, path: str, context: Context) -> Any:
        """The value, or None after reporting what is wrong."""
        ...


def _shape(node: Node) -> str:
    return {Scalar: "a single value", Sequence: "a list", Mapping: "a group of fields"}[type(node)]


def _report_shape(node: Node, path: str, wanted: str, context: Context, hint: str = "") -> None:
    context.report("wrong-shape", f"`{path}` is {_shape(node)}, and must be {wanted}", hint, node.span, path)


#: A text so short that it is repeated in a hint.
_SHORT = 60


@dataclass(frozen=True)
class Text:
    """Any text that is not empty; `known` are words that mean something without being described anywhere."""

    words: str = "text"
    known: tuple[str, ...] = ()

    def read(self, node: Node, path: str, context: Context) -> str | None:
        """The text, without white space around it."""
        if not isinstance(node, Scalar):
            written = " ".join(context.source.text[node.span.start : node.span.end].split())
            hint = "Put it in quotation marks if a colon or a bracket is part of it"
            hint = f'{hint}: "{written}".' if len(written) <= _SHORT and '"' not in written else f"{hint}."
            _report_shape(node, path, self.words, context, hint)
            return None
        return node.text.strip() or None


@dataclass(frozen=True)
class WebAddress:
    """Where a site stands on the web; read with a slash at its end, without query and fragment."""

    words: str = "an address such as https://example.org/brewing/"

    def read(self, node: Node, path: str, context: Context) -> str | None:
        """The address in full, of http or https."""
        text = Text(self.words).read(node, path, context)
        if text is None:
            return None
        try:
            parts = urlsplit(text)
            host = parts.hostname
        except ValueError:  # brackets that hold no IPv6 address
            host = None
        if not host or parts.scheme not in {"http", "https"} or re.search(r"\s", text):
            hint = "Write it in full, such as https://example.org/brewing/."
            context.report("not-an-address", f"“{text}” is no address of the web", hint, node.span, path)
            return None
        return urlunsplit((parts.scheme, parts.netloc, f"{quote(parts.path.rstrip('/'), safe='/%~')}/", "", ""))


@dataclass(frozen=True)
class Id:
    """A whole number, or letters, digits and hyphens, at most 40."""

    words: str = "a whole number or a short id such as 31-b"

    def read(self, node: Node, path: str, context: Context) -> str | None:
        """The id as text: 31 and "31" are one."""
        if not isinstance(node, Scalar):
            _report_shape(node, path, self.words, context)
            return None
        text = node.text.strip()
        if not re.fullmatch(r"[A-Za-z0-9](?:[A-Za-z0-9-]{0,38}[A-Za-z0-9])?", text):
            hint = "Write a whole number, or letters, digits and hyphens, 40 at most, such as 31 or 31-b."
            context.report("not-an-id", f"“{text}” can't name a batch", hint, node.span, path)
            return None
        return text


@dataclass(frozen=True)
class Choice:
    """One of a few words."""

    choices: tuple[str, ...]

    @property
    def words(self) -> str:
        """The words it can be."""
        return " | ".join(self.choices)

    def read(self, node: Node, path: str, context: Context) -> str | None:
        """The word, as the format spells it; capitals mean nothing else."""
        if not isinstance(node, Scalar):
            _report_shape(node, path, f"one of {', '.join(self.choices)}", context)
            return None
        text = " ".join(node.text.split())
        folded = text.casefold()
        if folded in self.choices:
            return folded
        near = did_you_mean(text, self.choices)
        hint = f"{near} It is one of" if near else "Write one of"
        hint = f"{hint}: {', '.join(self.choices)}."
        context.report("not-a-choice", f"`{path}` can't be “{text}”", hint, node.span, path)
        return None


@dataclass(frozen=True)
class YesNo:
    """`yes` or `no`, or YAML 1.2's `true` and `false`."""

    words: str = "yes or no"

    def read(self, node: Node, path: str, context: Context) -> bool | None:
        """True for yes."""
        if isinstance(node, Scalar) and node.text.lower() in {"yes", "true", "no", "false"}:
            return node.text.lower() in {"yes", "true"}
        context.report("not-yes-or-no", f"`{path}` is neither yes nor no", "Write yes or no.", node.span, path)
        return None


@dataclass(frozen=True)
class Day:
    """A date, ISO 8601."""

    words: str = "a date such as 2026-04-11"

    def read(self, node: Node, path: str, context: Context) -> date | None:
        """The day."""
        text = node.text.strip() if isinstance(node, Scalar) else ""
        if re.fullmatch(r"\d{4}-\d{2}-\d{2}", text):
            try:
                return date.fromisoformat(text)
            except ValueError:
                pass
        hint = "Write year-month-day, such as 2026-04-11."
        _report_date("not-a-date", text, "no date", hint, node, path, context)
        return None


def _report_date(code: str, text: str, what: str, hint: str, node: Node, path: str, context: Context) -> None:
    shown = f"“{text}” is {what} of the calendar" if text else f"`{path}` is {_shape(node)}, and must be a date"
    if days := other_dates(text):
        shown = f"“{text}” is a date, written in another way"
        hint = f"A date is written year-month-day: {in_words(days, 'or')}."
    context.report(code, shown, hint, node.span, path)


@dataclass(frozen=True)
class Moment:
    """A date and a time of day, ISO 8601, local time; a date alone counts from midnight."""

    words: str = "a date and time such as 2026-04-11 17:30"

    def read(self, node: Node, path: str, context: Context) -> datetime | None:
        """The moment, without a time zone."""
        text = node.text.strip() if isinstance(node, Scalar) else ""
        if re.fullmatch(r"\d{4}-\d{2}-\d{2}(?:[T ]\d{2}:\d{2}(?::\d{2})?)?", text):
            try:
                return datetime.fromisoformat(text)
            except ValueError:
                pass
        hint = "Write year-month-day hour:minute, such as 2026-04-11 17:30."
        _report_date("not-a-time", text, "no date and time", hint, node, path, context)
        return None


@dataclass(frozen=True)
class FileName:
    """The name of a file beside the entry."""

    words: str = "the name of a file beside the entry"

    def read(self, node: Node, path: str, context: Context) -> str | None:
        """The name as written."""
        return Text(self.words).read(node, path, context)


def _place_fault(fault: Fault, node: Scalar, path: str, context: Context) -> None:
    span = node.span
    written = context.source.text[span.start : span.end]
    shift = written.find(node.text.strip())
    if shift >= 0 and fault.end > fault.start:
        span = span.within(shift + fault.start, shift + fault.end)
    context.report(fault.code, f"`{path}`: {fault.message}", fault.hint, span, path)


@dataclass(frozen=True)
class Quantity:
    """A number with a unit of one kind; `zero` says that 0 makes sense, `sd` that an uncertainty may be stated."""

    kind: MeasureKind
    zero: bool = False

    @property
    def words(self) -> str:
        """An example of it."""
        return self.kind.words

    def read(self, node: Node, path: str, context: Context) -> Measure | None:
        """The measure, in the unit the kind keeps."""
        if not isinstance(node, Scalar):
            _report_shape(node, path, self.words, context)
            return None
        found = context.measure(node.text.strip(), self.kind, self.zero)
        if isinstance(found, Fault):
            _place_fault(found, node, path, context)
            return None
        context.note_bare_gallon(node.span, path)
        return found


#: Refusals of a unit, or of none, that another kind's would not meet with.
_NO_UNIT = {"unit-wrong-kind", "unit-unknown", "unit-missing"}


@dataclass(frozen=True)
class AnyOf:
    """A quantity of one of several kinds, told by its unit."""

    kinds: tuple[MeasureKind, ...]

    @property
    def words(self) -> str:
        """Examples of it."""
        return " or ".join(kind.words for kind in self.kinds)

    def read(self, node: Node, path: str, context: Context) -> Measure | None:
        """The measure, in the unit its kind keeps."""
        kind = _kind_meant(node.text.strip(), self.kinds, context) if isinstance(node, Scalar) else self.kinds[0]
        if isinstance(node, Scalar) and isinstance(kind, Fault):
            _place_fault(kind, node, path, context)
        return None if isinstance(kind, Fault) else Quantity(kind).read(node, path, context)


def _kind_meant(text: str, kinds: tuple[MeasureKind, ...], context: Context) -> MeasureKind | Fault:
    """The kind that a text is of, or is meant to be of; what is wrong with it where its unit says of none."""
    refused: list[tuple[Fault, MeasureKind]] = []
    for kind in kinds:
        found = context.measure(text, kind)
        if isinstance(found, Measure) or found.code not in _NO_UNIT:
            return kind
        refused.append((found, kind))
    for found, kind in refused:
        # a unit that is only misspelt says of which kind it is meant to be
        if found.code == "unit-unknown" and unit_meant(text[found.start : found.end], kind):
            return kind
    furthest, kind = max(refused, key=lambda each: each[0].start)
    return kind if furthest.start > refused[0][0].start else of_no_kind(refused[0][0], text, kinds)


@dataclass(frozen=True)
class VesselVolume(Quantity):
    """A volume read by marks, or what was weighed (tare off), or how deep a dip stick was wet.

    The measure's unit says which: kg of one that was weighed, mm of one that was dipped.
    """

    kind: MeasureKind = VOLUME

    @property
    def kinds(self) -> tuple[MeasureKind, ...]:
        """What it may be written as."""
        return (self.kind, WEIGHT.such_as("24.6 kg"), DEPTH)

    @property
    def words(self) -> str:
        """Examples of it."""
        return f"{self.kind.words}; weighed such as 24.6 kg; or by the dip stick such as 31.5 cm"

    def read(self, node: Node, path: str, context: Context) -> Measure | None:
        """The measure, in L, kg or mm."""
        kind: MeasureKind | Fault = self.kind_of(node.text) if isinstance(node, Scalar) else self.kind
        if isinstance(node, Scalar) and kind is self.kind:
            # a plain 0 is one of its own kind only
            found = context.measure(node.text.strip(), self.kind, self.zero)
            if isinstance(found, Fault) and found.code in {"unit-unknown", "unit-wrong-kind"}:
                kind = _kind_meant(node.text.strip(), self.kinds, context)
        if isinstance(node, Scalar) and isinstance(kind, Fault):
            _place_fault(kind, node, path, context)
        return None if isinstance(kind, Fault) else Quantity(kind, self.zero).read(node, path, context)

    def kind_of(self, text: str) -> MeasureKind:
        """What a text states, by its first unit; a volume where that is of none of the kinds."""
        unit = re.search(r"[^\W\d_½¼¾⅓⅔⅛⅜⅝⅞]+", text)
        return next((kind for kind in self.kinds[1:] if unit and unit[0] in kind.written), self.kind)


#: How much of an addition: weighed, poured or counted.
AMOUNT = AnyOf((WEIGHT.such_as("4 g"), VOLUME.such_as("5 mL"), COUNT))


@dataclass(frozen=True)
class GravityText:
    """A gravity: a hydrometer's bare number, °P or °Bx."""

    words: str = "a gravity such as 1.048, 12.0 °P or 12.4 °Bx"

    def read(self, node: Node, path: str, context: Context) -> Gravity | None:
        """The gravity on the scale it was read on."""
        if not isinstance(node, Scalar):
            _report_shape(node, path, self.words, context)
            return None
        found = read_gravity(node.text.strip())
        if isinstance(found, Fault):
            _place_fault(found, node, path, context)
            return None
        return found


#: More of anything than one batch has: what a number hangs on is asked of each, so that twice as many take four times as long.
MOST_IN_A_LIST = 100
#: Looks at a beer; a year of them, one a day.
MOST_READINGS = 500


@dataclass(frozen=True)
class ListOf:
    """A list of values of one kind."""

    item: Value

    @property
    def words(self) -> str:
        """What the list holds."""
        return f"a list, each {self.item.words}"

    def read(self, node: Node, path: str, context: Context) -> tuple[Any, ...]:
        """The values that could be read, in order."""
        if not isinstance(node, Sequence):
            hint = "Put it in brackets, or on a line of its own after a hyphen."
            example = getattr(self.item, "example", "")
            if example and isinstance(node, Scalar):
                hint = f"Write it like this: [{example}], or each on a line of its own after a hyphen."
            if isinstance(node, Scalar) and node.plain and node.text.startswith("-"):
                hint = f"A space belongs after each hyphen: - {node.text[1:].split(' -')[0]}."
            _report_shape(node, path, "a list", context, hint)
            return ()
        most = MOST_READINGS if path == "readings" else MOST_IN_A_LIST
        if len(node.items) > most:
            first = node.items[most].span
            message = f"`{path}` has {len(node.items)} lines, and {most} are the most"
            context.report(
                "list-too-long",
                message,
                "Check whether they belong to one batch; a logger's file may hold more.",
                first,
                path,
            )
        values: list[Any] = []
        for index, item in enumerate(node.items[:most]):
            item_path = f"{path}[{index}]"
            context.places[item_path] = item.span
            if isinstance(item, Scalar) and item.empty:
                context.report(
                    "wrong-shape", f"`{item_path}` is empty", "Fill it in, or remove it.", item.span, item_path
                )
                value = None
            else:
                value = self.item.read(item, item_path, context)
            # who asks where the third value stands must not be led to the line that could not be read
            if value is None:
                context.move(item_path, None)
                continue
            if len(values) < index:
                context.move(item_path, f"{path}[{len(values)}]")
            values.append(value)
        return tuple(values)


@dataclass(frozen=True)
class Named:
    """Values under names the brewer chooses."""

    value: Value
    what: str
    example: str = ""

    @property
    def words(self) -> str:
        """What stands under each name; by an example, where there is one."""
        return f"{self.what}: {self.example or self.value.words}"

    def read(self, node: Node, path: str, context: Context) -> dict[str, Any]:
        """Name to value, for those that could be read."""
        if not isinstance(node, Mapping):
            hint = f"Write each as a name, a colon and {self.value.words}."
            _report_shape(node, path, "a group of fields", context, hint)
            return {}
        found = {}
        for key, value in node.pairs:
            key_path = f"{path}.{key.text}" if path else key.text
            context.names[key_path], context.places[key_path] = key.span, value.span
            read = None if isinstance(value, Scalar) and value.empty else self.value.read(value, key_path, context)
            if read is not None:
                found[key.text] = read
        return found


@dataclass(frozen=True)
class WordOrNumber:
    """What the brewer varies: a word, yes or no, or a number."""

    words: str = "a word, yes or no, or a number"

    def read(self, node: Node, path: str, context: Context) -> str | bool | float | None:
        """A bool for yes and no, a float for a number, else the text."""
        if not isinstance(node, Scalar):
            _report_shape(node, path, self.words, context)
            return None
        text = node.text.strip()
        if text.lower() in {"yes", "no", "true", "false"}:
            return text.lower() in {"yes", "true"}
        if re.fullmatch(r"[+-]?\d+(?:\.\d+)?", text) and len(text) < 16:
            return float(text)
        return text

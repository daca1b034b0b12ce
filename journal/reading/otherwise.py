"""A batch read once more with some of its fields otherwise, for those who ask what that would make of it; nothing is written.

What is to be otherwise is a path and a text, such as `mash.rests[0]` and `66 degC for 90 min`, read and complained of as it would be in
the entry. A text that begins with a sign is so much more or less than what stands there.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence
from dataclasses import replace
from typing import Any

import yaml

from journal.frozen import dataclass
from journal.measures import Fault, Measure, MeasureKind, read_measure
from journal.measures.units import convert
from journal.problems import Severity, Source, did_you_mean
from journal.reading import front_matter
from journal.reading.brewery import Brewhouse
from journal.reading.collect import read_entry
from journal.reading.entry import Batch, Rest, RestForm
from journal.reading.forms import OneOrMore
from journal.reading.table import Group, field_at, fields_of
from journal.reading.values import AnyOf, ListOf, Quantity

#: What a text begins with that is to be added, or taken away.
_SIGNS = "+-−"
_STEP = re.compile(r"([^.\[\]]+)|\[(\d+)\]")
_PATH = re.compile(r"[^.\[\]]+(\[\d+\]|\.[^.\[\]]+)*")


@dataclass(frozen=True)
class Otherwise:
    """One field of an entry, by its path, and what is to stand there."""

    path: str
    text: str


@dataclass(frozen=True)
class CantBe:
    """Why a field can't be so, and what would help, in a line."""

    why: str


def assignment(text: str) -> Otherwise | CantBe:
    """`FIELD=VALUE` taken apart."""
    path, equals, value = text.partition("=")
    path, value = path.strip(), value.strip()
    if not equals or not path or not value:
        return CantBe(f"“{text}” is no change. Write a field, an equals sign and its value, such as 'crush=1.0 mm'.")
    if not _PATH.fullmatch(path):
        return CantBe(
            f"“{path}” is no field. Fields are written as `wortbook fields` lists them, such as mash.rests[0]."
        )
    return Otherwise(path, value)


def read_otherwise(batch: Batch, changes: Sequence[Otherwise], gallon: str) -> list[Batch] | CantBe:
    """The batch after each of some changes, one made after the other; why not, where one of them can't be.

    `gallon` is what the brewery says a bare `gal` is.
    """
    offsets, _ = front_matter.split(batch.source)
    if offsets is None:
        return CantBe(f"the entry of batch {batch.id} has no fields to change.")
    start, end, _ = offsets
    written = yaml.load(batch.source.text[start:end], Loader=yaml.BaseLoader)  # noqa: S506  # makes texts and nothing else
    found: list[Batch] = []
    for change in changes:
        steps = [int(index) if index else name for name, index in _STEP.findall(change.path)]
        fault = _no_such_field(steps, change.path)
        if fault:
            return fault
        text = (
            _summed(found[-1] if found else batch, steps, change, gallon) if change.text[0] in _SIGNS else change.text
        )
        fault = text if isinstance(text, CantBe) else _put(written, steps, _value(text), change.path)
        if fault:
            return fault
        again = _read(batch, written, gallon, change)
        if isinstance(again, CantBe):
            return again
        found.append(again)
    return found


def _value(text: str) -> Any:
    try:
        return yaml.load(text, Loader=yaml.BaseLoader)  # noqa: S506  # makes texts and nothing else
    except yaml.YAMLError:
        return text


def _no_such_field(steps: Sequence[str | int], path: str) -> CantBe | None:
    """What is wrong with the names of a path, by the table; the nearest name with it."""
    record: type | None = Batch
    for place, step in enumerate(steps):
        if isinstance(step, int) or record is None:
            continue
        table = fields_of(record)
        if step not in table:
            before = ".".join(str(each) for each in steps[:place] if isinstance(each, str))
            whole = [f"{before}.{name}" if before else name for name in table]
            near = did_you_mean(f"{before}.{step}" if before else step, whole, "`wortbook fields` lists them.")
            return CantBe(f"an entry has no field {path}. {near}")
        value: Any = table[step].value
        if isinstance(value, ListOf):
            value = value.item
        record = Rest if isinstance(value, RestForm) else value.record if isinstance(value, Group) else None
    return None


def _put(held: Any, steps: Sequence[str | int], value: Any, path: str) -> CantBe | None:
    """Put a value into nested groups and lists of texts, groups that are not there made on the way."""
    for place, step in enumerate(steps):
        last = place == len(steps) - 1
        if isinstance(step, int):
            if not isinstance(held, list) or step >= len(held):
                there = len(held) if isinstance(held, list) else 0
                lines = "no line" if there == 0 else "1 line" if there == 1 else f"{there} lines"
                return CantBe(f"{path}: there {'is' if there < 2 else 'are'} {lines} here, and the first is [0].")
        elif not isinstance(held, dict):
            return CantBe(f"{path}: the entry says this as one text; change the whole of it.")
        if last:
            held[step] = value
        elif isinstance(step, int):
            held = held[step]
        else:
            follows = steps[place + 1]
            if not isinstance(held.get(step), (dict, list)):
                if held.get(step):
                    return CantBe(f"{path}: the entry says this as one text; change the whole of it.")
                held[step] = [] if isinstance(follows, int) else {}
            held = held[step]
    return None


def _read(batch: Batch, written: Any, gallon: str, change: Otherwise) -> Batch | CantBe:
    text = f"---\n{yaml.safe_dump(written, allow_unicode=True, sort_keys=False)}---\n"
    again, problems = read_entry(Source(batch.file, text), gallon)
    for problem in problems:
        if problem.severity is Severity.ERROR:
            message = problem.message[0].upper() + problem.message[1:]
            return CantBe(f"{change.path}={change.text} can't be. {message}. {problem.hint}")
    if again is None:
        return CantBe(f"{change.path}={change.text} can't be read.")
    # what was read from other files stays as it is
    return replace(
        again,
        brewed=batch.brewed,
        brewhouse=batch.brewhouse,
        mash_log=None if change.path.startswith("mash.rests") else batch.mash_log,
        fermentation_log=batch.fermentation_log,
        relatives=batch.relatives,
    )


def _summed(batch: Batch, steps: Sequence[str | int], change: Otherwise, gallon: str) -> str | CantBe:
    """What stands there and so much more, or less, as a text in the unit that it was written in."""
    sign, text = (1.0 if change.text[0] == "+" else -1.0), change.text[1:].strip()
    old = _at(batch, steps)
    if isinstance(old, tuple) and not isinstance(old, Measure):
        return CantBe(
            f"{change.path}: there is a list of {len(old)}; say which, such as {change.path}[0]={change.text}."
        )
    if isinstance(old, float | int) and not isinstance(old, bool) and re.fullmatch(r"\d+(\.\d+)?", text):
        return f"{old + sign * float(text):.10g}"
    kind = _kind(steps, old.unit) if isinstance(old, Measure) else None
    if kind is None:
        return CantBe(
            f"{change.path}: nothing stands there that {change.text} could be added to; write the whole value."
        )
    by = read_measure(text, kind, True, gallon)
    if isinstance(by, Fault):
        return CantBe(f"{change.path}: {by.message}. {by.hint}")
    # of two temperatures the difference counts, whatever the scale's zero
    value = old.value + sign * (by.value - kind.to_kept(0.0, by.unit))
    if value < 0.0:
        return CantBe(f"{change.path}: there are only {batch.written(change.path)} to take {text} from.")
    at = f" at {old.at:.10g} degC" if old.at is not None else ""
    return f"{convert(value, kind.unit, old.unit):.10g} {kind.spelling(old.unit)}{at}"


def _kind(steps: Sequence[str | int], unit: str) -> MeasureKind | None:
    """The kind of a quantity at a path that was written in a `unit`; None where it is no quantity by itself."""
    record: Any = Batch
    value: Any = None
    for step in steps:
        if isinstance(step, int) or record is None:
            continue
        value = fields_of(record)[step].value
        value = value.item if isinstance(value, ListOf | OneOrMore) else value
        record = Rest if isinstance(value, RestForm) else value.record if isinstance(value, Group) else None
    kinds = value.kinds if isinstance(value, AnyOf) else (value.kind,) if isinstance(value, Quantity) else ()
    return next((kind for kind in kinds if unit in kind.written.values()), None)


def _at(record: Any, steps: Sequence[str | int]) -> Any:
    """What stands at a path, None where nothing does."""
    for step in steps:
        if isinstance(step, int):
            listed = isinstance(record, tuple) and not isinstance(record, Measure)
            record = record[step] if listed and step < len(record) else None
        else:
            record = record.get(step) if isinstance(record, dict) else getattr(record, step, None)
    return record


def read_vessel(change: Otherwise, fields: Collection[str], gallon: str) -> tuple[float, bool] | CantBe:
    """What a brewhouse's vessel is to be: a number in the unit that is kept, and whether it is to be added to what is there.

    `fields`: paths that can be otherwise, `brewhouse.` and a path of a brewhouse in brewery.yaml.
    """
    if change.path not in fields:
        near = did_you_mean(change.path, sorted(fields), f"What can be otherwise of it: {', '.join(sorted(fields))}.")
        return CantBe(f"{change.path} is nothing of the vessels that could be tried otherwise. {near}")
    value: Any = field_at(Brewhouse, change.path.partition(".")[2]).value
    relative = change.text[0] in _SIGNS
    found = read_measure(change.text[1:].strip() if relative else change.text, value.kind, True, gallon)
    if isinstance(found, Fault):
        return CantBe(f"{change.path}: {found.message}. {found.hint}")
    return (found.value if change.text[0] not in _SIGNS[1:] else -found.value), relative

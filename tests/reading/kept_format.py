"""The kept journals of format 1: what is read of them as plain values, and which fields they have.

`python tests/reading/kept_format.py` adds files that are new to `read.json`; what stands there is never written anew.
"""

from __future__ import annotations

import dataclasses
import json
import re
from collections.abc import Iterator
from datetime import date
from enum import Enum
from functools import cache, singledispatch
from pathlib import Path
from typing import Any

import numpy as np

from journal.measures import Gravity, Measure
from journal.problems import Problem
from journal.reading import Batch, Journal, read_journal
from journal.reading.entry import Yeast
from journal.reading.instruments import LiquorMeasure, Scales, Thermometer
from journal.reading.logs import Log

FORMAT_1 = Path(__file__).parent / "format_1"
KEPT = FORMAT_1 / "read.json"
#: Enough to notice any change of meaning, and too few for the last bit of a conversion to show.
_DIGITS = 12
_NOT_READ = {"source", "places", "names", "prose_start", "digest", "facts_digest", "relatives"}


@cache
def journals() -> dict[str, tuple[Journal, list[Problem]]]:
    """Every kept journal by its folder's name."""
    return {folder.name: read_journal(folder) for folder in sorted(FORMAT_1.iterdir()) if (folder / "entries").is_dir()}


def _number(value: float) -> float | None:
    return float(f"{value:.{_DIGITS}g}") if np.isfinite(value) else None


@singledispatch
def _plain(value: Any) -> Any:
    """A value as JSON has it; of records what is absent is left out, so that a later field changes nothing."""
    if not dataclasses.is_dataclass(value):
        return value
    return _held({f.name: getattr(value, f.name) for f in dataclasses.fields(value) if f.name not in _NOT_READ})


def _held(held: dict[str, Any]) -> dict[str, Any]:
    return {name: _plain(each) for name, each in held.items() if each not in (None, (), {})}


@_plain.register(Measure)
@_plain.register(Gravity)
def _(value: Measure | Gravity) -> Any:
    return _held(value._asdict())


@_plain.register(Scales)
@_plain.register(LiquorMeasure)
@_plain.register(Thermometer)
def _(value: Scales | LiquorMeasure | Thermometer) -> Any:
    # an instrument of which its uncertainty alone is written, as it once had to be, is read as that
    stated = _held({"uncertainty": value.uncertainty, "checks": value.checks})
    return stated if "checks" in stated else stated.get("uncertainty", {})


@_plain.register
def _(value: Yeast) -> Any:
    """A text says the strain."""
    held = _held({f.name: getattr(value, f.name) for f in dataclasses.fields(value)})
    held = {name: each for name, each in held.items() if each != {}}
    return held["strain"] if held.keys() == {"strain"} else held


@_plain.register
def _(value: Log) -> dict[str, Any]:
    columns = {name: getattr(value, name) for name in ("minutes", "temperature", "gravity", "lines")}
    numbers = {name: [_number(float(n)) for n in each] for name, each in columns.items() if each is not None}
    return {"start": str(value.start), **numbers}


@_plain.register
def _(value: Enum) -> Any:
    return value.value


@_plain.register
def _(value: float) -> float | None:
    return _number(value)


@_plain.register
def _(value: date) -> str:
    return value.isoformat()


@_plain.register
def _(value: dict) -> dict[str, Any]:
    return {str(key): _plain(each) for key, each in value.items()}


@_plain.register
def _(value: tuple) -> list[Any]:
    return [_plain(each) for each in value]


def what_is_read() -> dict[str, Any]:
    """By file: its values; for an entry its prose too."""
    found: dict[str, Any] = {}
    for name, (journal, _) in journals().items():
        found[f"{name}/brewery.yaml"] = _plain(journal.brewery)
        found[f"{name}/malts.yaml"] = _plain(journal.malts)
        for entry in journal.entries:
            found[f"{name}/{entry.file}"] = entry.batch and {**_plain(entry.batch), "prose": entry.batch.prose}
    return found


#: Lists of one kind of line in several places: their fields are written out once.
_LISTS = re.compile(r"^.*\.(additions|hops)\[\]\.")


def once(path: str) -> str:
    """The path of a field, of a line that may stand in several lists without the list's own group."""
    return _LISTS.sub(r"\1[].", path)


def _paths(batch: Batch | None, places: dict[str, Any]) -> Iterator[str]:
    return (once(re.sub(r"\[\d+\]", "[]", path)) for path in (batch.places if batch else places))


def fields_written() -> dict[str, set[str]]:
    """By table: the fields that stand in the kept journals, as `field_lines` writes their paths."""
    entry, brewery, malts = set[str](), set[str](), set[str]()
    for journal, _ in journals().values():
        for each in journal.entries:
            entry.update(_paths(each.batch, {}))
        brewery.update(
            re.sub(r"^(brewhouses|fermenters|waters)\.[^.]+", r"\1.NAME", path)
            for path in _paths(None, journal.brewery.places)
        )
        malts.update(re.sub(r"^.*\.(?=[^.]+$)", "NAME.", path) for path in _paths(None, journal.malts.places))
    return {"entry": entry, "brewery": brewery, "malts": malts}


def main() -> None:
    """The command."""
    kept = json.loads(KEPT.read_text("utf-8")) if KEPT.exists() else {}
    both = {**what_is_read(), **kept}
    KEPT.write_text(json.dumps(both, indent=1, ensure_ascii=False, sort_keys=True) + "\n", "utf-8")


if __name__ == "__main__":
    main()

"""What was recorded: each reading as the brewer wrote it, what it counts as, and its line."""

from __future__ import annotations

from collections.abc import Callable, Container, Iterable, Iterator
from dataclasses import dataclass, is_dataclass
from datetime import date, datetime
from typing import Any, NamedTuple

from journal.measures import Gravity, Measure, Scale
from journal.pages.grist import LabGroup, grain_labs, malt_link
from journal.pages.model import Link, Number
from journal.pages.numbers import of_result
from journal.pages.paths import CAUTIONS_PAGE, reading_anchor
from journal.pages.view import BatchView
from journal.pages.words import corrosive, day, moment
from journal.problems import capital
from journal.reading.called import part_words, reading_words
from journal.reading.entry import Grain, Sheet, Sugar
from journal.reading.table import FieldFacts, fields_of, is_blank
from journal.reading.values import ListOf, Quantity, Value


class Piece(NamedTuple):
    """One value as recorded: the brewer's own writing and what it counts as; `counted` is None for a word."""

    anchor: str
    words: str
    written: str
    counted: Number | None


@dataclass(frozen=True)
class Recorded:
    """One line of what was recorded; `odd` says that a warning stands on it."""

    anchor: str
    label: Link
    pieces: tuple[Piece, ...]
    labs: tuple[LabGroup, ...]
    line: int
    odd: bool


@dataclass(frozen=True)
class RecordedGroup:
    """A stage of the work; `caution` leads to the usual caution for it."""

    words: str
    rows: tuple[Recorded, ...]
    cautions: tuple[Link, ...] = ()


#: Fields that are no part of the work: they stand in the head of the batch's page, are its tastings, or are told as practice.
_IN_THE_HEAD = frozenset({"batch", "title", "brewed", "style", "brewhouse", "tags", "tasting", "practice", "trust"})
#: Stages that hold several fields, or are called otherwise than their field.
_STAGES = {
    "target": "Aim",
    "grains": "Grist",
    "crush": "Grist",
    "sieve": "Grist",
    "lauter": "Run-off",
    "readings_log": "Readings",
}
#: The unit of each kind of number; of a kind that is not here the page shows what was written.
_UNITS = {
    "volume": "L",
    "temperature": "°C",
    "length": "mm",
    "time": "min",
    "share": "1",
    "pH": "pH",
    "diastatic power": "WK",
    "malt colour": "EBC",
    "carbonation": "g/L",
    "concentration": "mg/L",
    "alkalinity": "mg/L as CaCO3",
}
#: Readings that a figure brings to 20 °C and SG; the page shows that beside what was written.
_BROUGHT = {
    "mash.liquor": "mash_liquor",
    "mash.ph": "mash_ph",
    "lauter.liquor": "sparge_liquor",
    "boil.before.volume": "kettle_volume",
    "boil.before.gravity": "kettle_gravity",
    "boil.after.volume": "knockout_volume",
    "boil.after.gravity": "knockout_gravity",
    "fermenter.volume": "fermenter_volume",
    "fermenter.gravity": "original_gravity",
}


def _spread(view: BatchView, measure: Measure, unit: str) -> float:
    of_unit: dict[str, Callable[[Measure], float]] = {
        "kg": view.deviations.weight,
        "g": view.deviations.hop_weight,
        "L": view.deviations.volume,
        "pH": view.deviations.ph,
        "°C": view.deviations.temperature,
    }
    if measure.value == 0:
        return 0.0
    return of_unit[unit](measure) if unit in of_unit else measure.sd or 0.0


def counted(view: BatchView, value: Measure | Gravity, path: str, unit: str | None) -> Number | None:
    """What a reading counts as: at 20 °C and SG where a figure brings it there, else as read in the brewery's units.

    None for a number whose unit is shown only as written.
    """
    result = view.figures.get(_BROUGHT.get(path, ""))
    if result is not None:
        return of_result(result, view.system)
    aim = path.startswith("target.")  # what one is after is no reading, and nothing about it is uncertain
    if isinstance(value, Gravity):
        scale = "SG" if value.scale is Scale.HYDROMETER else value.scale.value
        return view.shown(value.value, 0.0 if aim else view.deviations.gravity(value), scale)
    return None if unit is None else view.shown(value.value, 0.0 if aim else _spread(view, value, unit), unit)


def _piece(view: BatchView, value: Any, path: str, kind: Value, words: str = "") -> Piece:
    written = view.batch.written(path)
    shown = counted(view, value, path, _unit(kind, path)) if isinstance(value, Measure | Gravity) else None
    if isinstance(value, date):
        written = (moment(value) if isinstance(value, datetime) else day(value)).text
    return Piece(reading_anchor(path), words, written, shown)


def _unit(kind: Value, path: str) -> str | None:
    """The unit that a field's number is shown in; None where it is shown only as written."""
    if not isinstance(kind, Quantity):
        return None
    if kind.kind.name == "weight":
        return "g" if ".hops[" in path else "kg"
    return _UNITS.get(kind.kind.name)


def _row(view: BatchView, path: str, label: Link, pieces: Iterable[Piece], labs: tuple[LabGroup, ...] = ()) -> Recorded:
    odd = any(doubt == path or doubt.startswith((f"{path}.", f"{path}[")) for doubt in view.doubted)
    kept = tuple(piece for piece in pieces if piece.written or piece.counted)
    return Recorded(reading_anchor(path), label, kept, labs, view.batch.place(path).line, odd)


def _is_record(value: Any) -> bool:
    """Whether a value is a group of fields of its own."""
    return is_dataclass(value) and bool(_table_of(type(value)))


def _table_of(record: type) -> dict[str, FieldFacts]:
    return fields_of(record)


def _written_fields(record: Any, prefix: str) -> Iterator[tuple[str, str, Any, Value]]:
    """The fields of a group in which something is written: name, path, value, kind."""
    for name, facts in _table_of(type(record)).items():
        value = getattr(record, name)
        blank = value is None or value in ((), {}) or (_is_record(value) and is_blank(value))
        if not blank:
            yield name, f"{prefix}.{name}" if prefix else name, value, facts.value


def _rows(view: BatchView, record: Any, prefix: str, *, left_out: Container[str] = ()) -> Iterator[Recorded]:
    """A row for every field of a group, a group inside it, and every line of a list, in the order of the field table."""
    for name, path, value, kind in _written_fields(record, prefix):
        if name not in left_out:
            yield from _rows_of(view, path, value, kind)


def _rows_of(view: BatchView, path: str, value: Any, kind: Value) -> Iterator[Recorded]:
    """The rows of one field."""
    if _is_record(value):
        yield from _rows(view, value, path)
    elif isinstance(kind, ListOf) and isinstance(value, tuple) and not isinstance(value, Measure):
        for place, item in enumerate(value):
            yield _line(view, item, f"{path}[{place}]", kind.item)
    else:
        words = capital(reading_words(path, view.names))
        yield _row(view, path, Link(words), [_piece(view, value, path, kind)])


def _line(view: BatchView, item: Any, path: str, kind: Value) -> Recorded:
    """A line of a list: what it is called, by its name or its day, and all else that is written there."""
    words = capital(reading_words(path).removeprefix("the "))
    if not _is_record(item):
        return _row(view, path, Link(words), [_piece(view, item, path, kind)])
    name, _, value, _ = next(_written_fields(item, path), ("", path, None, kind))
    called = isinstance(value, date) or path in view.names
    pieces = _pieces(view, item, path, left_out=(name,) if called else ())
    labs = grain_labs(view.index, view.batch, item, path) if isinstance(item, Grain | Sugar) else ()
    if isinstance(value, date):
        label = Link((moment(value) if isinstance(value, datetime) else day(value)).text)
    elif isinstance(item, Grain | Sugar):
        label = malt_link(str(value), view.names[path])
    else:
        label = Link(view.names.get(path, words))
    return _row(view, path, label, pieces, labs)


def _pieces(view: BatchView, record: Any, prefix: str, *, left_out: Container[str] = ()) -> Iterator[Piece]:
    """What is written in a line, group within group."""
    of_sheet = fields_of(Sheet) if isinstance(record, Sheet) else {}
    for name, path, value, kind in _written_fields(record, prefix):
        if name in left_out or name in of_sheet:
            continue
        if _is_record(value):
            yield from _pieces(view, value, path)
        else:
            yield _piece(view, value, path, kind, "" if name == "weight" else part_words(name))


def _practice(view: BatchView) -> Iterator[Recorded]:
    for name in view.batch.practice:
        path = f"practice.{name}"
        piece = Piece(reading_anchor(path), "", view.batch.written(path), None)
        yield _row(view, path, Link(capital(name.replace("_", " "))), [piece])
    for name, trusted in view.batch.trust.items():
        label = Link(capital("the balance" if name == "balance" else reading_words(name, view.names)))
        words = "counts" if trusted else "left out of the balance"
        yield _row(view, f"trust.{name}", label, [Piece(reading_anchor(f"trust.{name}"), "", words, None)])


def _cautions(words: str, rows: tuple[Recorded, ...]) -> tuple[Link, ...]:
    acids = any(corrosive(row.label.words) for row in rows)
    named = {
        "Mash": [Link("Acids and caustic", f"{CAUTIONS_PAGE}#acids")] if acids else [],
        "Boil": [Link("Hot wort and boil-over", f"{CAUTIONS_PAGE}#boil-over")],
        "Fermenter": [Link("Carbon dioxide", f"{CAUTIONS_PAGE}#carbon-dioxide")],
        "Package": [Link("Bottles and kegs under pressure", f"{CAUTIONS_PAGE}#pressure")],
    }
    return tuple(named.get(words, ()))


def recorded_groups(view: BatchView) -> tuple[RecordedGroup, ...]:
    """Every stage of the work of which something was recorded; a field that the table gains has its row by that alone."""
    stages: dict[str, list[Recorded]] = {}
    for name, path, value, kind in _written_fields(view.batch, ""):
        if name not in _IN_THE_HEAD:
            stages.setdefault(_STAGES.get(name, capital(name.replace("_", " "))), []).extend(
                _rows_of(view, path, value, kind)
            )
    groups = [(words, tuple(rows)) for words, rows in stages.items()]
    practice = tuple(_practice(view))
    if practice:
        groups.append(("Practice", practice))
    return tuple(RecordedGroup(words, rows, _cautions(words, rows)) for words, rows in groups if rows)


def recorded_anchors(groups: tuple[RecordedGroup, ...]) -> frozenset[str]:
    """Every anchor that the recorded rows have."""
    found: set[str] = set()
    for row in (row for group in groups for row in group.rows):
        found.add(row.anchor)
        found.update(piece.anchor for piece in row.pieces)
        found.update(lab.anchor for group in row.labs for lab in group.labs if lab.anchor)
    return frozenset(found)

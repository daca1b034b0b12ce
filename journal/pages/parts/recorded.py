"""What was recorded: each reading as the brewer wrote it, what it counts as, and its line."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any, NamedTuple

from journal.measures import Gravity, Measure, Scale
from journal.pages.grist import LabGroup, grain_labs, malt_link
from journal.pages.model import Link, Number, When
from journal.pages.numbers import of_result
from journal.pages.paths import CAUTIONS_PAGE, reading_anchor
from journal.pages.site.cautions import corrosive
from journal.pages.view import BatchView
from journal.pages.words import day, moment
from journal.problems import capital
from journal.reading.called import ordinal, part_words, reading_words
from journal.reading.known_readings import READINGS


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


#: Readings that a figure brings to 20 °C and SG; the page shows that beside what was written.
_BROUGHT = {reading.path: reading.figure for reading in READINGS if reading.parameter and reading.figure}


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


def counted(view: BatchView, value: Measure | Gravity, path: str, unit: str) -> Number:
    """What a reading counts as: at 20 °C and SG where a figure brings it there, else as read in the brewery's units."""
    result = view.figures.get(_BROUGHT.get(path, ""))
    if result is not None:
        return of_result(result, view.system)
    aim = path.startswith("target.")  # what one is after is no reading, and nothing about it is uncertain
    if isinstance(value, Gravity):
        scale = "SG" if value.scale is Scale.HYDROMETER else value.scale.value
        return view.shown(value.value, 0.0 if aim else view.deviations.gravity(value), scale)
    return view.shown(value.value, 0.0 if aim else _spread(view, value, unit), unit)


def _piece(view: BatchView, value: Any, path: str, unit: str, words: str = "") -> Piece:
    written = view.batch.written(path)
    shown = counted(view, value, path, unit) if isinstance(value, Measure | Gravity) else None
    if shown is None and isinstance(value, date):
        written = (moment(value) if isinstance(value, datetime) else day(value)).text
    return Piece(reading_anchor(path), words, written, shown)


def _row(view: BatchView, path: str, label: Link, pieces: Iterable[Piece], labs: tuple[LabGroup, ...] = ()) -> Recorded:
    odd = any(doubt == path or doubt.startswith((f"{path}.", f"{path}[")) for doubt in view.doubted)
    kept = tuple(piece for piece in pieces if piece.written or piece.counted)
    return Recorded(reading_anchor(path), label, kept, labs, view.batch.place(path).line, odd)


def _plain(view: BatchView, group: Any, prefix: str, fields: Iterable[tuple[str, str]]) -> Iterator[Recorded]:
    """A row for each of a group's fields that was filled in."""
    for name, unit in fields:
        value = getattr(group, name)
        if value is None:
            continue
        path = f"{prefix}.{name}" if prefix else name
        words = capital(reading_words(path, view.names))
        yield _row(view, path, Link(words), [_piece(view, value, path, unit)])


def _sugars(view: BatchView, group: Any, prefix: str) -> Iterator[Recorded]:
    for index, sugar in enumerate(group.additions):
        path = f"{prefix}.additions[{index}]"
        label = malt_link(sugar.addition or "", view.names[path])
        labs = grain_labs(view.index, view.batch, sugar, path)
        yield _row(view, path, label, _parts(view, sugar, path, (("weight", "kg"),)), labs)


def _parts(view: BatchView, record: Any, path: str, fields: Iterable[tuple[str, str]]) -> list[Piece]:
    pieces = []
    for name, unit in fields:
        value = getattr(record, name)
        if value is not None:
            words = "" if name == "weight" else part_words(name)
            pieces.append(_piece(view, value, f"{path}.{name}", unit, words))
    return pieces


def _grist(view: BatchView) -> Iterator[Recorded]:
    for index, grain in enumerate(view.batch.grains):
        path = f"grains[{index}]"
        label = malt_link(grain.malt or "", view.names[path])
        labs = grain_labs(view.index, view.batch, grain, path)
        yield _row(view, path, label, _parts(view, grain, path, (("weight", "kg"),)), labs)
    yield from _plain(view, view.batch, "", (("crush", "mm"),))


def _mash(view: BatchView) -> Iterator[Recorded]:
    mash = view.batch.mash
    yield from _plain(view, mash, "mash", (("liquor", "L"), ("strike", "°C"), ("grain_temperature", "°C")))
    for index, rest in enumerate(mash.rests):
        path = f"mash.rests[{index}]"
        label = Link(capital(f"{ordinal(index)} rest"))
        yield _row(view, path, label, _parts(view, rest, path, (("temperature", "°C"), ("time", "min"))))
    for index, reading in enumerate(mash.readings):
        path = f"mash.readings[{index}]"
        label = Link(capital(f"{ordinal(index)} look at the mash"))
        yield _row(view, path, label, _parts(view, reading, path, (("at", "min"), ("gravity", ""))))
    yield from _plain(
        view, mash, "mash", (("ph", "pH"), ("first_wort", ""), ("iodine", ""), ("mixing", ""), ("log", ""))
    )
    for index, addition in enumerate(mash.additions):
        path = f"mash.additions[{index}]"
        piece = Piece(reading_anchor(f"{path}.amount"), "", view.batch.written(f"{path}.amount"), None)
        yield _row(view, path, Link(addition.addition or ""), [piece])


def _run_off(view: BatchView) -> Iterator[Recorded]:
    fields = (
        ("method", ""),
        ("liquor", "L"),
        ("liquor_temperature", "°C"),
        ("time", "min"),
        ("last_runnings", ""),
        ("ph", "pH"),
    )
    yield from _plain(view, view.batch.lauter, "lauter", fields)
    yield from _plain(view, view.batch.mash, "mash", (("stuck", "min"),))


def _boil(view: BatchView) -> Iterator[Recorded]:
    boil = view.batch.boil
    vessel = (("volume", "L"), ("gravity", ""))
    yield from _plain(view, boil.before, "boil.before", vessel)
    yield from _plain(view, boil, "boil", (("top_up", "L"),))
    yield from _plain(view, boil.after, "boil.after", vessel)
    yield from _plain(view, boil, "boil", (("time", "min"),))
    for index, hop in enumerate(boil.hops):
        path = f"boil.hops[{index}]"
        pieces = _parts(view, hop, path, (("weight", "g"), ("alpha", "1"), ("boiled", "min")))
        yield _row(view, path, Link(hop.hop or ""), pieces)
    yield from _sugars(view, boil, "boil")


def _fermenter(view: BatchView) -> Iterator[Recorded]:
    fermenter = view.batch.fermenter
    yield from _plain(view, fermenter, "fermenter", (("volume", "L"), ("gravity", ""), ("top_up", "L")))
    yield from _sugars(view, fermenter, "fermenter")
    yield from _plain(view, fermenter, "fermenter", (("yeast", ""), ("pitched", "")))


def _readings(view: BatchView) -> Iterator[Recorded]:
    for index, reading in enumerate(view.batch.readings):
        path = f"readings[{index}]"
        when = moment(reading.at) if reading.at else When("", "")
        fields = (("gravity", ""), ("temperature", "°C"), ("ph", "pH"))
        yield _row(view, path, Link(when.text), _parts(view, reading, path, fields))


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


_PACKAGE = (
    ("on", ""),
    ("volume", "L"),
    ("gravity", ""),
    ("container", ""),
    ("carbonation", "g/L"),
    ("warmest", "°C"),
)
_IONS = ("calcium", "magnesium", "sodium", "sulfate", "chloride", "bicarbonate", "alkalinity")
_WATER = (("name", ""), ("date", ""), *((ion, "mg/L") for ion in _IONS))


def recorded_groups(view: BatchView) -> tuple[RecordedGroup, ...]:
    """Every stage of the work of which something was recorded."""
    stages: tuple[tuple[str, Iterator[Recorded]], ...] = (
        ("Aim", _plain(view, view.batch.target, "target", (("gravity", ""), ("volume", "L")))),
        ("Grist", _grist(view)),
        ("Water", _plain(view, view.batch.water, "water", _WATER)),
        ("Mash", _mash(view)),
        ("Run-off", _run_off(view)),
        ("Boil", _boil(view)),
        ("Fermenter", _fermenter(view)),
        ("Readings", _readings(view)),
        ("Package", _plain(view, view.batch.package, "package", _PACKAGE)),
        ("Practice", _practice(view)),
    )
    groups = ((words, tuple(rows)) for words, rows in stages)
    return tuple(RecordedGroup(words, rows, _cautions(words, rows)) for words, rows in groups if rows)


def recorded_anchors(groups: tuple[RecordedGroup, ...]) -> frozenset[str]:
    """Every anchor that the recorded rows have."""
    found: set[str] = set()
    for row in (row for group in groups for row in group.rows):
        found.add(row.anchor)
        found.update(piece.anchor for piece in row.pieces)
        found.update(lab.anchor for group in row.labs for lab in group.labs if lab.anchor)
    return frozenset(found)

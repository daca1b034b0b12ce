"""What was recorded: each reading as the brewer wrote it, what it counts as, and its line."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import is_dataclass
from datetime import date, datetime
from functools import cache
from typing import Any, NamedTuple

from journal.figures.counted import Counted
from journal.frozen import dataclass
from journal.measures import Gravity, Measure, Scale
from journal.measures.units import WEIGHT
from journal.pages.grist import LabGroup, grain_labs, malt_link
from journal.pages.model import Link, Number
from journal.pages.paths import CAUTIONS_PAGE, reading_anchor
from journal.pages.view import BatchView
from journal.pages.words import corrosive, day, moment
from journal.problems import capital, in_words
from journal.reading import Batch
from journal.reading.called import part_words, reading_words
from journal.reading.entry import HeldTemperature, LabValues, Reading, SouringReading, name_of_line
from journal.reading.forms import OneOrMore
from journal.reading.instrument_checks import check_words
from journal.reading.links import LINKS
from journal.reading.malts import may_bring_extract, sheet_name
from journal.reading.table import FieldFacts, Group, field_at, fields_of, written_at
from journal.reading.values import ListOf, Quantity


class Piece(NamedTuple):
    """One value as recorded: the brewer's own writing and what it counts as; `counted` is None for a word.

    `by` says by which checks of instruments what is written was corrected; empty where none was.
    """

    anchor: str
    words: str
    written: str
    counted: Number | None
    by: str = ""


class Recorded(NamedTuple):
    """One line of what was recorded, 0 where no line of the entry says it; `odd` says that a warning stands on it."""

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


#: The unit that pages show a kind of quantity in, by the unit it is kept in.
_SHOWN = {
    "kilogram": "kg",
    "litre": "L",
    "celsius": "°C",
    "minute": "min",
    "millimetre": "mm",
    "gram / litre": "g/L",
    "milligram / litre": "mg/L",
}
#: What an absent value, list or group by name is.
_ABSENT: tuple[Any, ...] = (None, (), {})
#: Fields that stand in another place of the page, or in another stage than their group's.
_ELSEWHERE = {"mash.stuck"}
#: What stands for the writing of a plan's weights and liquors that its entry leaves open, see `history/plan/by_shares.py`.
_CALCULATED = "calculated"


def _unit(facts: FieldFacts) -> str:
    """The unit that a field's quantity is shown in."""
    value = facts.value.item if isinstance(facts.value, OneOrMore) else facts.value
    if facts.shown or not isinstance(value, Quantity):
        return facts.shown
    kind = value.kind
    return {"pH": "pH", "share": "1"}.get(kind.name) or _SHOWN.get(kind.unit, "")


def counted_value(view: BatchView, value: Measure | Gravity, path: str, unit: str) -> Number | None:
    """What a reading counts as: volumes at 20 °C, gravities of wort and beer as SG 20/20; in the brewery's units.

    What one is after is no reading, so nothing about it is uncertain, and it stays on its scale.
    """
    found = _count(view, value, path, unit)
    return None if found is None else view.shown(found.value, found.sd, found.unit)


def _count(view: BatchView, value: Measure | Gravity, path: str, unit: str) -> Counted | None:
    if path.startswith("target."):
        scale = value.scale if isinstance(value, Gravity) else None
        return Counted(value.value, 0.0, unit if scale is None else "SG" if scale is Scale.HYDROMETER else scale.value)
    if isinstance(value, Gravity):
        return view.recordings.gravity(value, path)
    return view.recordings.measure(value, path, unit)


def _corrected_by(view: BatchView, found: Counted) -> str:
    """`by the check of the hydrometer of 1 March 2026`: what made what is written count as something else; empty where nothing did."""
    said = dict.fromkeys(_check_said(view, check) for check in found.checks)
    return f"by {in_words(list(said))}" if said else ""


def _check_said(view: BatchView, path: str) -> str:
    words = check_words(path) or path
    on = view.index.record.journal.brewery.check_at(path).on
    return f"{words} of {day(on).text}" if on else words


def _piece(view: BatchView, value: Any, path: str, unit: str, words: str = "") -> Piece:
    if unit == "g" and isinstance(value, Measure) and value.unit not in WEIGHT.written.values():
        unit = ""  # poured or counted, and says so itself
    written = view.batch.written(path) or _unwritten(value)
    number = isinstance(value, Gravity) or (isinstance(value, Measure) and bool(unit))
    found = _count(view, value, path, unit) if number else None
    shown = view.shown(found.value, found.sd, found.unit) if found else None
    by = _corrected_by(view, found) if found else ""
    if isinstance(value, date):
        written = (moment(value) if isinstance(value, datetime) else day(value)).text
    return Piece(reading_anchor(path), words, written, shown, by)


def _unwritten(value: Any) -> str:
    """What stands in the place of the writing of a value that the entry leaves open."""
    return _CALCULATED if isinstance(value, Measure) else value if isinstance(value, str) else ""


def _row(view: BatchView, path: str, label: Link, pieces: Iterable[Piece], labs: tuple[LabGroup, ...] = ()) -> Recorded:
    odd = any(doubt == path or doubt.startswith((f"{path}.", f"{path}[")) for doubt in view.doubted)
    kept = tuple(piece for piece in pieces if piece.written or piece.counted)
    # what no line of the entry says was calculated from what it does say
    line = view.batch.place(path).line if path in view.batch.places else 0
    return Recorded(reading_anchor(path), label, kept, labs, line, odd)


def _when(line: Any) -> str | None:
    """The field that a line is known by where that is a time."""
    names = {Reading: "at", SouringReading: "at", HeldTemperature: "on"}
    name = names.get(type(line))
    return name if name and getattr(line, name) else None


def _label(view: BatchView, line: Any, path: str) -> Link:
    """What a line of a list is called: what it is of, the time of a look, else which one it is."""
    if isinstance(line, LabValues):
        words, malts = view.names[path], view.index.record.journal.malts
        return malt_link(sheet_name(line, malts), words) if may_bring_extract(line, malts) else Link(words)
    when = _when(line)
    if when is not None:
        return Link(moment(getattr(line, when)).text)
    return Link(name_of_line(line) or capital(reading_words(path, view.names).removeprefix("the ")))


def _line(view: BatchView, line: Any, path: str) -> Recorded:
    """A line of a list: its parts in one row, a malt's laboratory values beside them."""
    labs: tuple[LabGroup, ...] = ()
    label = _label(view, line, path)
    named = {"malt", "addition", "hop", "name", _when(line)}
    if isinstance(line, LabValues) and may_bring_extract(line, view.index.record.journal.malts):
        labs = grain_labs(view.index, view.batch, line, path)
        named |= fields_of(LabValues).keys()
    pieces = []
    for facts in fields_of(type(line)).values():
        value = getattr(line, facts.name)
        if facts.name not in named and value is not None:
            words = "" if facts.name in {"weight", "amount"} else part_words(facts.name)
            pieces.append(_piece(view, value, f"{path}.{facts.name}", _unit(facts), words))
    return _row(view, path, label, pieces, labs)


def _rows(view: BatchView, path: str, value: Any, facts: FieldFacts) -> Iterator[Recorded]:
    """The rows of what was written at a path of the entry, which is not absent, and in all that it holds."""
    if isinstance(facts.value, Group):
        for name, inner in fields_of(type(value)).items():
            part = getattr(value, name)
            # most fields of most groups are absent
            if part not in _ABSENT and f"{path}.{name}" not in _ELSEWHERE:
                yield from _rows(view, f"{path}.{name}", part, inner)
    elif isinstance(facts.value, ListOf) and is_dataclass(value[0]):
        yield from (_line(view, line, f"{path}[{index}]") for index, line in enumerate(value))
    elif isinstance(facts.value, ListOf) and path == "clock":
        for index, time in enumerate(value):
            place = f"{path}[{index}]"
            clock = f"{time.minutes // 60:02}:{time.minutes % 60:02}"
            yield _row(view, place, Link(clock), [Piece(reading_anchor(place), "", time.words, None)])
    elif isinstance(value, tuple) and not hasattr(value, "_fields"):
        label = Link(capital(reading_words(path, view.names)))
        yield _row(
            view, path, label, [_piece(view, each, f"{path}[{n}]", _unit(facts)) for n, each in enumerate(value)]
        )
    else:
        label = Link(capital(reading_words(path, view.names)))
        yield _row(view, path, label, [_piece(view, value, path, _unit(facts))])


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
        "Package": [Link("Bottles", f"{CAUTIONS_PAGE}#pressure"), Link("kegs under pressure", f"{CAUTIONS_PAGE}#kegs")],
    }
    return tuple(named.get(words, ()))


#: The stages of the work, and what an entry holds of each.
_STAGES = {
    "Aim": ("target",),
    "Grist": ("grains", "crush", "sieve"),
    "Water": ("water",),
    "Mash": ("mash",),
    "Run-off": ("lauter", "mash.stuck"),
    "Souring": ("souring",),
    "Boil": ("boil",),
    "Stand and cooling": ("stand", "cooling"),
    "Fermenter": ("fermenter",),
    "Readings": ("readings", "readings_log"),
    "Package": ("ice_removed", "package"),
    "The day by the clock": ("clock",),
}


#: What stands in the head of the batch's page and in its diary, or is told as practice.
_TOLD = {
    "batch",
    "title",
    "brewed",
    "style",
    "brewhouse",
    "tags",
    "picture",
    "tasting",
    "practice",
    "trust",
    *LINKS,
    "taken",
}


@cache
def _stages() -> dict[str, tuple[tuple[str, FieldFacts], ...]]:
    """Every stage with its fields: those above, and one for whatever else the field table has."""
    named = {path for paths in _STAGES.values() for path in paths} | _TOLD
    others = [name for name in fields_of(Batch) if name not in named]
    stages = _STAGES | {capital(name.replace("_", " ")): (name,) for name in others}
    return {words: tuple((path, field_at(Batch, path)) for path in paths) for words, paths in stages.items()}


def recorded_groups(view: BatchView) -> tuple[RecordedGroup, ...]:
    """Every stage of the work of which something was recorded."""
    groups = {
        words: tuple(
            row
            for path, facts in fields
            if (value := written_at(view.batch, path)) not in _ABSENT
            for row in _rows(view, path, value, facts)
        )
        for words, fields in _stages().items()
    }
    groups["Practice"] = tuple(_practice(view))
    return tuple(RecordedGroup(words, rows, _cautions(words, rows)) for words, rows in groups.items() if rows)


def recorded_anchors(groups: tuple[RecordedGroup, ...]) -> frozenset[str]:
    """Every anchor that the recorded rows have."""
    found: set[str] = set()
    for row in (row for group in groups for row in group.rows):
        found.add(row.anchor)
        found.update(piece.anchor for piece in row.pieces)
        found.update(lab.anchor for group in row.labs for lab in group.labs if lab.anchor)
    return frozenset(found)

"""What a browser needs to take the readings of the day: the boxes, the format's units, and series for what to do.

Everything here is plain lists, numbers and texts, for the page holds it as JSON. The scripts `themes/bones/sheet*.js` know no
formula and no unit: a formula that changes here changes there too.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from typing import Any

from journal.figures.checked import InstrumentError
from journal.figures.observe import Observer
from journal.history.plan import KETTLE, KNOCKOUT
from journal.history.plan.correction_series import CorrectionSeries, correction_series
from journal.history.plan.reading_series import ReadingCurve, ReadingSeries, reading_series
from journal.measures import Gravity, Measure, MeasureKind, Scale, units, writing
from journal.measures.grammar import HYDROMETER_RANGE, SAMPLE_RANGE, STRENGTH_RANGE
from journal.measures.units import (
    DEPTH,
    IMPERIAL,
    LENGTH,
    PH,
    TEMPERATURE,
    VOLUME,
    WEIGHT,
    affine,
    by_imperial_gallon,
)
from journal.measures.wording import unit_for
from journal.pages.parts.sheet import words
from journal.pages.parts.sheet.model import Box, Stage, Task, Typed
from journal.pages.parts.sheet.planned_batch import PlannedBatch
from journal.pages.words import day
from journal.reading.known_readings import GRAVITY as GRAVITY_UNIT
from journal.reading.known_readings import VOLUME as VOLUME_UNIT
from journal.reading.known_readings import read_at
from journal.reading.lines import name_of_line
from journal.reading.table import written_at

#: Kinds that a box takes; a vessel may also be weighed or dipped.
_KINDS = (WEIGHT, VOLUME, TEMPERATURE, LENGTH, PH, DEPTH)
#: What the script shows numbers in.
_SHOWN = ("L", "SG", "kg")
#: The fields that a line of a list is told from others by.
_NAMED_BY = ("malt", "hop", "addition")


def for_script(planned: PlannedBatch, stages: tuple[Stage, ...]) -> str:
    """Everything that the sheet's scripts are told, as JSON."""
    return json.dumps(_told(planned, stages), ensure_ascii=False, separators=(",", ":"))


def _told(planned: PlannedBatch, stages: tuple[Stage, ...]) -> dict[str, Any]:
    batch, brewery = planned.batch, planned.view.index.record.journal.brewery
    gallon = brewery.own_gallon
    boxes = [_box(task, box, typed) for task, box, typed in _typed(stages)]
    observer = Observer(batch, brewery, planned.view.index.record.journal.malts)
    answers = _answers(planned)
    return {
        "batch": batch.id,
        "title": batch.title or "",
        "brewed": batch.day.isoformat(),
        "day": day(batch.day).text,
        "brewery": planned.view.index.brewery,
        "system": planned.system,
        "degrees": planned.sign("°C"),
        "cold": words.temperature(20.0, planned.system),
        "boiled": batch.boil.time.value if batch.boil.time else None,
        "clock": bool(batch.clock),
        "boxes": boxes,
        "lists": dict(_lists(planned, [box["field"] for box in boxes])),
        "kinds": {kind.name: _kind(by_imperial_gallon(kind) if gallon == IMPERIAL else kind) for kind in _KINDS},
        "otherUnits": _other_units(),
        "ranges": {"hydrometer": HYDROMETER_RANGE, "strength": STRENGTH_RANGE, "sample": SAMPLE_RANGE},
        "shown": {unit: _shown(unit, planned.system) for unit in _SHOWN},
        "ounces": affine("kilogram", "ounce")[0],
        "steps": {name: steps._asdict() for name, steps in (("grams", writing.GRAMS), ("ounces", writing.OUNCES))},
        "gallons": affine("litre", "us_gallon")[0],
        "reading": _reading(reading_series(observer)),
        "answers": answers,
    }


def _typed(stages: tuple[Stage, ...]) -> Iterator[tuple[Task, Box, Typed]]:
    for stage in stages:
        for task in stage.tasks:
            yield from ((task, box, box.typed) for box in task.boxes if box.typed)


def _box(task: Task, box: Box, typed: Typed) -> dict[str, Any]:
    """A box, without what is empty."""
    said = {
        "key": typed.key,
        "task": task.words,
        "words": box.words,
        "amount": task.amount,
        "kind": typed.kind,
        "unit": typed.unit,
        "field": typed.field,
        "planned": typed.planned,
        "expected": typed.expected,
        "minutes": typed.minutes,
        "after": typed.after,
        "called": typed.called,
    }
    # the scripts look every box's field up, and ask of the others whether they are there
    return {name: value for name, value in said.items() if value or name == "field"}


def _lists(planned: PlannedBatch, fields: list[str]) -> Iterator[tuple[str, list[list[str]]]]:
    """By list of the entry whose lines a field may belong to: of each line the field that names it, and the name."""
    for path in sorted({field.partition("[")[0] for field in fields if "[" in field}):
        lines = written_at(planned.batch, path) or ()
        named = [
            next(([name, name_of_line(line)] for name in _NAMED_BY if getattr(line, name, None)), [])
            for line in (lines if isinstance(lines, tuple) else ())
        ]
        if named and all(named):
            yield path, named


def _kind(kind: MeasureKind) -> dict[str, Any]:
    return {
        "called": kind.called,
        "example": kind.example,
        "units": {spelling: [*affine(unit, kind.unit), unit] for spelling, unit in kind.written.items()},
        "zero": kind.zero,
        "low": kind.low,
        "high": kind.high if kind.high != float("inf") else None,
        "negative": kind.negative,
        "at": kind.at,
        "compound": list(kind.compound),
    }


def _other_units() -> dict[str, str]:
    """Of every unit that the format knows, the kind it is of."""
    every = [kind for kind in units.KINDS if kind not in _KINDS and not kind.difference]
    return {spelling: kind.name for kind in every for spelling in kind.written if spelling}


def _shown(unit: str, system: str) -> dict[str, Any]:
    how = unit_for(unit, system)
    offset = how.convert(0.0)
    return {"sign": how.sign, "decimals": how.decimals, "scale": how.convert(1.0) - offset, "offset": offset}


def _reading(found: ReadingSeries) -> dict[str, Any]:
    return {
        "volumeSd": found.volume_sd,
        "weightSd": found.weight_sd,
        "dipSd": found.dip_sd,
        "scale": _error(found.malt_scale),
        "dips": {"kettle": found.kettle_dip, "fermenter": found.fermenter_dip},
        "fills": _curve(found.fills),
        "temperatureSd": found.temperature_sd,
        "pointsSd": found.points_sd,
        "brixSd": found.brix_sd,
        "wortFactor": found.wort_factor,
        "calibratedAt": found.calibrated_at,
        "kettle": _error(found.kettle),
        "fermenter": _error(found.fermenter),
        "thermometer": _error(found.thermometer),
        "hydrometer": _error(found.hydrometer),
        "refractometer": _error(found.refractometer),
        "shrinks": _curve(found.shrinks),
        "warm": _curve(found.warm),
        "strength": _curve(found.strength),
    }


def _error(found: InstrumentError | None) -> dict[str, float] | None:
    return found and {"size": found.size, "sd": found.sd, "at": found.at, "slope": found.slope}


def _curve(found: ReadingCurve) -> dict[str, Any]:
    return {"ranges": found.ranges, "terms": _terms(found.series.terms)}


def _terms(terms: Iterable[tuple[int, int, float]]) -> list[float]:
    """i, j and c of each term one after the other: a third of the brackets."""
    return [number for term in terms for number in term]


def _answers(planned: PlannedBatch) -> dict[str, Any]:
    """By place, what readings there mean; none where nothing is known of the brew."""
    balance = planned.view.index.balance(planned.batch)
    if balance is None or not planned.expected:
        return {}
    found = {}
    for place in (KETTLE, KNOCKOUT):
        volume, gravity = read_at(place, VOLUME_UNIT), read_at(place, GRAVITY_UNIT)
        deviations = planned.view.deviations
        sd = (
            deviations.volume(Measure(planned.expected[volume.figure].expected, "litre")),
            deviations.gravity(Gravity(planned.expected[gravity.figure].expected, Scale.HYDROMETER)),
        )
        series = correction_series(planned.batch, planned.view.figures, balance.priors, place, sd)
        if series is not None:
            found[place] = {"volumeBox": volume.path, "gravityBox": gravity.path, **_answer(series)}
    return found


def _answer(series: CorrectionSeries) -> dict[str, Any]:
    return {
        "target": series.target,
        "coverage": series.coverage_factor,
        "steps": series.steps,
        "expected": series.expected,
        "prior": series.prior,
        "turn": series.turn,
        "series": {name: _terms(each.terms) for name, each in series.series.items()},
    }

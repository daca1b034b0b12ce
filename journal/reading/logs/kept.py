"""Readings in the units that are kept, degC and SG, and whether the header's unit can be believed."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from journal.measures.units import TEMPERATURE, affine
from journal.problems import Problem
from journal.reading.logs import plausible
from journal.reading.logs.course import LogCourse
from journal.reading.logs.header import PLATO
from journal.reading.logs.table import Table
from journal.science import wort

Numbers = NDArray[np.float64]


def in_kept_units(table: Table, course: LogCourse, mash: bool) -> tuple[LogCourse, list[Problem]]:
    """The course, read in the header's units, as degC and SG; problems where readings don't fit their unit."""
    problems = []
    for name, values in course.readings.items():
        rows = np.flatnonzero(np.isfinite(values))
        words = _doubt(name, values[rows], table.header.columns[name].unit, mash) if len(rows) else None
        if words:
            place = table.place(table.lines.index(int(course.lines[rows[0]])), name)
            problems.append(Problem(*words, place, expected_by=table.title(name)))
    readings = {name: _kept(values, table.header.columns[name].unit) for name, values in course.readings.items()}
    return LogCourse(course.minutes, readings, course.lines), problems


def _doubt(name: str, readings: Numbers, unit: str, mash: bool) -> plausible.Words | None:
    if name == "gravity":
        return plausible.gravity_unit(readings, unit)
    return plausible.mash_unit(readings, unit) if mash else plausible.beer_unit(readings, unit)


def _kept(values: Numbers, unit: str) -> Numbers:
    if unit == PLATO:
        return gravity_of_plato(values)
    if unit in TEMPERATURE.written.values():
        scale, offset = affine(unit, TEMPERATURE.unit)
        return scale * values + offset
    return values


def gravity_of_plato(plato: Numbers) -> Numbers:
    """Gravities, SG 20/20, of strengths in °P from -5 to 45; what lies outside comes back as 0, which is no gravity.

    >>> gravity_of_plato(np.array([12.0])).round(5).tolist()
    [1.04837]
    """
    outside = (plato < -5.0) | (plato > 45.0)
    gravity: Numbers = wort.gravities_from_plato(np.where(outside, 0.0, plato))
    return np.where(outside, 0.0, gravity)

"""The figures of a batch from its reconciled readings, by the same catalogue as those recorded."""

from __future__ import annotations

import math
from functools import cache
from typing import Any

import numpy as np

from journal.balance.model import Solution
from journal.balance.quantities import quantity_shown
from journal.figures import CATALOGUE, BatchFigures, Result
from journal.figures.as_read import GravityReading, Observed, VolumeReading
from journal.figures.observe import BatchReadings
from journal.figures.propagate import contributions, nominal
from journal.figures.resolve import Resolver
from journal.figures.uncertain import ErrorKind, ErrorSource, Uncertain
from journal.measures import Scale
from journal.reading.known_readings import IN_BALANCE, VOLUME, KnownReading


def _covers(solution: Solution, reading: KnownReading) -> bool:
    """Whether a balance has a word on a reading: a kettle on its own knows nothing of mash and liquor."""
    if reading.unknown:
        return reading.unknown in solution.model.unknowns
    return reading.station != "first_wort" or solution.model.mashed


def _uncertain(solution: Solution, readings: list[KnownReading]) -> dict[str, Uncertain]:
    """What the balance has for each reading, by figure, as numbers that move together as it says."""
    names = [quantity_shown(reading) for reading in readings]
    # what one standard deviation along each independent direction does
    parts = solution.slopes(names) @ np.linalg.cholesky(solution.fit.covariance)
    directions = [ErrorSource(str(k), ErrorKind.BALANCED) for k in range(parts.shape[1])]
    return {
        reading.figure: Uncertain(value, dict(zip(directions, row, strict=True)))
        for reading, value, row in zip(readings, solution.values(names).tolist(), parts.tolist(), strict=True)
    }


def _resolver(solution: Solution, observed: BatchReadings, recorded: BatchFigures) -> tuple[Resolver, frozenset[str]]:
    """Works out figures from the reconciled readings; with it the names of the readings and figures that were put in."""
    readings = [each for each in IN_BALANCE if each.figure in recorded.results and _covers(solution, each)]
    balanced = _uncertain(solution, readings)
    instead: dict[str, Observed] = {}
    direct: dict[str, Any] = {}
    for reading in readings:
        value = balanced[reading.figure]
        if not reading.parameter:
            direct[reading.figure] = value
        elif reading.unit == VOLUME:
            instead[reading.parameter] = Observed(VolumeReading(value, None))
        else:
            instead[reading.parameter] = Observed(GravityReading(Scale.HYDROMETER.value, value, None, 20.0, None, None))
    resolver = Resolver(observed.with_these(instead))
    resolver.found |= {name: Observed(value) for name, value in direct.items() if name not in resolver.observed}
    return resolver, frozenset(instead.keys() | direct.keys())


def _result(resolver: Resolver, name: str) -> Result | None:
    found = resolver.find(name)
    if found.wanting:
        return None
    sd = math.hypot(*contributions(found.value).values())
    return Result(name, CATALOGUE[name].unit, nominal(found.value), sd, (), ())


@cache
def _moved_by(moved: frozenset[str], borrowed: frozenset[str]) -> frozenset[str]:
    """The figures that move with some readings and figures; those that are borrowed of another batch don't."""

    @cache
    def moves(name: str) -> bool:
        figure = CATALOGUE.get(name)
        return name not in borrowed and (name in moved or (figure is not None and any(map(moves, figure.parameters))))

    return frozenset(filter(moves, CATALOGUE))


def reconciled_figures(solution: Solution, observed: BatchReadings, recorded: BatchFigures) -> dict[str, Result]:
    """Every figure that could be computed as recorded, from the reconciled readings; correlations kept."""
    resolver, moved = _resolver(solution, observed, recorded)
    moving = _moved_by(moved, frozenset(name for name in CATALOGUE if name in observed))
    results = {}
    for name, known in recorded.results.items():
        # what no reconciled reading leads to is as it was recorded
        result = _result(resolver, name) if name in moving else known._replace(parts=(), inputs=())
        if result is not None:
            results[name] = result
    return results


def reconciled_figure(name: str, solution: Solution, observed: BatchReadings, recorded: BatchFigures) -> Result | None:
    """One of them, without the rest."""
    return _result(_resolver(solution, observed, recorded)[0], name) if name in recorded.results else None

"""The table on the working sheet: for each pair of gravity and volume that may be read, what to do."""

from __future__ import annotations

import math

from journal.balance.priors import Priors
from journal.figures import BatchFigures
from journal.figures.instruments import Deviations
from journal.frozen import dataclass
from journal.history.plan.correct import GRAVITY, VOLUME, Correction, Corrector, Range
from journal.history.plan.forecast import MEASURED, forecast_of
from journal.measures import Gravity, Measure, Scale
from journal.reading import Batch
from journal.reading.instruments import Instruments

#: How far rows and columns reach to either side, in standard deviations of what is expected to be read.
_REACH = 2.5
#: Steps that a row or a column may take, SG and in units of volume, and how many of them a sheet has room for.
_GRAVITY_STEPS, _MOST_ROWS = (0.001, 0.002, 0.005), 12
_VOLUME_STEPS, _MOST_COLUMNS = tuple(step * 10.0**power for power in range(-1, 4) for step in (1, 2, 5)), 7


@dataclass(frozen=True)
class CorrectionTable:
    """Corrections by gravity (rows, SG, rising) and volume (columns, L at 20 °C, rising): `cells[row][column]`.

    A cell is None where no wort could show both. `gravity` and `volume` are what a reading is expected to show, with the
    interval that holds it nine times in ten.
    """

    place: str
    target: float
    gravity: Range
    volume: Range
    gravities: tuple[float, ...]
    volumes: tuple[float, ...]
    cells: tuple[tuple[Correction | None, ...], ...]


def _axis(found: Range, reach: float, steps: tuple[float, ...], most: int, unit: float = 1.0) -> tuple[float, ...]:
    """Round values around what is expected, _REACH standard deviations to either side, in the first step that fits."""
    half = _REACH * (found.high - found.expected) / reach
    values: tuple[float, ...] = ()
    for step in steps:
        width = step * unit
        first, last = math.floor((found.expected - half) / width), math.ceil((found.expected + half) / width)
        values = tuple(count * width for count in range(max(first, 1), last + 1))
        if len(values) <= most:
            break
    return values


def correction_table(
    batch: Batch,
    recorded: BatchFigures,
    priors: Priors,
    place: str,
    instruments: Instruments | None = None,
    unit: float = 1.0,
) -> CorrectionTable | None:
    """The table for a planned batch at a place (KETTLE or KNOCKOUT); None where grist or liquor is not known.
    `unit` is how many L at 20 °C the columns count by: a US gallon's 3.785, or what a litre read hot shrinks to, for
    columns that are round in that unit.
    """
    forecast = forecast_of(batch, recorded, priors)
    if forecast is None:
        return None
    deviations = Deviations(instruments or Instruments())
    volume, gravity, _ = forecast.solution.values(MEASURED[place]).tolist()
    sd = {
        VOLUME: deviations.volume(Measure(volume, "litre")),
        GRAVITY: deviations.gravity(Gravity(gravity, Scale.HYDROMETER)),
    }
    corrector = Corrector(forecast, place, sd)
    rows, columns = corrector.expected(GRAVITY), corrector.expected(VOLUME)
    gravities = _axis(rows, forecast.coverage_factor, _GRAVITY_STEPS, _MOST_ROWS)
    volumes = _axis(columns, forecast.coverage_factor, _VOLUME_STEPS, _MOST_COLUMNS, unit)
    cells = tuple(tuple(corrector.correct({VOLUME: v, GRAVITY: g}) for v in volumes) for g in gravities)
    return CorrectionTable(place, forecast.target, rows, columns, gravities, volumes, cells)

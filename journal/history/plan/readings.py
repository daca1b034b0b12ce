"""What the readings of the day are expected to show, from the first wort to the fermenter."""

from __future__ import annotations

import numpy as np

from journal.balance.priors import Priors
from journal.figures import BatchFigures
from journal.figures.instruments import Deviations
from journal.history.plan.correct import Range
from journal.history.plan.forecast import forecast_of
from journal.measures import Gravity, Measure, Scale
from journal.numerics import variances
from journal.reading import Batch
from journal.reading.instruments import Instruments
from journal.reading.known_readings import AT_STATIONS, VOLUME

#: What is read on the day, by figure, in the order of the work.
READINGS = {reading.figure: reading for reading in AT_STATIONS}


def expected_readings(
    batch: Batch, recorded: BatchFigures, priors: Priors, instruments: Instruments | None = None
) -> dict[str, Range]:
    """What instruments will show of a planned batch, by READINGS: L at 20 °C and SG.

    The intervals hold a reading nine times in ten, its own error included; `recorded` is what is expected. Empty where
    grist or liquor is not known, or make no wort.
    """
    forecast = forecast_of(batch, recorded, priors)
    if forecast is None:
        return {}
    deviations = Deviations(instruments or Instruments())

    solution = forecast.solution
    values, doubts = solution.values(READINGS), variances(solution.slopes(READINGS), forecast.covariance)
    found = {}
    for (name, reading), value, variance in zip(READINGS.items(), values.tolist(), doubts.tolist(), strict=True):
        sd = (
            deviations.volume(Measure(value, "litre"))
            if reading.unit == VOLUME
            else deviations.gravity(Gravity(value, Scale.HYDROMETER))
        )
        half = forecast.coverage_factor * float(np.hypot(variance**0.5, sd))
        found[name] = Range(value, value - half, value + half, value)
    return found

"""What the readings of the day are expected to show, from the first wort to the fermenter."""

from __future__ import annotations

import numpy as np

from journal.balance.model import gravity_of
from journal.balance.priors import Priors
from journal.figures import BatchFigures
from journal.figures.instruments import Deviations
from journal.history.plan.correct import Range
from journal.history.plan.forecast import Forecast, forecast_of
from journal.measures import Gravity, Measure, Scale
from journal.numerics import Vector, jacobian, variances
from journal.reading import Batch
from journal.reading.brewery import Instruments

#: What is read on the day, by figure, in the order of the work; volumes end in `_volume`.
READINGS = (
    "first_wort_gravity",
    "kettle_volume",
    "kettle_gravity",
    "knockout_volume",
    "knockout_gravity",
    "fermenter_volume",
    "original_gravity",
)


def _shown(forecast: Forecast, state: Vector) -> Vector:
    found = forecast.at(state)[1]
    return np.array(
        [
            gravity_of(found.first_wort),
            found.kettle.volume,
            found.kettle.gravity,
            found.knockout.volume,
            found.knockout.gravity,
            found.fermenter.volume,
            found.fermenter.gravity,
        ]
    )


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

    def look(state: Vector) -> Vector:
        return _shown(forecast, state)

    found = {}
    rises = jacobian(look, forecast.state)
    spread = variances(rises, forecast.covariance).tolist()
    for name, value, variance in zip(READINGS, look(forecast.state).tolist(), spread, strict=True):
        of_volume = name.endswith("_volume")
        sd = (
            deviations.volume(Measure(value, "litre"))
            if of_volume
            else deviations.gravity(Gravity(value, Scale.HYDROMETER))
        )
        half = forecast.reach * float(np.hypot(variance**0.5, sd))
        found[name] = Range(value, value - half, value + half, value)
    return found

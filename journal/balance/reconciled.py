"""The figures of a batch from its reconciled readings, by the same catalogue as those recorded."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from journal.balance.equations import applies, look_of
from journal.balance.model import Model, Quantity
from journal.figures import CATALOGUE, BatchFigures, Result
from journal.figures.observe import GravityReading, Observed, VolumeReading
from journal.figures.propagate import contributions, nominal
from journal.figures.resolve import Resolver
from journal.figures.uncertain import Uncertain
from journal.measures import Scale
from journal.numerics import jacobian
from journal.numerics.least_squares import Fit
from journal.reading.known_readings import IN_BALANCE, VOLUME


def _quantities(model: Model, recorded: BatchFigures) -> dict[str, Quantity]:
    """What the balance says of each reading that was recorded, by the figure's name."""
    return {
        reading.figure: look_of(reading)
        for reading in IN_BALANCE
        if reading.figure in recorded.results and applies(reading, model.unknowns)
    }


def _uncertain(model: Model, found: Fit, looks: dict[str, Quantity]) -> dict[str, Any]:
    """Each quantity as a number that moves together with the others as the balance has it."""
    centre = model.values_of(looks.values(), found.state)
    # what one standard deviation along each independent direction does
    root = np.linalg.cholesky(found.covariance)
    slopes = jacobian(lambda states: model.values_of(looks.values(), states), found.state) @ root
    tags = [f"balance {k}" for k in range(root.shape[1])]
    return {
        name: Uncertain(float(centre[row]), dict(zip(tags, slopes[row].tolist(), strict=True)))
        for row, name in enumerate(looks)
    }


def reconciled_figures(
    model: Model, found: Fit, observed: dict[str, Observed], recorded: BatchFigures
) -> dict[str, Result]:
    """Every figure that could be computed as recorded, from the reconciled readings; correlations kept."""
    balanced = _uncertain(model, found, _quantities(model, recorded))
    observed = dict(observed)
    direct: dict[str, Any] = {}
    for reading in (each for each in IN_BALANCE if each.figure in balanced):
        value = balanced[reading.figure]
        if not reading.parameter:
            direct[reading.figure] = value
        elif reading.unit == VOLUME:
            observed[reading.parameter] = Observed(VolumeReading(value, None))
        else:
            observed[reading.parameter] = Observed(
                GravityReading(Scale.HYDROMETER.value, value, None, 20.0, None, None)
            )
    resolver = Resolver(observed)
    resolver.found |= {name: Observed(value) for name, value in direct.items()}
    results = {}
    for name in recorded.results:
        found_value = resolver.find(name)
        if not found_value.wanting:
            sd = math.hypot(*contributions(found_value.value).values())
            results[name] = Result(name, CATALOGUE[name].unit, nominal(found_value.value), sd, (), ())
    return results

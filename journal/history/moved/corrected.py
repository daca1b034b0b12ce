"""A balance with readings that are surely wrong put right, by what the instrument or the sheet is off by."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from journal.balance.model import Equation, Solution
from journal.balance.vessels import DEAD_SPACE_WATER, WATER
from journal.history.moved.causes import LIQUOR_MEASURE, MALT_LOT, MALT_SCALE, REFRACTOMETER
from journal.history.moved.signatures import (
    BY_MARKS,
    GRAVITIES,
    LATER_READINGS,
    POURED_AT,
    gravity_by_brix,
    gravity_instrument,
)
from journal.reading import Batch

_GRIST = "grains"


def _put_right(batch: Batch, equation: Equation, off: Mapping[str, float]) -> Equation:
    """One reading as it should have been."""
    recorded = equation.recorded
    if equation.path in GRAVITIES:
        instrument = gravity_instrument(batch, equation.path)
        by_unit = gravity_by_brix(recorded) if instrument == REFRACTOMETER else 1.0
        recorded -= by_unit * off.get(instrument, 0.0)
    elif equation.path in BY_MARKS:
        recorded /= 1.0 + off.get(BY_MARKS[equation.path], 0.0)
    elif equation.path in POURED_AT:
        recorded /= 1.0 + off.get(LIQUOR_MEASURE, 0.0)
    elif equation.path == _GRIST:
        recorded *= (1.0 - off.get(MALT_LOT, 0.0)) / (1.0 + off.get(MALT_SCALE, 0.0))
    return equation._replace(recorded=recorded)


def corrected(batch: Batch, at: Solution, off: Mapping[str, float]) -> Solution:
    """The balance with what each cause is `off` by taken out of the readings: sizes as `CAUSES` has them, of the malt the
    relative deficit of the whole grist's extract. Its state stays that of the readings as written, to be worked out anew.
    """
    model, fit = at.model, at.fit
    equations = tuple(_put_right(batch, equation, off) for equation in model.equations)
    grain = 1.0 / (1.0 + off.get(MALT_SCALE, 0.0))
    unknowns = model.named(fit.state)
    column = {name: index for index, name in enumerate(model.unknowns)}
    # grain that was not there holds no water and brings none: as if the dead space, and the liquor, were smaller by so much
    unlike = {
        "dead_space": model.facts.grain * unknowns["water_held"] / DEAD_SPACE_WATER,
        "mash_liquor": model.facts.moisture / WATER,
    }
    later = np.array([equation.path in LATER_READINGS for equation in equations])
    predicted = fit.predicted.copy()
    for name, amount in unlike.items():
        if name in column:
            predicted -= np.where(later, fit.slopes[:, column[name]] * amount * (1.0 - grain), 0.0)
    facts = replace(
        model.facts,
        sheet=model.facts.sheet * grain * (1.0 - off.get(MALT_LOT, 0.0)),
        grain=model.facts.grain * grain,
        moisture=model.facts.moisture * grain,
    )
    recorded = np.array([equation.recorded for equation in equations])
    return Solution(
        replace(model, equations=equations, facts=facts),
        replace(fit, predicted=predicted, residuals=recorded - predicted),
    )

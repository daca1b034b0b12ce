"""A balance with readings that are surely wrong put right, by what the instrument or the sheet is off by."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from journal.balance.model import DEAD_SPACE_WATER, WATER, Equation
from journal.balance.own import LinearBalance
from journal.history.moved.causes import LIQUOR_MEASURE, MALT_LOT, MALT_SCALE, REFRACTOMETER
from journal.history.moved.signatures import BY_MARKS, GRAVITIES, POURED_AT, gravity_by_brix, gravity_instrument
from journal.numerics import Vector
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


def corrected(batch: Batch, at: LinearBalance, off: Mapping[str, float]) -> LinearBalance:
    """The balance with what each cause is `off` by taken out of the readings: sizes as `CAUSES` has them, of the malt the
    relative deficit of the whole grist's extract. Its state stays that of the readings as written, to be worked out anew.
    """
    less_grain = 1.0 - 1.0 / (1.0 + off.get(MALT_SCALE, 0.0))
    grist = (1.0 - off.get(MALT_LOT, 0.0)) * (1.0 - less_grain)
    column = {name: index for index, name in enumerate(at.unknowns)}
    # grain that was not there holds no water and brings none: as if the dead space, and the liquor, were smaller by so much
    held = at.facts.grain * at.named(at.state)["water_held"] / DEAD_SPACE_WATER
    unlike: Vector = np.zeros(len(at.predicted))
    for name, amount in (("dead_space", held), ("mash_liquor", at.facts.moisture / WATER)):
        if name in column:
            unlike = unlike - at.slopes[:, column[name]] * amount
    rows = np.array([not e.expectation and e.path != _GRIST and e.path not in POURED_AT for e in at.equations])
    return replace(
        at,
        equations=tuple(_put_right(batch, equation, off) for equation in at.equations),
        predicted=at.predicted + np.where(rows, unlike * less_grain, 0.0),
        potential=at.potential * grist,
        facts=replace(
            at.facts, grain=at.facts.grain * (1.0 - less_grain), moisture=at.facts.moisture * (1.0 - less_grain)
        ),
    )

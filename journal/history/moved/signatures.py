"""What each instrument does to the readings after the mash when it shows too much.

A signature holds, for a move of one unit of the cause, what every later reading shows beyond what is expected of it. An
instrument that reads the wort shifts its own readings. One that measures what goes in makes all the others differ from what
they should be, for more was written down than there was.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

import numpy as np

from journal.balance.model import Solution
from journal.balance.vessels import DEAD_SPACE_WATER, WATER
from journal.history.moved.causes import (
    FERMENTER_MARKS,
    HYDROMETER,
    KETTLE_MARKS,
    LIQUOR_MEASURE,
    MALT_SCALE,
    REFRACTOMETER,
)
from journal.measures import Scale
from journal.numerics import Vector
from journal.reading import Batch
from journal.reading.known_readings import AT_STATIONS, FERMENTER, GRAVITY, IN_BALANCE, KETTLE, VOLUME
from journal.science import wort

#: The readings after the mash, in order: a signature has a place for each.
LATER_READINGS = tuple(reading.path for reading in AT_STATIONS)
GRAVITIES = frozenset(reading.path for reading in AT_STATIONS if reading.unit == GRAVITY)
#: The marks that a volume was read by.
BY_MARKS = {
    reading.path: {KETTLE: KETTLE_MARKS, FERMENTER: FERMENTER_MARKS}[reading.vessel]
    for reading in AT_STATIONS
    if reading.vessel
}
#: What is measured as liquor: unknowns of the balance by the reading that states them.
POURED_AT = {reading.path: reading.unknown for reading in IN_BALANCE if reading.unknown and reading.unit == VOLUME}


def gravity_instrument(batch: Batch, path: str) -> str:
    """The instrument that a gravity was read on."""
    held: object = batch
    for name in path.split("."):
        held = getattr(held, name, None)
    return REFRACTOMETER if getattr(held, "scale", None) is Scale.BRIX else HYDROMETER


def gravity_by_brix(gravity: float) -> float:
    """How fast a gravity, SG, rises with what a refractometer shows, °Bx; its wort factor, near 1, is left out."""
    return 1.0 / wort.plato_slope(gravity)


def signatures_of(
    batch: Batch, at: Solution, shown: Vector, extract: Vector, by: Callable[[str], Vector]
) -> Mapping[str, Vector]:
    """The signature of each instrument, by cause, a place for each of LATER_READINGS.

    `shown`: what the model says the readings show, SG and L, 0 where nothing was read. `extract`: derivatives by a relative
    change of the grist's extract. `by`: derivatives by an unknown of the balance.
    """
    read = shown > 0
    found: dict[str, Vector] = {}
    for instrument in (HYDROMETER, REFRACTOMETER, KETTLE_MARKS, FERMENTER_MARKS):
        found[instrument] = np.zeros(len(LATER_READINGS))
    for place, path in enumerate(LATER_READINGS):
        if not read[place]:
            continue
        if path in GRAVITIES:
            instrument = gravity_instrument(batch, path)
            by_brix = instrument == REFRACTOMETER
            found[instrument][place] = gravity_by_brix(float(shown[place])) if by_brix else 1.0
        else:
            found[BY_MARKS[path]][place] = shown[place]
    unknowns = at.model.named(at.fit.state)
    poured = [by(name) * unknowns[name] for name in POURED_AT.values()]
    found[LIQUOR_MEASURE] = -sum(poured, np.zeros(len(LATER_READINGS)))
    # grain that was not there gave no extract, held no water and brought none
    facts = at.model.facts
    held = facts.grain * unknowns["water_held"] / DEAD_SPACE_WATER
    found[MALT_SCALE] = -(extract + by("dead_space") * held + by("mash_liquor") * facts.moisture / WATER)
    return found

"""A mash that gave two worts or more, as the record has it: one point, where the grist stands.

No balance is struck over two kettles, so its values are those of the readings as recorded; what its grist and volumes explain
of them is that of a well-mixed bed through which all the liquor of all its worts went.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from math import fsum

from journal.balance.vessels import DEAD_SPACE_WATER, WATER, rinse
from journal.figures import BatchFigures, Result
from journal.figures.uncertain import ErrorKind
from journal.history.usual import UsualValues
from journal.numerics import Estimate
from journal.reading import Batch
from journal.science.mash import run_offs_of

_FIGURES = ("lauter_efficiency", "mash_efficiency", "brewhouse_efficiency")


def shared_values(
    batch: Batch, figures: Mapping[str, BatchFigures], usual: UsualValues, method: str
) -> tuple[dict[str, Estimate], dict[str, Estimate]]:
    """The values of all worts of a batch's mash together, and what is left of them after grist and volumes; both may be empty.

    The sheet's error is left out of the uncertainties, for all batches of one lot share it.
    """
    own = figures[batch.id]
    values = {name: _by_itself(result) for name in _FIGURES if (result := own.get(name))}
    explained = _explained(batch, figures, usual, method)
    if not explained:
        return {}, {}
    left = {name: Estimate(value.value - explained[name], value.sd) for name, value in values.items()}
    return values, left


def _by_itself(result: Result) -> Estimate:
    parts = (sd for source, sd in result.parts if source.kind is not ErrorKind.EXTRACT)
    return Estimate(result.value, math.hypot(*parts))


def _explained(batch: Batch, figures: Mapping[str, BatchFigures], usual: UsualValues, method: str) -> dict[str, float]:
    worts = [figures[each.id] for each in (batch, *batch.relatives.seconds) if each.id in figures]
    own, expected = figures[batch.id], usual.expected[method]
    needed = [own.get(name) for name in ("grain_weight", "grain_moisture", "mash_liquor")]
    sparges = [wort.get("sparge_liquor") for wort in worts]
    volumes = [wort.get("knockout_volume") or wort.get("fermenter_volume") for wort in worts]
    if not all([*needed, *sparges, *volumes]):
        return {}
    grain, moisture, liquor = (result.value if result else 0.0 for result in needed)
    sparge = fsum(result.value for result in sparges if result) * WATER
    left = expected.water_held.mean * grain + expected.dead_space.mean * DEAD_SPACE_WATER
    behind = rinse(
        1.0, left, liquor * WATER + moisture, sparge, run_offs_of(batch.lauter.method, len(batch.lauter.fillings))
    )
    lauter = 1.0 - behind - usual.shortfall.get(method, 0.0)
    passed = 1.0 - usual.kettle_loss * len(worts) / fsum(result.value for result in volumes if result)
    return {
        "lauter_efficiency": lauter,
        "mash_efficiency": usual.conversion * lauter,
        "brewhouse_efficiency": usual.conversion * lauter * passed,
    }

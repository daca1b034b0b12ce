"""What one batch says by itself, without what its brewhouse led to expect: the numbers that a record is made of.

A reconciled value leans on the brewhouse's past, and so would hide a change from those who look for one. Here conversion and
lautering are set free again and the balance is struck once more (one linear step from where it stood); what remains of the past is how
much water the grain holds and what the vessels keep. Everything is reckoned by the malt's sheet; the sheet's own error is left out
of the uncertainties, for all batches of one lot share it.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from journal.balance.evidence import Evidence
from journal.balance.fit import Fit, Vector
from journal.balance.foresee import quantities, values_and_variances
from journal.balance.model import Model, rinsed, vessels, water_in_mash
from journal.figures import BatchFigures

#: An expectation set free: so wide that it says nothing.
_FREE = 0.5
#: For conversion alone, how far the bed may stray beyond what the record says of it.
_BED_STRAYS = 0.012
#: A value vaguer than this tells a record nothing.
_VAGUE = 0.06


@dataclass(frozen=True)
class OwnWord:
    """One batch's own values by figure, each with the uncertainty that is its own; and what explains part of them.

    `bed` is the lauter efficiency of a well-mixed bed for this grist and these volumes, `knockout_volume` L at 20 °C.
    """

    values: dict[str, Evidence]
    bed: float
    knockout_volume: float


def _reweighed(model: Model, at: Fit, free: dict[str, float]) -> Fit:
    """The fit with some expectations given another standard deviation: one linear step."""
    sd = np.array([max(free[e.path], e.sd) if e.path in free else e.sd for e in model.equations])
    scaled = at.slopes / sd[:, None]
    covariance: Vector = np.linalg.inv(scaled.T @ scaled)
    state = at.state + covariance @ scaled.T @ (at.residuals / sd)
    return Fit(state, covariance, at.predicted, at.slopes, at.residuals, at.redundancy, at.strain, 0.0, 0)


def own_word(model: Model, at: Fit, recorded: BatchFigures) -> OwnWord | None:
    """What a balanced batch says by itself; None where the mash was not recorded."""
    if "water_held" not in model.unknowns:
        return None
    looks = quantities(recorded["potential_extract"].value)
    freed = _reweighed(model, at, {"expected conversion": _FREE, "expected shortfall": _FREE})
    values, variances = values_and_variances(model, freed, looks)
    # conversion can rest on the kettle too, as far as the bed is known
    mash_alone = _reweighed(model, at, {"expected conversion": _FREE, "expected shortfall": _BED_STRAYS})
    leaning, leaning_variances = values_and_variances(model, mash_alone, looks)
    said = {}
    for index, name in enumerate(looks):
        value, variance = values[index], variances[index]
        if name == "conversion_efficiency":
            value, variance = leaning[index], leaning_variances[index]
        if name not in recorded.results and name not in {"conversion_efficiency", "mash_efficiency"}:
            continue
        if not name.endswith("efficiency") or variance**0.5 < _VAGUE:
            said[name] = Evidence(float(value), float(variance**0.5))
    named = model.named(freed.state)
    state = vessels(named, model.facts)
    behind = rinsed(1.0, state.left_water, *water_in_mash(named, model.facts), model.facts.run_offs)
    return OwnWord(said, 1.0 - behind, state.knockout.volume)

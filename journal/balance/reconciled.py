"""The figures of a batch from its reconciled readings, by the same catalogue as those recorded."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from journal.balance.equations import READINGS
from journal.balance.model import Model, Quantity
from journal.figures import CATALOGUE, BatchFigures, Result
from journal.figures.observe import GravityReading, Observed, VolumeReading
from journal.figures.propagate import contributions, nominal
from journal.figures.resolve import Resolver
from journal.figures.uncertain import Uncertain
from journal.measures import Scale
from journal.numerics import jacobian
from journal.numerics.least_squares import Fit

#: The reading's name among the figures' parameters, by the figure that corrects it.
_LEAVES = {
    "mash_liquor": "mash_liquor_reading",
    "sparge_liquor": "lauter_liquor",
    "first_wort_gravity": "mash_first_wort",
    "kettle_volume": "boil_before_volume",
    "kettle_gravity": "boil_before_gravity",
    "knockout_volume": "boil_after_volume",
    "knockout_gravity": "boil_after_gravity",
    "fermenter_volume": "fermenter_volume_reading",
    "original_gravity": "fermenter_gravity",
}
_JOINED = {"kettle_sugar": "kettle_added_extract", "fermenter_sugar": "fermenter_added_extract"}
#: Top-ups are readings without a figure of their own.
_TOP_UPS = {"top_up": "boil_top_up", "fermenter_top_up": "fermenter_top_up"}


def _quantities(model: Model, recorded: BatchFigures) -> dict[str, Quantity]:
    """What the balance says of each reading that was recorded, by the figure's name."""
    looks = {r.figure: r.look for r in READINGS if r.figure in recorded.results and r.applies(model.unknowns)}
    for name, figure in (_JOINED | _TOP_UPS).items():
        if name in model.unknowns:
            looks[figure] = lambda u, s, name=name: u[name]  # type: ignore[misc]
    return looks


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
    for name, value in balanced.items():
        if name in _TOP_UPS.values():
            observed[name] = Observed(VolumeReading(value, None))
        elif name not in _LEAVES:
            direct[name] = value
        elif CATALOGUE[name].unit == "L":
            observed[_LEAVES[name]] = Observed(VolumeReading(value, None))
        else:
            observed[_LEAVES[name]] = Observed(GravityReading(Scale.HYDROMETER.value, value, None, 20.0, None, None))
    resolver = Resolver(observed)
    resolver.found |= {name: Observed(value) for name, value in direct.items()}
    results = {}
    for name in recorded.results:
        found_value = resolver.find(name)
        if not found_value.wanting:
            sd = math.hypot(*contributions(found_value.value).values())
            results[name] = Result(name, CATALOGUE[name].unit, nominal(found_value.value), sd, (), ())
    return results

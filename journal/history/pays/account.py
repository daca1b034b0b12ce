"""The extract account of one batch: where its grist's potential stayed behind, by the model that judges batches."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np

from journal.balance.vessels import DEAD_SPACE_WATER, Facts, rinse, vessels, water_in_mash
from journal.numerics import Vector

#: What a brewhouse does, by the names of `Priors`: the columns of whatever is worked out from it.
HABITS = ("conversion", "water_held", "dead_space", "shortfall", "boil_off", "kettle_loss")
Unknowns = dict[str, Any]
Brewing = tuple[Unknowns, Facts]


def account(u: Unknowns, facts: Facts) -> Vector:
    """Shares of the grist's potential: not dissolved, in the spent grain, the dead space, the kettle, and in the fermenter; they make 1.

    `u`: the balance's unknowns by name, `potential_extract` the sheet's; they and the facts are numbers, or arrays of one shape, which
    gives 5 × that shape. The last wort fills the dead space; what the bed lags behind a well-mixed one stays with the grain. Source:
    mass balance.
    """
    state = vessels(u, facts)
    mash_water, sparge_water = water_in_mash(u, facts)
    in_last_wort = rinse(state.dissolved, state.left_water, mash_water, sparge_water, facts.run_offs)
    dead = in_last_wort * (u["dead_space"] * DEAD_SPACE_WATER) / state.left_water
    kettle = state.kettle.extract - state.early
    parts = (
        state.sheet - state.dissolved,
        state.dissolved - kettle - dead,
        dead,
        kettle * (1.0 - state.fermenter_share),
        kettle * state.fermenter_share,
    )
    return np.stack(np.broadcast_arrays(*(np.asarray(part / state.sheet, dtype=np.float64) for part in parts)))


def rinsed_without_end(dissolved: Any, left: Any, mash_water: Any, sparge_water: Any) -> Any:
    """Extract left behind, kg, by a well-mixed bed that keeps `left` kg of water, the sparge split into ever more equal fillings.

    All in kg, numbers or arrays. No way of filling and draining such a bed leaves less: halves leave more than thirds, and so on; their
    limit is an exponential. Source: mass balance; C. J. N. Balling, *Die Bierbrauerei*, on halves and thirds.

    >>> round(float(rinsed_without_end(1.0, 7.0, 18.0, 15.0)), 4)
    0.0456
    """
    return dissolved * left / mash_water * np.exp(-np.maximum(sparge_water, 0.0) / left)


def physical_limit(brewing: Brewing) -> Vector:
    """The account, 5 shares, of a batch with everything dissolved, the bed rinsed without end, dead space and trub empty; liquor and
    grist as they were.
    """
    u, facts = brewing
    left = u["water_held"] * facts.grain
    mash_water, sparge_water = water_in_mash(u, facts)
    behind = rinsed_without_end(1.0, left, mash_water, sparge_water)
    none = 0.0 * behind
    return np.stack([none, behind, none, none, 1.0 - behind])


def with_habits(brewing: Brewing, habits: Vector) -> Brewing:
    """A batch brewed by other habits: 6 of HABITS, or 6 × k for k of them at once; its grist counts as its sheet says."""
    u, facts = brewing
    return u | dict(zip(HABITS, habits, strict=True)) | {"potential_extract": facts.sheet}, replace(facts)

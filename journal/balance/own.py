"""What one batch says by itself, without what its brewhouse led to expect: the numbers that a record is made of.

A reconciled value leans on what its brewhouse led to expect on that day, and so would hide a change from those who look for
one, or make one where the past was still being learnt. Here conversion and lautering are set free, and everything else is
expected as the record has it on the whole, the same for every batch; the balance is worked out once more, in one linear step
from where it stood. Everything is reckoned by the malt's sheet; the sheet's own error is left out of the uncertainties, for
all batches of one lot share it.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

import numpy as np

from journal.balance.model import Solution
from journal.balance.priors import Priors, by_size
from journal.balance.vessels import rinse, water_in_mash
from journal.figures import CATALOGUE
from journal.numerics import Estimate, Matrix, Vector, variances

#: What a record is made of, by figure; conversion first, for it may lean on more.
OWN_FIGURES = ("conversion_efficiency", "lauter_efficiency", "mash_efficiency", "brewhouse_efficiency", "boil_off")
#: What a balance knows of any mash, whether the entry's readings gave it or not.
_FROM_THE_MASH = frozenset({"conversion_efficiency", "mash_efficiency"})
#: An expectation set free: so wide, in its own unit, that it says nothing.
_FREE = 5.0
#: A value vaguer than this tells a record nothing.
_VAGUE = 0.06


@dataclass(frozen=True)
class OwnEstimates:
    """One batch's own values by figure, each with the uncertainty that is its own; and what explains part of them.

    `bed` is the lauter efficiency of a well-mixed bed for this grist and these volumes, `knockout_volume` L at 20 °C.
    """

    values: dict[str, Estimate]
    bed: float
    knockout_volume: float


def _expect_anew(at: Solution, usual: Priors, free: frozenset[str]) -> tuple[Vector, Matrix]:
    """State, n, and covariance, n × n, with the expectations of `usual` for its own, those in `free` saying nothing.

    One linear step from where the balance stood.
    """
    fit = at.fit
    recorded, sd = fit.predicted + fit.residuals, fit.sd.copy()
    for row, equation in enumerate(at.model.equations):
        if equation.expected in free:
            sd[row] = max(_FREE, sd[row])
        elif expected := getattr(usual, equation.expected, None) if equation.expected else None:
            recorded[row], sd[row] = expected.mean, expected.sd
    scaled = fit.slopes / sd[:, None]
    covariance: Matrix = np.linalg.inv(scaled.T @ scaled)
    return fit.state + covariance @ scaled.T @ ((recorded - fit.predicted) / sd), covariance


def own_estimates(at: Solution, usual: Priors, recorded: Collection[str]) -> OwnEstimates:
    """What a balanced batch says by itself, from its mash on.

    `usual` is what is expected of any batch of the brewhouse, `recorded` the figures that the entry's readings gave.
    """
    model = at.model
    usual = by_size(usual, at.brew_size)
    freed, covariance = _expect_anew(at, usual, frozenset({"conversion", "shortfall", "boil_off", "kettle_loss"}))
    # conversion can rest on the kettle too, as far as beds are alike
    leaning, leaning_covariance = _expect_anew(at, usual, frozenset({"conversion"}))
    values, slopes = model.values_of(OWN_FIGURES, freed), at.slopes(OWN_FIGURES)
    sds = np.sqrt(variances(slopes, covariance))
    values[0] = model.values_of(OWN_FIGURES, leaning)[0]
    sds[0] = variances(slopes[:1], leaning_covariance)[0] ** 0.5
    own = {
        name: Estimate(value, sd)
        for name, value, sd in zip(OWN_FIGURES, values.tolist(), sds.tolist(), strict=True)
        if (name in recorded or name in _FROM_THE_MASH) and (CATALOGUE[name].unit != "1" or sd < _VAGUE)
    }
    u, state = model.at(freed)
    behind = rinse(1.0, state.left_water, *water_in_mash(u, model.facts), model.facts.run_offs)
    return OwnEstimates(own, 1.0 - behind, state.knockout.volume)

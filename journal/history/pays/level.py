"""What a brewhouse does on the mean of its latest batches, all that it does together with how well it is known.

Every balanced batch says something of conversion, water held, dead space, shortfall, boil-off and kettle loss at once; what one batch
can't tell apart, as the dead space from the water held, batches of other sizes do. So the batches' information is added up as matrices,
the spread from batch to batch put between, and what the brewer states or common practice expects counted once, not with each batch (a
linear model of random effects; D. V. Lindley & A. F. M. Smith, J. R. Statist. Soc. B 34 (1972) 1).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from journal.balance.model import Solution
from journal.balance.priors import Priors, by_size, usual_spread
from journal.frozen import dataclass
from journal.history.learn import level
from journal.history.pays.account import HABITS, Brewing
from journal.numerics import Estimate, Matrix, Vector

#: A spread learnt can't make a mean better known than by this share of what an expectation is uncertain by.
_LEAST_DOUBT = 0.3


@dataclass(frozen=True)
class BatchWord:
    """What one batch says of HABITS by its readings alone: information, 6 × 6, and information times value, 6; and how it was brewed."""

    information: Matrix
    weighted: Vector
    brewing: Brewing
    kettle: float


@dataclass(frozen=True)
class MeanHabits:
    """The mean of what a brewhouse does, 6 of HABITS, its covariance, 6 × 6, each batch's own best estimate, n × 6; `freedom` for
    intervals.
    """

    mean: Vector
    covariance: Matrix
    each: Matrix
    freedom: float


def word_of(at: Solution) -> BatchWord:
    """A balanced batch's own word, what was expected of its brewhouse left out; conversion is by its sheet.

    Raises LinAlgError where its readings can't be told apart at all.
    """
    model, fit = at.model, at.fit
    state = model.named(fit.state)
    column = {name: place for place, name in enumerate(model.unknowns)}
    slopes = fit.slopes.copy()
    # of conversion and potential only the product shows: the one by the sheet takes the place of both
    conversion, potential = column["conversion"], column["potential_extract"]
    scale = model.facts.sheet / state["potential_extract"]
    slopes[:, potential] -= slopes[:, conversion] * state["conversion"] / state["potential_extract"]
    slopes[:, conversion] *= scale
    own = np.array([equation.expected not in HABITS for equation in model.equations])
    scaled = slopes[own] / fit.sd[own, None]
    residuals = fit.residuals[own] / fit.sd[own]
    places = [column[name] for name in HABITS]
    others = [place for place in range(len(model.unknowns)) if place not in places]
    whole, pull = scaled.T @ scaled, scaled.T @ residuals
    cross = np.linalg.solve(whole[np.ix_(others, others)], whole[np.ix_(others, places)])
    information = whole[np.ix_(places, places)] - whole[np.ix_(places, others)] @ cross
    here = fit.state[places].copy()
    here[0] /= scale
    weighted = pull[places] - cross.T @ pull[others] + information @ here
    return BatchWord(information, weighted, (state, model.facts), at.brew_size)


def mean_habits(words: Sequence[BatchWord], said: Sequence[Mapping[str, Estimate]], usual: Priors) -> MeanHabits:
    """The mean over batches that each said something; `said` are their balances' evidence, for how much one differs from the next.

    `usual`: what is expected of the brewhouse before any of them.
    """
    expected, doubt = _expected(by_size(usual, float(np.mean([word.kettle for word in words]))))
    spread = np.array([_spread(name, said) for name in HABITS]) ** 2
    information, weighted = np.diag(1.0 / doubt), expected / doubt
    for word in words:
        # information beside a spread: (I⁻¹ + S)⁻¹ without asking that I can be inverted
        between = np.linalg.inv(np.eye(len(HABITS)) + word.information * spread)
        information = information + between @ word.information
        weighted = weighted + between @ word.weighted
    covariance = np.linalg.inv(information)
    covariance = (covariance + covariance.T) / 2.0
    mean = covariance @ weighted
    each = np.array(
        [np.linalg.solve(word.information + np.diag(1.0 / spread), word.weighted + mean / spread) for word in words]
    )
    return MeanHabits(mean, covariance, each, len(words) + 3.0)


def _expected(priors: Priors) -> tuple[Vector, Vector]:
    """Means of what is expected, and the variances of the means: an expectation of a batch has the spread of batches in it."""
    found = [getattr(priors, name) for name in HABITS]
    doubt = [
        max(each.sd**2 - usual_spread(name) ** 2, (_LEAST_DOUBT * each.sd) ** 2)
        for name, each in zip(HABITS, found, strict=True)
    ]
    return np.array([each.mean for each in found]), np.array(doubt)


def _spread(name: str, said: Sequence[Mapping[str, Estimate]]) -> float:
    """Standard deviation from batch to batch."""
    values = [each[name] for each in said if name in each]
    return level(values, usual_spread(name)).spread if len(values) > 2 else usual_spread(name)

"""What one balanced batch says of its brewhouse: each expectation's value as this batch alone has it."""

from __future__ import annotations

from journal.balance.model import Model
from journal.numerics import Estimate
from journal.numerics.least_squares import Fit

#: Below this share of its own the batch adds to what was expected nothing worth keeping.
_LEAST_GAIN = 0.02
_NOT_OF_THE_BREWHOUSE = frozenset({"kettle_marks", "wort_factor", "mash_efficiency"})


def evidence_of(model: Model, found: Fit) -> dict[str, Estimate]:
    """By the names of `Priors`, what this batch says by itself; nothing where it says nothing.

    The balance has weighed the expectation with the batch's readings; dividing it out of the result leaves the
    readings' part (for normal distributions, the difference of the inverse variances).
    """
    said = {}
    for index, equation in enumerate(model.equations):
        name = equation.path.removeprefix("expected ")
        if not equation.expectation or name in _NOT_OF_THE_BREWHOUSE:
            continue
        information = 1.0 / float(found.slopes[index] @ found.covariance @ found.slopes[index])
        expected = 1.0 / equation.sd**2
        own = information - expected
        if own > _LEAST_GAIN * expected:
            value = (information * float(found.predicted[index]) - expected * equation.recorded) / own
            said[name] = Estimate(value, own**-0.5)
    return said

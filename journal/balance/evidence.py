"""What one balanced batch says of its brewhouse: each expectation's value as this batch alone has it."""

from __future__ import annotations

from journal.balance.model import Solution
from journal.numerics import Estimate, variances

#: Below this share of its own the batch adds to what was expected nothing worth keeping.
_LEAST_GAIN = 0.02
_NOT_OF_THE_BREWHOUSE = frozenset({"kettle_marks", "wort_factor", "mash_efficiency"})


def evidence_of(solution: Solution) -> dict[str, Estimate]:
    """By the names of `Priors`, what this batch says by itself; nothing where it says nothing.

    The balance has weighed the expectation with the batch's readings; dividing it out of the result leaves the
    readings' part (for normal distributions, the difference of the inverse variances).
    """
    fit = solution.fit
    evidence = {}
    for index, (equation, variance) in enumerate(
        zip(solution.model.equations, variances(fit.slopes, fit.covariance).tolist(), strict=True)
    ):
        if not equation.expected or equation.expected in _NOT_OF_THE_BREWHOUSE:
            continue
        information, expected = 1.0 / variance, 1.0 / equation.sd**2
        own = information - expected
        if own > _LEAST_GAIN * expected:
            value = (information * float(fit.predicted[index]) - expected * equation.recorded) / own
            evidence[equation.expected] = Estimate(value, own**-0.5)
    return evidence

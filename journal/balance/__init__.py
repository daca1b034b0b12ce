"""The readings of one batch reconciled, and the one that lies.

In: a `Batch`, its figures as recorded, and what is expected of its brewhouse as plain values (`Priors`). Out: a
`Balance`: the verdict, the reconciled figures, the slip that would explain a broken one, and what the batch says of its
brewhouse. `Balance.solution` has its equations with their residuals, slopes and covariance. Imports `figures`, `reading`,
`measures`, `problems`, `science`, `numerics`.
"""

from journal.balance.balance import Balance, Flow, balance_of
from journal.balance.priors import Expectation, Priors, common_practice
from journal.balance.verdict import BROKEN, CLOSES, STRAINED, TOO_FEW, Balanced, Verdict
from journal.numerics import LEVEL

__all__ = [
    "BROKEN",
    "CLOSES",
    "LEVEL",
    "STRAINED",
    "TOO_FEW",
    "Balance",
    "Balanced",
    "Expectation",
    "Flow",
    "Priors",
    "Verdict",
    "balance_of",
    "common_practice",
]

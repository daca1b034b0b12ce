"""The readings of one batch reconciled, and the one that lies.

In: a `Batch`, its figures as recorded, and what is expected of its brewhouse as plain values (`Priors`). Out: a
`Balance`: the verdict, the reconciled figures, the slip that would explain a broken one, and what the batch says of its
brewhouse. `Balance.solution` has its equations with their residuals, slopes and covariance. Imports `figures`, `reading`,
`measures`, `problems`, `science`, `numerics`.

It goes one way: `priors` and `equations` make a `BalanceModel` of plain values, `model.solve` its `Solution`, `verdict` judges
it, `suspects` and `went_in` say what would restore a broken one, `slips` what was done to the reading. Evidence, own values,
reconciled figures and flows are read off the solution. What leaving out a reading or an expectation does follows from its one
factorisation (`Fit.without`, Sherman–Morrison); only what might be told is worked out again. Expectations by the size of the
brew stay those of the kettle as it was read, whoever is left out. Where giving up one expectation reconciles the readings as well
as giving up the best suspect would, nobody is accused: the brewhouse may have changed, and the batch teaches.
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

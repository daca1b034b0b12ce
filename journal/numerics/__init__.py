"""The numerical core: what balance, figures and history share when they reckon with uncertain numbers.

In: plain numbers, arrays, functions of them. Out: a value with its standard uncertainty (`Estimate`), slopes (`jacobian`,
`slope`), robust weights (`reweighted`), a least-squares fit that knows what its readings are worth (`fit`), quantiles and
tails and coverage factors (`distributions`). Knows nothing of beer. Imports nothing of ours.
"""

from journal.numerics.arrays import Mask, Matrix, Places, Vector, stacked
from journal.numerics.distributions import LEVEL, coverage_factor
from journal.numerics.estimate import Estimate
from journal.numerics.slopes import jacobian, slope, variances

__all__ = [
    "LEVEL",
    "Estimate",
    "Mask",
    "Matrix",
    "Places",
    "Vector",
    "coverage_factor",
    "jacobian",
    "slope",
    "stacked",
    "variances",
]

"""What would restore a broken balance if it were left out: a reading that lies, or a habit that the brewhouse has given up.

All of it follows from the one factorisation of the whole balance (`Fit.without`), exactly as far as the model is straight from
there to where the rest agrees.
"""

from __future__ import annotations

import numpy as np

from journal.balance.model import Solution, solve
from journal.balance.verdict import BROKEN_AT, TOLD_APART, Suspect, p_value
from journal.numerics import variances
from journal.numerics.least_squares import NoSolution

#: What a brewhouse is expected to do, and may stop doing: another crush, another burner, another way of lautering. By
#: name, the least and the most that is common, widely taken (common practice); of the last two as shares of the kettle.
CHANGEABLE = {
    "conversion": (0.70, 1.0),
    "water_held": (0.7, 2.0),
    "shortfall": (-0.03, 0.2),
    "boil_off": (0.04, 0.25),
    "kettle_loss": (0.0, 0.15),
}
_BY_SIZE = frozenset({"boil_off", "kettle_loss"})
#: Suspects that are named.
_MOST_NAMED = 4
#: A sum of squares within this of the least one might be the least, were it worked out in full.
_CONTENDS = 3.0 * TOLD_APART


def leave_out(whole: Solution, row: int) -> Suspect | None:
    """What leaving out one equation does, in closed form; None where nothing else speaks of it."""
    equation, freed = whole.model.equations[row], whole.fit.without(row)
    if freed is None:
        return None
    return Suspect(
        equation.path, equation.expected, equation.recorded, equation.sd, freed.value, freed.sd, freed.chi_square
    )


def solve_without(whole: Solution, accused: Suspect) -> tuple[Suspect, Solution]:
    """The balance without one equation worked out in full, and what is said of that equation then.

    Where it can't be, what the closed form says stays as it is, with the whole balance.
    """
    row = whole.row(path=accused.path, expected=accused.expected)
    if row is None:
        return accused, whole
    try:
        found = solve(whole.model.with_zero_weight(row), whole.fit.state)
    except NoSolution:
        return accused, whole
    sd = float(variances(found.fit.slopes[[row]], found.fit.covariance)[0] ** 0.5)
    needed = float(found.fit.predicted[row])
    return accused._replace(needed=needed, needed_sd=sd, chi_square=found.fit.chi_square), found


def suspects_of(whole: Solution) -> tuple[tuple[Suspect, ...], Solution]:
    """The readings likeliest to lie, the one that leaves the best balance first; and the balance without that one.

    Those that might be it are worked out in full, the rest in closed form.
    """
    equations = whole.model.equations
    likely = [row for row in np.argsort(-whole.fit.measurement_test).tolist() if equations[row].path][:_MOST_NAMED]
    tried = [(each, whole) for row in likely if (each := leave_out(whole, row))]
    least = min((each.chi_square for each, _ in tried), default=0.0)
    full = [
        solve_without(whole, each) if each.chi_square < least + _CONTENDS else (each, solution)
        for each, solution in tried
    ]
    full.sort(key=lambda pair: pair[0].chi_square)
    return tuple(each for each, _ in full), full[0][1] if full else whole


def change_of(whole: Solution, best_reading: float) -> Suspect | None:
    """The expectation that, given up, lets the readings agree as well as leaving out any one of them would; None if none.

    `best_reading` is the sum of squares that the best suspect leaves.
    """
    rows = [row for row, equation in enumerate(whole.model.equations) if equation.expected in CHANGEABLE]
    tried = [found for row in rows if (found := leave_out(whole, row)) and _plausible(found, whole.brew_size)]
    best = min(tried, key=lambda each: each.chi_square, default=None)
    if best is None or best.chi_square > best_reading + TOLD_APART:
        return None
    return best if p_value(best.chi_square, whole.fit.degrees_of_freedom - 1) >= BROKEN_AT else None


def _plausible(changed: Suspect, brew_size: float) -> bool:
    """Whether a brewhouse may do what a changed expectation says: within what is common, widely taken."""
    low, high = CHANGEABLE[changed.expected]
    scale = brew_size if changed.expected in _BY_SIZE else 1.0
    return low * scale <= changed.needed <= high * scale

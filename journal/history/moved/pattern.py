"""The pattern that a batch's readings make against what its brewhouse usually does: with `signatures.py` and `corrected.py`
the one place that knows how a balance is kept.

For the grist weighed and the liquor poured, the balance's model says what every later reading would have shown, had the
brewhouse done what it does on the whole. What the readings show beyond that is the batch's residuals; how they hang on each
habit of the brewhouse, on each instrument and on the malt are their derivatives, taken where the batch was balanced. These are
the constraint residuals of data reconciliation, solved for the readings after the mash.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

import numpy as np

from journal.balance import Priors
from journal.balance.model import Equation, Solution
from journal.balance.priors import by_size
from journal.figures import BatchFigures
from journal.figures.uncertain import ErrorKind
from journal.frozen import dataclass
from journal.history.moved.causes import HABITS
from journal.history.moved.signatures import GRAVITIES, LATER_READINGS, signatures_of
from journal.numerics import Vector
from journal.reading import Batch
from journal.reading.known_readings import BY_PATH, IN_BALANCE

_PLACE = {path: place for place, path in enumerate(LATER_READINGS)}
_IS_GRAVITY = np.array([path in GRAVITIES for path in LATER_READINGS])
#: Unknowns of the balance that the brewer states, by the reading that states them.
_STATED = {reading.unknown: reading.path for reading in IN_BALANCE if reading.unknown}


@dataclass(frozen=True)
class Pattern:
    """One batch: a row for each of LATER_READINGS, zeros where it was not read.

    `residual`: reading less what was to be expected, SG or L. `habits`: its derivatives by HABITS, a column each.
    `by_gravity`, `by_volume`, `by_weight`: covariances that the errors of gravities, of volumes and of the scale make of it.
    `signatures`: its derivatives by the size of each instrument's move. `extract`: by a relative change of the grist's
    extract. `kettle`: L in the full kettle.
    """

    batch: str
    method: str
    read: Vector
    residual: Vector
    habits: Vector
    by_gravity: Vector
    by_volume: Vector
    by_weight: Vector
    signatures: Mapping[str, Vector]
    extract: Vector
    kettle: float


def _reference(at: Solution, usual: Priors) -> tuple[Vector, dict[str, float]]:
    """The unknowns as stated and as usual, and the standard uncertainties of what was poured."""
    recorded = {equation.path: equation for equation in at.model.equations if equation.path}
    reference, poured = np.zeros(len(at.model.unknowns)), {}
    for index, name in enumerate(at.model.unknowns):
        expected, stated = getattr(usual, name, None), recorded.get(_STATED.get(name, ""))
        if expected is not None:
            reference[index] = expected.mean
        elif stated is not None:
            reference[index] = stated.recorded
            if name != "potential_extract":
                poured[name] = stated.sd
    return reference, poured


def _own_variance(equation: Equation, figures: BatchFigures) -> float:
    """Of a reading by itself: also of one that the batch's own balance gave up, for it may be the level that moved."""
    whole = figures[BY_PATH[equation.path].figure].sd
    return max(whole**2 - sum(part**2 for _, part in equation.shared), 0.0)


def pattern_of(batch: Batch, at: Solution, figures: BatchFigures, usual: Priors) -> Pattern:
    """The pattern of a batch that was balanced from its mash on, against what is `usual` of its brewhouse."""
    size, equations, fit = len(LATER_READINGS), at.model.equations, at.fit
    rows = [index for index, equation in enumerate(equations) if equation.path in _PLACE]
    places = [_PLACE[equations[index].path] for index in rows]
    column = {name: index for index, name in enumerate(at.model.unknowns)}

    def placed(values: Vector) -> Vector:
        found = np.zeros(size)
        found[places] = values
        return found

    @cache
    def by(name: str) -> Vector:
        return placed(fit.slopes[rows, column[name]]) if name in column else np.zeros(size)

    brew_size = at.brew_size
    reference, poured = _reference(at, by_size(usual, brew_size))
    expected = (fit.predicted + fit.slopes @ (reference - fit.state))[rows]
    residual = placed(np.array([equations[index].recorded for index in rows]) - expected)
    variance = placed(np.array([_own_variance(equations[index], figures) for index in rows]))
    potential = figures["potential_extract"]
    extract = by("potential_extract") * potential.value
    # the sheet's error is one for all batches of a lot, and so none of a batch's own
    weighing = np.hypot.reduce([0.0, *(sd for of, sd in potential.parts if of.kind is not ErrorKind.EXTRACT)])
    shared = [by("kettle_marks"), *(by(name) * sd for name, sd in poured.items())]
    by_volume = np.diag(np.where(_IS_GRAVITY, 0.0, variance)) + sum(np.outer(each, each) for each in shared)
    return Pattern(
        batch.id,
        (batch.lauter.method if batch.lauter else None) or "",
        placed(np.ones(len(rows))),
        residual,
        np.stack([by(name) for name in HABITS], axis=1),
        np.diag(np.where(_IS_GRAVITY, variance, 0.0)),
        by_volume,
        np.outer(extract, extract) * (weighing / potential.value) ** 2,
        signatures_of(batch, at, placed(fit.predicted[rows]), extract, by),
        extract,
        brew_size,
    )

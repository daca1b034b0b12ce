"""The pattern that a batch's readings make against what its brewhouse usually does: with `signatures.py` and `corrected.py`
the one place that knows how a balance is kept.

For the grist weighed and the liquor poured, the balance's model says what every later reading would have shown, had the
brewhouse done what it does on the whole. What the readings show beyond that is the batch's residuals; how they hang on each
habit of the brewhouse, on each instrument and on the malt are their derivatives, taken where the batch was balanced. These are
the constraint residuals of data reconciliation, solved for the readings after the mash.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from journal.balance import Priors
from journal.balance.model import vessels
from journal.balance.own import LinearBalance
from journal.balance.priors import by_size
from journal.figures import BatchFigures
from journal.history.moved.causes import HABITS
from journal.history.moved.signatures import GRAVITIES, LATER_READINGS, signatures_of
from journal.numerics import Vector
from journal.reading import Batch
from journal.reading.known_readings import IN_BALANCE

_PLACE = {path: place for place, path in enumerate(LATER_READINGS)}
_IS_GRAVITY = np.array([path in GRAVITIES for path in LATER_READINGS])
#: Unknowns of the balance that the brewer states, by the reading that states them.
_STATED = {reading.unknown: reading.path for reading in IN_BALANCE if reading.unknown}
#: What a malt's sheet says: its error is one for all batches of a lot, and so none of a batch's own.
_OF_THE_SHEET = (".extract", ".extract_as_is", ".moisture")


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


def _reference(at: LinearBalance, usual: Priors) -> tuple[Vector, dict[str, float]]:
    """The unknowns as stated and as usual, and the standard uncertainties of what was poured."""
    recorded = {equation.path: equation for equation in at.equations}
    reference, poured = np.zeros(len(at.unknowns)), {}
    for index, name in enumerate(at.unknowns):
        expected, stated = getattr(usual, name, None), recorded.get(_STATED.get(name, ""))
        if expected is not None:
            reference[index] = expected.mean
        elif stated is not None:
            reference[index] = stated.recorded
            if name != "potential_extract":
                poured[name] = stated.sd
    return reference, poured


def pattern_of(batch: Batch, at: LinearBalance, figures: BatchFigures, usual: Priors) -> Pattern:
    """The pattern of a batch that was balanced from its mash on, against what is `usual` of its brewhouse."""
    size = len(LATER_READINGS)
    kettle = vessels(at.named(at.state), at.facts).kettle.volume
    rows = [index for index, equation in enumerate(at.equations) if equation.path in _PLACE]
    places = [_PLACE[at.equations[index].path] for index in rows]
    column = {name: index for index, name in enumerate(at.unknowns)}

    def placed(values: Vector) -> Vector:
        found = np.zeros(size)
        found[places] = values
        return found

    def by(name: str) -> Vector:
        return placed(at.slopes[rows, column[name]]) if name in column else np.zeros(size)

    reference, poured = _reference(at, by_size(usual, kettle))
    expected = (at.predicted + at.slopes @ (reference - at.state))[rows]
    residual = placed(np.array([at.equations[index].recorded for index in rows]) - expected)
    variance = placed(np.array([at.equations[index].sd ** 2 for index in rows]))
    potential = figures["potential_extract"]
    extract = by("potential_extract") * potential.value
    weighing = np.hypot.reduce([0.0, *(sd for path, sd in potential.parts if not path.endswith(_OF_THE_SHEET))])
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
        signatures_of(batch, at, placed(at.predicted[rows]), extract, by),
        extract,
        kettle,
    )

"""What each lot of malt gave against its sheet."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from journal.history.levers.fit import fit
from journal.history.levers.rows import Row, lot_matrix
from journal.numerics import coverage_factor


@dataclass(frozen=True)
class LotEffect:
    """What a lot gave more than its sheet says, as a fraction of its extract, against the brewer's own other lots.

    `sd`: standard uncertainty; `low`, `high`: interval at LEVEL; `batches` that the lot went into.
    """

    lot: str
    effect: float
    sd: float
    low: float
    high: float
    batches: int


def lot_effects(rows: Sequence[Row], lot_sd: float) -> list[LotEffect]:
    """Each lot's departure from its sheet, in order of first use; none below three batches, or of sheets without error.

    `lot_sd`: standard uncertainty of a sheet, as a fraction of its extract. Before any brew a lot is expected to keep to its
    sheet within that; the brews pull the estimate from there by what they are worth (the best linear unbiased prediction of
    a mixed model, G. K. Robinson, Stat. Sci. 6 (1991) 15).
    """
    names, shares = lot_matrix(rows)
    if lot_sd == 0.0 or len(rows) < 3:
        return []
    values, sds = np.array([row.value for row in rows]), np.array([row.sd for row in rows])
    found = fit(np.ones((len(rows), 1)), values, sds, shares, lot_sd)
    factor = coverage_factor(found.degrees_of_freedom)
    errors = np.sqrt(np.diag(found.joint)[1:])
    batches = np.sum(shares > 0.0, axis=0)
    return [
        LotEffect(lot, float(effect), float(sd), float(effect - factor * sd), float(effect + factor * sd), int(count))
        for lot, effect, sd, count in zip(names, found.lots, errors, batches, strict=True)
    ]

"""The guard against the search: whoever tries many causes at many batches finds something in mere scatter.

What scatter makes of the same search is drawn: records of the same batches, grists, lots and instruments in which nothing
moved. What the real record shows must be rarer than RISK among them.
"""

from __future__ import annotations

import numpy as np

from journal.history.moved.causes import MALT_LOT
from journal.history.moved.ratio import MoveDesign, Moves
from journal.numerics import Vector
from journal.numerics.distributions import logsumexp

#: The share of drawn records in which nothing moved that pass as if something had. A real record's scatter is only estimated,
#: which makes it a little more in whole journals: `tests/history/moved_trials.py nothing`.
RISK = 0.05
_DRAWS = 600
_SEED = 1987


def strongest(moves: Moves, score: Vector) -> Vector:
    """The evidence of the likeliest cause, summed over when it may have begun; of several sets of scores (leading axis)."""
    evidence = moves.evidence(score) / 2.0
    named = np.array(
        [f"{cause} {of}" if cause == MALT_LOT else cause for cause, of in zip(moves.cause, moves.of, strict=True)]
    )
    by_cause = [logsumexp(evidence[..., named == name], axis=-1) for name in dict.fromkeys(named.tolist())]
    found: Vector = np.max(by_cause, axis=0)
    return found


def by_chance(design: MoveDesign, moves: Moves) -> Vector:
    """The strongest evidence in each of many records in which nothing moved, rising."""
    w = design.whitened
    rng = np.random.default_rng(_SEED)
    y = rng.standard_normal((_DRAWS, *w.y.shape))
    known = rng.standard_normal((_DRAWS, len(w.precision))) * np.sqrt(w.precision)
    nuisance = np.einsum("biq,dbi->dq", w.nuisance, y) + known
    return np.sort(strongest(moves, design.scores(y, nuisance, np.zeros(len(moves.cause)))))


def limit(chances: Vector, risk: float) -> float:
    """What only a share `risk` of records in which nothing moved pass."""
    return float(np.quantile(chances, 1.0 - risk))

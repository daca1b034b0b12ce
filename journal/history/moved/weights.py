"""How surely each cause explains a move, and what its size is."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from journal.history.moved.ratio import Moves
from journal.numerics import Places, Vector
from journal.numerics.distributions import logsumexp, stdtrit

#: Those listed hold together at least this much of the evidence.
LISTED = 0.95
#: A share of the evidence that is none.
_NOTHING = 1e-5
#: Of the intervals.
LEVEL = 0.90


class WeighedCause(NamedTuple):
    """One explanation of a move.

    `of`: the lot, else empty. `first`, `last`: places of batches. `weight`: its share of the evidence. `size` with its interval `low` to
    `high` at LEVEL and its standard uncertainty.
    """

    cause: str
    of: str
    first: int
    last: int
    weight: float
    size: float
    sd: float
    low: float
    high: float


def weighed_causes(moves: Moves, chosen: Sequence[int], place: int, batches: int) -> tuple[WeighedCause, ...]:
    """What explains the move at a place of those chosen, the others taken for real; all that may, likeliest first.

    Each cause's evidence is summed over when it may have begun, and its size taken over the same.
    """
    beside = moves.given([*chosen[:place], *chosen[place + 1 :]])
    evidence = beside.evidence(beside.score) / 2.0
    weight = np.exp(evidence - logsumexp(evidence, axis=-1))
    variance = 1.0 / (beside.known + beside.usual**-2.0)
    size = beside.score * variance
    reach = float(stdtrit(max(batches - 2, 1), (1.0 + LEVEL) / 2.0))
    named = list(zip(moves.cause, moves.of, strict=True))
    found = []
    for name in dict.fromkeys(named):
        of_it = np.array([each == name for each in named])
        whole = float(np.sum(weight[of_it]))
        if whole > _NOTHING:
            found.append(_weighed(moves, np.flatnonzero(of_it), weight / whole, whole, size, variance, reach))
    return tuple(sorted(found, key=lambda cause: -cause.weight))


def listed(causes: Sequence[WeighedCause]) -> Sequence[WeighedCause]:
    """Those that are told, LISTED together; `causes` likeliest first."""
    enough = int(np.searchsorted(np.cumsum([cause.weight for cause in causes]), LISTED)) + 1
    return causes[:enough]


def _weighed(
    moves: Moves, at: Places, share: Vector, whole: float, size: Vector, variance: Vector, reach: float
) -> WeighedCause:
    likeliest = int(at[np.argmax(share[at])])
    middle = float(share[at] @ size[at])
    sd = float(np.sqrt(share[at] @ (variance[at] + (size[at] - middle) ** 2)))
    return WeighedCause(
        moves.cause[likeliest],
        moves.of[likeliest],
        int(moves.first[likeliest]),
        int(moves.last[likeliest]),
        whole,
        middle,
        sd,
        middle - reach * sd,
        middle + reach * sd,
    )

"""The search for what moved: the strongest move, then another beside it, as long as scatter would hardly make them."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from journal.history.moved.guard import strongest
from journal.history.moved.ratio import Moves

#: More moves than this in one stretch of the record is a record that no level describes.
MOST = 6
#: Two patterns that share more than this of their squares can't both be asked for.
_ALIKE = 0.95
_ROUNDS = 4


def _together(moves: Moves, pair: Sequence[int]) -> float:
    """The evidence of two moves together, as `Moves.evidence` has it of one."""
    known = list(pair)
    prior = moves.usual[known] ** -2.0
    inner = moves.information[np.ix_(known, known)]
    ratio = moves.score[known] @ np.linalg.solve(inner + np.diag(prior), moves.score[known])
    cost = np.linalg.slogdet(np.eye(len(known)) + inner / prior[None, :])[1]
    return float(ratio - cost + 2.0 * np.sum(moves.choice[known]))


def _best_pair(moves: Moves) -> tuple[int, int]:
    """The two moves that explain most together."""
    prior = moves.usual**-2.0
    own = moves.known + prior
    shared = moves.information
    apart = np.outer(own, own) - shared**2
    squares = np.outer(moves.score**2, own)
    ratio = squares + squares.T - 2.0 * np.outer(moves.score, moves.score) * shared
    ratio = np.where(apart > (1.0 - _ALIKE) * np.outer(own, own), ratio / np.where(apart > 0.0, apart, np.inf), -np.inf)
    worth = 2.0 * moves.choice - np.log1p(moves.known / prior)
    first, second = np.unravel_index(int(np.argmax(ratio + worth[:, None] + worth[None, :])), ratio.shape)
    return int(first), int(second)


def _settled(moves: Moves, chosen: list[int]) -> list[int]:
    """Each move chosen anew beside the others, until none changes."""
    for _ in range(_ROUNDS):
        before = list(chosen)
        for place in range(len(chosen)):
            beside = moves.given(chosen[:place] + chosen[place + 1 :])
            chosen[place] = int(np.argmax(beside.evidence(beside.score)))
        if chosen == before:
            break
    return chosen


def search(moves: Moves, limit: float, known: Sequence[int] = ()) -> list[int]:
    """Places of the moves that explain the record, in the order found; those `known` beforehand come first.

    `limit`: what scatter alone seldom passes. Where one move is found, two in its stead are looked at: two causes one after
    another may look like a third in between.
    """
    chosen = list(known)
    while len(chosen) < len(known) + MOST:
        beside = moves.given(chosen)
        if strongest(beside, beside.score) <= limit:
            break
        evidence = beside.evidence(beside.score)
        best = int(np.argmax(evidence))
        pair = _best_pair(beside)
        gain = (_together(beside, pair) - float(evidence[best])) / 2.0
        chosen += pair if gain > limit and pair[0] != pair[1] else [best]
        chosen = _settled(moves, chosen)
        if len(set(chosen)) < len(chosen):
            return list(dict.fromkeys(chosen))
    return chosen

"""What each lot of malt gave against its sheet, a sheet being right within its ± mostly, and now and then simply wrong."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from journal.frozen import dataclass
from journal.history.moved.causes import CAUSES, MALT_LOT
from journal.history.moved.ratio import Moves
from journal.history.moved.weights import LEVEL
from journal.history.moved.whitened import Whitened
from journal.numerics.distributions import ndtr

#: The share of lots whose sheet may be wrong by more than its ± explains: widely taken, for a brewer has but a few of them.
_WRONG = 0.3
#: Halvings of a standard deviation that settle a quantile.
_HALVINGS = 40


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


def lot_effects(w: Whitened, moves: Moves, chosen: Sequence[int]) -> list[LotEffect]:
    """Each lot's departure from its sheet, in order of first use, what else moved taken for real.

    A mixture of two normal distributions, by Bayes' rule: the lot keeps to its sheet within the sheet's ±, or the sheet is
    wrong, by as much as sheets then are; of a lot that is `chosen` it is the latter. A lot of which the readings say nothing
    keeps to its sheet.
    """
    found = []
    for place, lot in enumerate(w.lots):
        own = next((i for i, of in enumerate(moves.of) if of == lot), None)
        used = np.flatnonzero(w.lot_shares[place] > 0.0)
        if own is None or not len(used):
            continue
        beside = moves.given([each for each in chosen if each != own])
        known = float(beside.known[own])
        if known <= 0.0:
            continue
        sheet = float(w.sheet[place]) ** 2
        # the lot's own error is among what is not asked for: the move's variance holds the sheet's besides the readings'
        seen, variance = float(beside.score[own]) / known, max(1.0 / known - sheet, 1e-12)
        wrong = 1.0 if own in chosen else _WRONG
        effect = _mixed(seen, variance, (sheet, sheet + CAUSES[MALT_LOT].usual ** 2), wrong)
        found.append((used[0], LotEffect(lot, *effect, len(used))))
    return [effect for _, effect in sorted(found, key=lambda pair: pair[0])]


def _mixed(
    seen: float, variance: float, priors: tuple[float, float], wrong: float
) -> tuple[float, float, float, float]:
    """Mean, standard deviation and interval of what is seen with a variance, expected about 0 within either of two variances.

    `wrong`: the chance of the second.
    """
    before = np.array(priors)
    likely = (
        np.array([1.0 - wrong, wrong]) * np.exp(-(seen**2) / 2.0 / (before + variance)) / np.sqrt(before + variance)
    )
    share = likely / likely.sum()
    spread = before * variance / (before + variance)
    means, sds = spread * seen / variance, np.sqrt(spread)
    middle = float(share @ means)
    sd = float(np.sqrt(share @ (spread + (means - middle) ** 2)))

    def quantile(chance: float) -> float:
        low, high = float(np.min(means - 6.0 * sds)), float(np.max(means + 6.0 * sds))
        for _ in range(_HALVINGS):
            at = (low + high) / 2.0
            below = float(share @ ndtr((at - means) / sds)) < chance
            low, high = (at, high) if below else (low, at)
        return (low + high) / 2.0

    return middle, sd, quantile((1.0 - LEVEL) / 2.0), quantile((1.0 + LEVEL) / 2.0)

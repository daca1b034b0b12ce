"""The likelihood ratios of every single move against none: one cause from one batch on, or one lot.

For readings y = X b + s c + e, with e independent and of variance 1, b the brewhouse's levels and lots, and c the pattern of a
move of size 1, the likelihood of the best size over that of none is exp(T / 2), T = (c'Wy)² / (c'Wc), where W takes out what
X explains (Narasimhan & Mah, AIChE J. 33 (1987) 1514; Narasimhan & Jordache, Data Reconciliation & Gross Error Detection
(2000), ch. 7). All moves are asked for at once: a pattern that lasts from a batch on is a sum over the batches from there.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from journal.frozen import dataclass
from journal.history.moved.causes import CAUSES, MALT_LOT
from journal.history.moved.said import Said
from journal.history.moved.whitened import Whitened
from journal.numerics import Places, Vector

#: A lot counts as brewed of where it brings at least this share of the extract.
_BREWED_OF = 0.2


@dataclass(frozen=True)
class Moves:
    """Every single move that is asked for.

    `cause` and `of` (a lot's name, else empty), `first` and `last` (places of batches) by move; `usual` sizes; `choice`: logarithm of how
    likely it was beforehand, against the other moves; `score` c'Wy and `information` C'WC of all.
    """

    cause: tuple[str, ...]
    of: tuple[str, ...]
    first: Places
    last: Places
    usual: Vector
    choice: Vector
    score: Vector
    information: Vector

    def given(self, chosen: Sequence[int]) -> Moves:
        """The same where some moves are taken for real, their sizes left open."""
        if not chosen:
            return self
        known = list(chosen)
        inner = self.information[np.ix_(known, known)] + np.diag(self.usual[known] ** -2.0)
        explained = np.linalg.solve(inner, self.information[known])
        return replace(
            self,
            score=self.score - explained.T @ self.score[known],
            information=self.information - self.information[:, known] @ explained,
        )

    @property
    def known(self) -> Vector:
        """c'Wc of each move by itself."""
        return np.maximum(np.diag(self.information), 0.0)

    def evidence(self, score: Vector) -> Vector:
        """Twice the logarithm of how the move stands to none, its size and its date taken for what they are worth.

        The ratio itself, less what it costs that the size could have been any usual one, and the date any other.
        """
        prior = self.usual**-2.0
        known = self.known
        return score**2 / (known + prior) - np.log1p(known / prior) + 2.0 * self.choice


def fewest(count: int) -> int:
    """Batches that there must be on each side of a move."""
    return 3 if count < 10 else 4


def _from_here(values: Vector) -> Vector:
    """Sums over the last axis from each place to the end."""
    return np.flip(np.cumsum(np.flip(values, -1), -1), -1)


def _asked_lots(w: Whitened) -> Places:
    """Lots that were brewed of often enough to be told, and not always."""
    of, side = np.sum(w.lot_shares >= _BREWED_OF, axis=1), 3
    return np.flatnonzero((of >= side) & (of <= len(w.batches) - side))


@dataclass(frozen=True)
class MoveDesign:
    """What does not hang on the readings: which moves there are, and how a score is made of readings."""

    whitened: Whitened
    dates: Places
    lots: Places
    by_nuisance: Vector
    inverse: Vector

    def scores(self, y: Vector, nuisance: Vector, checks: Vector) -> Vector:
        """c'Wy of all moves, of one set of readings or of several (leading axis).

        `y`: … × batches × readings; `nuisance`: … × unknowns, X'y with what was known of each beforehand; `checks`: … × moves, what
        checks of instruments add.
        """
        w = self.whitened
        dated = _from_here(np.einsum("cbi,...bi->...cb", w.by_cause, y))[..., self.dates]
        of_lots = np.einsum("bil,...bi->...l", w.nuisance[:, :, w.lot_columns[self.lots]], y)
        raw = np.concatenate([dated.reshape(*dated.shape[:-2], -1), of_lots], axis=-1)
        scores: Vector = raw + checks - nuisance @ (self.by_nuisance @ self.inverse).T
        return scores


def design_of(w: Whitened) -> MoveDesign:
    """The moves that a record can be asked for."""
    count = len(w.batches)
    side = fewest(count)
    dates = np.arange(side, count - side + 1)
    lots = _asked_lots(w)
    dated = _from_here(np.einsum("cbi,biq->cqb", w.by_cause, w.nuisance))[:, :, dates]
    whole = np.einsum("biq,bir->qr", w.nuisance, w.nuisance)
    by_nuisance = np.concatenate([np.moveaxis(dated, 1, 2).reshape(-1, whole.shape[0]), whole[w.lot_columns[lots]]])
    return MoveDesign(w, dates, lots, by_nuisance, np.linalg.inv(whole + np.diag(w.precision)))


def moves_of(design: MoveDesign, told: Said) -> Moves:
    """Every single move against none; `told` is what checks of instruments and the brewer's own words say."""
    w, dates, lots = design.whitened, design.dates, design.lots
    causes, count = len(w.causes), len(dates)
    together = _from_here(np.einsum("cbi,dbi->cdb", w.by_cause, w.by_cause))
    later = np.maximum.outer(dates, dates)
    information = np.moveaxis(together[:, :, later], 1, 2).reshape(causes * count, causes * count)
    columns = w.lot_columns[lots]
    with_lots = design.by_nuisance[: causes * count, columns]
    of_lots = design.by_nuisance[causes * count :, columns]
    information = np.block([[information, with_lots], [with_lots.T, of_lots]])
    cause = (*(name for name in w.causes for _ in dates), *([MALT_LOT] * len(lots)))
    first = np.concatenate([np.tile(dates, causes), np.argmax(w.lot_shares[lots] >= _BREWED_OF, axis=1)])
    until = len(w.batches) - 1 - np.argmax(w.lot_shares[lots][:, ::-1] >= _BREWED_OF, axis=1)
    last = np.concatenate([np.full(causes * count, len(w.batches) - 1), until])
    checks = told.checks(cause, first)
    nuisance = np.einsum("biq,bi->q", w.nuisance, w.y)
    return Moves(
        cause,
        (*([""] * (causes * count)), *(w.lots[lot] for lot in lots)),
        first,
        last,
        np.array([w.usual[w.causes.index(name)] if name != MALT_LOT else CAUSES[MALT_LOT].usual for name in cause]),
        told.choice(cause, first),
        design.scores(w.y, nuisance, checks.score),
        information + checks.information - design.by_nuisance @ design.inverse @ design.by_nuisance.T,
    )

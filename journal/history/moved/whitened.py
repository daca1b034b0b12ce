"""Patterns made independent and of one size: residuals and their derivatives over the standard deviation of chance."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from journal.balance.priors import usual_spread
from journal.frozen import dataclass
from journal.history.change.weigh import BEND, running_median
from journal.history.fold import BY_METHOD
from journal.history.moved.causes import CAUSES, HABITS, MALT_LOT
from journal.history.moved.pattern import Pattern
from journal.history.moved.scatter import scatter
from journal.numerics import Matrix, Places, Vector
from journal.numerics.robust import huber_weights

#: How far a brewhouse's level may lie from where its record was balanced, in usual spreads: so wide that it says nothing.
_LEVEL_UNKNOWN = 10.0
#: A lot that is never more than this share of a grist's extract moves no level that could be seen.
_LEAST_SHARE = 0.2


@dataclass(frozen=True)
class Whitened:
    """Batches in order of date, their residuals `y` (batches × readings) of mean 0 and variance 1 if nothing moved.

    `nuisance` (batches × readings × unknowns) are derivatives by what is not asked for: the brewhouse's levels, and each
    lot's error; `precision` what was known of each beforehand (1 / variance). `by_cause` (causes × batches × readings) are
    derivatives by the size of each cause in `causes`, `usual` the size it usually has. `lots` names the lots in order of
    `lot_columns`, their places in `nuisance`; `lot_shares` (lots × batches) are their shares of the extract, `sheet` the
    relative standard uncertainty of what each one's sheet says.
    """

    batches: tuple[str, ...]
    y: Vector
    nuisance: Vector
    precision: Vector
    causes: tuple[str, ...]
    by_cause: Vector
    usual: Vector
    lots: tuple[str, ...]
    lot_columns: Places
    lot_shares: Vector
    sheet: Vector


def _bent(residuals: Vector, covariance: Vector) -> Vector:
    """Wild readings bent back to their neighbours' level: one bad reading moves no level, a level that moved stays."""
    level = np.stack([running_median(column) for column in residuals.T], axis=1)
    away, sd = residuals - level, np.sqrt(np.einsum("bii->bi", covariance))
    bent: Vector = level + away * huber_weights(away / sd, BEND)
    return bent


def _columns_by_method(patterns: Sequence[Pattern], habits: Vector) -> tuple[Vector, Vector]:
    """A column for each habit, and one for each lautering method where the habit hangs on that; with their precisions."""
    methods = list(dict.fromkeys(pattern.method for pattern in patterns))
    columns, precision = [], []
    for index, name in enumerate(HABITS):
        for method in methods if name in BY_METHOD else [None]:
            of_it = np.array([method is None or pattern.method == method for pattern in patterns])
            columns.append(habits[:, :, index] * of_it[:, None])
            precision.append((_LEVEL_UNKNOWN * usual_spread(name)) ** -2)
    return np.stack(columns, axis=2), np.array(precision)


def whiten(patterns: Sequence[Pattern], lots: Sequence[Mapping[str, float]], sheets: Mapping[str, float]) -> Whitened:
    """Patterns of at least two batches, in order of date.

    `lots`: each batch's shares of its grist's extract; `sheets`: relative standard uncertainty of each lot's extract.
    """
    residuals, habits, read = (
        np.array([getattr(pattern, name) for pattern in patterns]) for name in ("residual", "habits", "read")
    )
    noise = np.array([[getattr(p, name) for p in patterns] for name in ("by_gravity", "by_volume")])
    # what was not read is a reading of nothing, with a variance of one
    fixed = np.array([p.by_weight for p in patterns]) + np.eye(read.shape[1]) * (1.0 - read)[:, :, None]
    spreads: Vector = np.array([usual_spread(name) for name in HABITS])
    factors: Vector = np.ones(len(noise))

    def covariance() -> Matrix:
        between: Matrix = np.einsum("bik,k,bjk->bij", habits, spreads**2, habits)
        whole: Matrix = between + np.einsum("k,kbij->bij", factors, noise) + fixed
        return whole

    spreads, factors = scatter(_bent(residuals, covariance()), habits, noise, fixed)
    whole = covariance()
    root = np.linalg.inv(np.linalg.cholesky(whole))
    names = tuple(
        sorted({lot for shares in lots for lot, share in shares.items() if share >= _LEAST_SHARE and sheets.get(lot)})
    )
    shares = np.array([[of.get(name, 0.0) for name in names] for of in lots]).reshape(len(patterns), len(names))
    extract = np.array([p.extract for p in patterns])
    by_habit, precision = _columns_by_method(patterns, habits)
    by_lot = extract[:, :, None] * shares[:, None, :]
    kettle = float(np.median([p.kettle for p in patterns]))
    dated = {name: cause for name, cause in CAUSES.items() if name != MALT_LOT}
    by_cause = {
        name: habits[:, :, HABITS.index(cause.habit)]
        if cause.habit
        else np.array([p.signatures[name] for p in patterns])
        for name, cause in dated.items()
    }
    seen = tuple(name for name in dated if by_cause[name].any())
    sheet = np.array([sheets[name] for name in names])
    return Whitened(
        tuple(pattern.batch for pattern in patterns),
        np.einsum("bij,bj->bi", root, _bent(residuals, whole)),
        np.einsum("bij,bjk->bik", root, np.concatenate([by_habit, by_lot], axis=2)),
        np.concatenate([precision, sheet**-2.0]),
        seen,
        np.array([np.einsum("bij,bj->bi", root, by_cause[name]) for name in seen]),
        np.array([CAUSES[name].usual * (kettle if CAUSES[name].by_kettle else 1.0) for name in seen]),
        names,
        np.arange(len(names)) + by_habit.shape[2],
        shares.T,
        sheet,
    )

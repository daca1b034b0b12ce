"""Which levers a lever is adjusted for, and with which it is tangled: by how they were set together, never by the outcome."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from journal.frozen import dataclass
from journal.history.levers.lever import (
    AWAY,
    Columns,
    Lever,
    columns_of,
    commonest,
    settled_batches,
    unknown_column,
)
from journal.history.levers.rows import MALT_LOT
from journal.numerics import Mask, Matrix, Places, Vector

#: Batches that each fitted column needs.
BATCHES_A_COLUMN = 3
#: A lever is adjusted for another only if that was recorded in this share of its batches.
RECORDED = 0.75
#: Two levers are tangled when they share this much of their variance: a correlation of 0.8.
TANGLED = 0.64
#: A lever can't be told from others that leave it less than this share of its variance.
_INSEPARABLE = 0.02
#: Where a lever changed with the lot of malt, the lots' own errors average out from this many lots on.
_LOTS_ENOUGH = 6.0
#: Fewest batches in which two levers must both be known to say how they go together.
_BOTH = 6


@dataclass(frozen=True)
class Design:
    """The regression for one lever: its batches, its columns, and those of the levers it is adjusted for.

    `columns`, batches × effects, begin with a constant, then the lever's own. `tangled`: the levers that changed together with
    each own column;
    `apart`: whether those are all in the regression, so that the record can tell them from the lever.
    """

    lever: Lever
    batches: Mask
    own: Columns
    columns: Matrix
    adjusted_for: tuple[str, ...]
    tangled: tuple[tuple[str, ...], ...]
    apart: tuple[bool, ...]
    #: lots that stand as effects here, so that their error is not chance as well
    fixed_lots: frozenset[str]


class _Growing:
    """A regression that grows by levers for as long as the studied lever's columns stay clear of them."""

    def __init__(self, own: Matrix) -> None:
        batches = len(own)
        self._basis = np.full((batches, 1), batches**-0.5)
        self._own = own - self._basis @ (self._basis.T @ own)
        self._alone = np.diag(np.linalg.inv(self._own.T @ self._own))
        self.columns = np.column_stack([np.ones(batches), own])

    def take(self, more: Matrix) -> bool | None:
        """Take a lever's columns, batches × columns, in, unless they'd hide the studied lever (False) or cost too many batches (None)."""
        fresh, kept = self._fresh(more)
        if (self.columns.shape[1] + fresh.shape[1]) * BATCHES_A_COLUMN > len(self.columns):
            return None
        own = self._own - fresh @ (fresh.T @ self._own)
        if not _clear(own, self._alone):
            return False
        self._basis, self._own = np.column_stack([self._basis, fresh]), own
        self.columns = np.column_stack([self.columns, kept])
        return True

    def _fresh(self, more: Matrix) -> tuple[Matrix, Matrix]:
        """The columns, batches × columns, that say something new beside the other levers': made orthonormal, and as they are."""
        basis, kept = self._basis, []
        for column in more.T:
            rest = column - basis @ (basis.T @ column)
            rest -= basis @ (basis.T @ rest)
            size = float(np.linalg.norm(rest))
            if size > 1e-6 * float(np.linalg.norm(column)):
                basis = np.column_stack([basis, rest / size])
                kept.append(column)
        fresh: Matrix = basis[:, self._basis.shape[1] :]
        return fresh, np.array(kept).reshape(len(kept), len(more)).T


def _clear(own: Matrix, alone: Vector) -> bool:
    """Whether each of the lever's `own` columns, batches × columns, keeps enough of its variance, its fellows in the model."""
    size = np.linalg.norm(own, axis=0)
    if np.any(size**2 * alone < _INSEPARABLE):
        return False
    scaled = own / size
    try:
        inflated = np.diag(np.linalg.inv(scaled.T @ scaled)) / size**2
    except np.linalg.LinAlgError:
        return False
    # of columns that all but depend on one another the inverse is rounding, of either sign
    return bool(np.all((inflated > 0.0) & (inflated <= alone / _INSEPARABLE)))


def design(lever: Lever, levers: Mapping[str, Lever], lots: Lever) -> Design:
    """The regression for a lever among others: the batches in which it is known, the levers most often set with it first.

    A lever that was not recorded in over a quarter of those batches is left out. Where fewer miss it, they are put at its
    mean, and set apart by a column of their own if they are an eighth or more. `lots` is the batches' main lot as a lever: its error is
    part of every regression as chance, and it becomes an effect only where the lever changed with it.
    """
    batches = settled_batches(lever, np.ones_like(lever.recorded))
    own = columns_of(lever, batches)
    others = [other for name, other in {**levers, MALT_LOT: lots}.items() if name != lever.name]
    others = [other for other in others if other.varies(batches)]
    shared = {other.name: _find_shared(lever, own, batches, other) for other in others}
    tangled = _find_tangled(shared, len(own.groups))
    growing, taken = _Growing(own.matrix), []
    for other in sorted(others, key=lambda other: (-max(shared[other.name]), other.name)):
        with_it = any(other.name in names for names in tangled)
        known = np.mean(settled_batches(other, batches)[batches])
        if known < RECORDED or (other.name == MALT_LOT and not with_it):
            continue
        more = np.column_stack([columns_of(other, batches).matrix, unknown_column(other, batches)])
        took = growing.take(more)
        if took:
            taken.append(other.name)
        elif took is False and not with_it:
            tangled = tuple((*names, other.name) for names in tangled)
    apart = tuple(all(name in taken for name in names) for names in tangled)
    fixed = _often(lots, batches) if MALT_LOT in (lever.name, *taken) else frozenset()
    return Design(lever, batches, own, growing.columns, tuple(taken), tangled, apart, fixed)


def _often(lots: Lever, batches: Mask) -> frozenset[str]:
    return frozenset(lot for lot, size in zip(lots.groups, lots.sizes(batches), strict=True) if size >= AWAY)


def _find_tangled(shared: Mapping[str, list[float]], columns: int) -> tuple[tuple[str, ...], ...]:
    return tuple(tuple(name for name, parts in shared.items() if parts[column] > TANGLED) for column in range(columns))


def _find_shared(lever: Lever, own: Columns, batches: Mask, other: Lever) -> list[float]:
    """How much of each of a lever's columns goes with another lever, 0 to 1; for a group among it and the commonest only."""
    both = np.flatnonzero(batches & other.recorded)
    if lever.numbers is not None:
        return [_explain_share(lever.numbers[both], other, both)]
    group, first = lever.group[both], commonest(lever, batches)
    reference = group == first
    parts = []
    for name in own.groups:
        among = group == lever.groups.index(name or "")
        pick = among | reference
        parts.append(_explain_share(among[pick].astype(np.float64), other, both[pick]))
    return parts


def _explain_share(column: Vector, other: Lever, known: Places) -> float:
    """Share of a column's variance that another lever explains in the batches `known`, less what it would by chance."""
    count = len(column)
    if count < _BOTH:
        return 0.0
    away = column - column.mean()
    whole = float(away @ away)
    if whole == 0.0:
        return 0.0
    if other.numbers is not None:
        numbers = other.numbers[known]
        numbers = numbers - numbers.mean()
        size = float(numbers @ numbers)
        part, used = (float(away @ numbers) ** 2 / size if size > 0.0 else 0.0), 1
    else:
        sums = np.bincount(other.group[known], away)
        sizes = np.bincount(other.group[known])
        part, used = float(np.sum(sums**2 / np.maximum(sizes, 1))), int(np.count_nonzero(sizes)) - 1
        if other.name == MALT_LOT and float(np.sum(np.abs(sums)) ** 2) >= _LOTS_ENOUGH * float(np.sum(sums**2)):
            return 0.0
    if count - used <= 1:
        return 0.0
    return max(0.0, 1.0 - (1.0 - part / whole) * (count - 1) / (count - used - 1))

"""One lever over the whole record: which batches recorded it, whether they tried enough, and its columns in a regression."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from journal.frozen import dataclass
from journal.history.levers.rows import MALT_LOT, Row, is_number, useful_unit, word
from journal.history.settings import Setting
from journal.numerics import Mask, Matrix, Places, Vector

#: Batches away from the commonest setting, and batches of a group, below which nothing is said.
AWAY = 3
#: Share of the batches from which on those without a setting are set apart: they may be of another time.
_APART = 0.125
_NONE = -1


@dataclass(frozen=True)
class Lever:
    """A lever and its setting in each batch of the record.

    `numbers`: the settings, NaN where not recorded; none if the lever goes by words. `groups`: its words, and `group` each
    batch's place among them, -1 where not recorded. `unit`: the smallest useful change, in the lever's own unit.
    """

    name: str
    recorded: Mask
    numbers: Vector | None
    groups: tuple[str, ...]
    group: Places
    unit: float

    def sizes(self, batches: Mask) -> Places:
        """How many of some batches are in each group."""
        return np.bincount(self.group[batches & self.recorded], minlength=len(self.groups))

    def varies(self, batches: Mask) -> bool:
        """Whether some batches tried enough to tell anything.

        Three away from the commonest setting and a useful range, or for words three in each of two groups.
        """
        known = batches & self.recorded
        if self.numbers is None:
            return int(np.sum(self.sizes(known) >= AWAY)) > 1
        if int(np.sum(known)) < AWAY:
            return False
        return _away(self.numbers[known], self.unit) >= AWAY and _range(self.numbers[known]) >= self.unit * (1.0 - 1e-9)


@dataclass(frozen=True)
class Columns:
    """A lever's part of a regression: a column for a number or a group against the commonest one; none where unknown.

    `matrix`, batches × columns.
    """

    groups: tuple[str | None, ...]
    reference: str | None
    matrix: Matrix


def _range(numbers: Vector) -> float:
    return float(np.max(numbers) - np.min(numbers))


def _away(numbers: Vector, unit: float) -> int:
    """How many numbers lie further than half a unit from the commonest one: the one with the most others that near."""
    ordered = np.sort(numbers)
    reach = unit * (0.5 + 1e-9)
    near = np.searchsorted(ordered, ordered + reach, "right") - np.searchsorted(ordered, ordered - reach, "left")
    return len(ordered) - int(np.max(near))


def levers_of(rows: Sequence[Row]) -> dict[str, Lever]:
    """Every lever that the record names, in order of first mention."""
    names = dict.fromkeys(name for row in rows for name in row.settings)
    return {name: _lever(name, [row.settings.get(name) for row in rows]) for name in names}


def main_lots(rows: Sequence[Row]) -> Lever:
    """The lot that brought over half of a batch's extract, as a lever."""
    most = [max(row.lots, key=lambda lot: row.lots[lot], default=None) for row in rows]
    return _lever(
        MALT_LOT,
        [lot if lot is not None and row.lots[lot] > 0.5 else None for row, lot in zip(rows, most, strict=True)],
    )


def _lever(name: str, settings: Sequence[Setting | None]) -> Lever:
    recorded = np.array([setting is not None for setting in settings], dtype=bool)
    if all(setting is None or is_number(setting) for setting in settings):
        numbers = np.array([np.nan if setting is None else float(setting) for setting in settings])
        nowhere = np.full(len(settings), _NONE, dtype=np.intp)
        return Lever(name, recorded, numbers, (), nowhere, useful_unit(name, numbers[recorded]))
    words = [None if setting is None else word(setting) for setting in settings]
    groups = tuple(dict.fromkeys(each for each in words if each is not None))
    at = {each: index for index, each in enumerate(groups)}
    group = np.array([_NONE if each is None else at[each] for each in words], dtype=np.intp)
    return Lever(name, recorded, None, groups, group, 0.0)


def commonest(lever: Lever, batches: Mask) -> int:
    """The group that most of some batches are in; of equals the one first tried."""
    return int(np.argmax(lever.sizes(batches)))


def settled_batches(lever: Lever, batches: Mask) -> Mask:
    """Of some batches those that say something of the lever: it was recorded, and not as a word hardly ever tried."""
    known = batches & lever.recorded
    if lever.numbers is not None:
        return known
    often = lever.sizes(known) >= AWAY
    said: Mask = known & np.append(often, False)[lever.group]
    return said


def columns_of(lever: Lever, batches: Mask) -> Columns:
    """A lever's columns over some batches (one row each), every column with mean 0 over those where it is known.

    A batch where the lever was not recorded, or had a word hardly ever tried, is put at the mean of the others, so that
    it goes on counting for the other levers.
    """
    known = settled_batches(lever, batches)
    if lever.numbers is not None:
        raw = lever.numbers[:, None]
        names: tuple[str | None, ...] = (None,)
        reference = None
    else:
        first = commonest(lever, batches)
        others = [index for index, size in enumerate(lever.sizes(known)) if size >= AWAY and index != first]
        raw = (lever.group[:, None] == np.array(others, dtype=np.intp)[None, :]).astype(np.float64)
        names, reference = tuple(lever.groups[index] for index in others), lever.groups[first]
    centred = raw - np.mean(raw[known], axis=0)
    return Columns(names, reference, np.where(known[:, None], centred, 0.0)[batches])


def unknown_column(lever: Lever, batches: Mask) -> Matrix:
    """A column that sets apart the batches where the lever is not known, if they are many enough to matter, else none: batches × 1
    or × 0.
    """
    unknown = batches & ~settled_batches(lever, batches)
    many = int(np.sum(unknown)) >= max(AWAY, _APART * int(np.sum(batches)))
    return unknown[batches].astype(np.float64)[:, None][:, : int(many)]

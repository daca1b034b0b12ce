"""What the brewer says of instruments and of what happened, as evidence on what moved."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import field
from typing import NamedTuple

import numpy as np

from journal.frozen import dataclass
from journal.history.moved.causes import CAUSES
from journal.numerics import Places, Vector

#: How far an instrument may be off from the start, in usual sizes of a move: nobody had checked it.
_FROM_THE_START = 1.0 / 3.0
#: How much likelier a move is that the brewer speaks of, at the batch after it and at one beside that.
_SAID, _BESIDE = 30.0, 5.0


class InstrumentCheck(NamedTuple):
    """What a check showed an instrument to be off by, in the unit of its cause, with its standard uncertainty.

    `before`: how many batches of the record were brewed before it.
    """

    cause: str
    before: int
    off: float
    sd: float


class Told(NamedTuple):
    """Something that the brewer says happened before the batch at a place; causes that their words name, none if they name none."""

    first: int
    causes: frozenset[str]
    words: str = ""


class CheckRows(NamedTuple):
    """What checks add to scores and information of moves."""

    score: Vector
    information: Vector


@dataclass(frozen=True)
class Said:
    """Everything the brewer says, by places of batches in the record; `checked` in order of date."""

    checked: tuple[InstrumentCheck, ...] = ()
    told: tuple[Told, ...] = field(default=())

    def between(self, begin: int, end: int) -> Said:
        """The same by places of a stretch of the record; a check of an earlier day holds to its begin."""
        return Said(
            tuple(check._replace(before=check.before - begin) for check in self.checked if check.before <= end),
            tuple(told._replace(first=told.first - begin) for told in self.told if begin < told.first < end),
        )

    def checks(self, cause: Sequence[str], first: Places) -> CheckRows:
        """What the checks say of moves, each a cause from a batch on.

        A check reads what the instrument is off by at that date: what moved before it, and what it was off by from the
        start, which is one for all checks of an instrument.
        """
        named = np.array(cause)
        score, information = np.zeros(len(named)), np.zeros((len(named), len(named)))
        for name in dict.fromkeys(check.cause for check in self.checked):
            rows = [check for check in self.checked if check.cause == name]
            start = _FROM_THE_START * CAUSES[name].usual
            covariance = np.diag([row.sd**2 for row in rows]) + start**2
            seen = np.array([(named == name) & (first < row.before) for row in rows], dtype=float)
            weighed = np.linalg.solve(covariance, seen)
            score += weighed.T @ np.array([row.off for row in rows])
            information += seen.T @ weighed
        return CheckRows(score, information)

    def choice(self, cause: Sequence[str], first: Places) -> Vector:
        """Logarithm of how likely each move was beforehand: by how often its cause moves, and by what the brewer says."""
        named = np.array(cause)
        weight = np.ones(len(named))
        for told in self.told:
            meant = np.array([not told.causes or name in told.causes for name in named])
            weight = np.where(meant & (first == told.first), weight * _SAID, weight)
            weight = np.where(meant & (np.abs(first - told.first) == 1), weight * _BESIDE, weight)
        often: Mapping[str, float] = {name: CAUSES[name].often for name in dict.fromkeys(cause)}
        counts = {name: int(np.sum(named == name)) for name in often}
        chosen: Vector = np.log(weight) + np.array([np.log(often[name] / counts[name]) for name in named])
        return chosen

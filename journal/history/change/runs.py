"""Nelson's run rules 1, 2, 5 and 6: points and runs that scatter alone seldom makes."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from journal.frozen import dataclass


@dataclass(frozen=True)
class Signal:
    """One run that scatter seldom makes."""

    index: int  # the value that completed the run
    rule: str  # nelson-1, nelson-2, nelson-5 or nelson-6
    text: str  # the rule in plain words, without a full stop


@dataclass(frozen=True)
class _Rule:
    code: str
    needed: int  # how many values
    among: int  # of how many in a row
    beyond: float  # on one side of the centre by more than so many standard deviations
    text: str


_RULES = (
    _Rule("nelson-1", 1, 1, 3.0, "by more than three standard deviations"),
    _Rule("nelson-2", 9, 9, 0.0, "as in the eight batches before it"),
    _Rule("nelson-5", 2, 3, 2.0, "by more than two standard deviations, twice in three batches"),
    _Rule("nelson-6", 4, 5, 1.0, "by more than one standard deviation, four times in five batches"),
)


def run_signals(values: Sequence[float], centre: float, sigma: float) -> list[Signal]:
    """The runs in a series, each told once, at the value that first completes it.

    A run goes on as long as the rule still holds at the next value; once broken, another may follow. Under rule 1
    every value beyond the limit stands for itself. The rules not looked for (3, 4, 7, 8) are mostly noise in a series
    as short as a brewery's.

    `values`: finite numbers in order of date.
    `centre`: the chart's centre, in the unit of the values.
    `sigma`: its standard deviation, >= 0; without any scatter there is nothing to judge by, and no signal.

    Out: signals in order of index, then of rule.

    Source: L. S. Nelson, The Shewhart control chart: tests for special causes, J. Qual. Technol. 16 (1984) 237-239.

    >>> [signal.index for signal in run_signals([0.0, 2.1, 0.0, 2.1, 2.1], 0.0, 1.0)]
    [3]
    """
    if sigma <= 0 or not len(values):
        return []
    scores = (np.asarray(values, dtype=float) - centre) / sigma
    found = [
        Signal(index, rule.code, rule.text)
        for rule in _RULES
        for side in (1, -1)
        for index in _complete(side * scores > rule.beyond, rule)
    ]
    return sorted(found, key=lambda signal: (signal.index, signal.rule))


def _complete(hits: NDArray[np.bool_], rule: _Rule) -> list[int]:
    """Where a run becomes complete that was not so at the value before."""
    held = np.convolve(hits, np.ones(rule.among, dtype=int))[: len(hits)] >= rule.needed
    if rule.among > 1:
        held[1:] &= ~held[:-1]
    return [int(index) for index in np.flatnonzero(held)]

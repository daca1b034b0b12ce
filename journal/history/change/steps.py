"""Where the level of a series changed, by how much, and how easily scatter alone would have made it look so."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import fsum

import numpy as np

from journal.frozen import dataclass
from journal.history.change.chance import chance_of_any, chance_of_split
from journal.history.change.chart import ControlLimits, individuals_chart
from journal.history.change.weigh import FEWEST_VALUES, Weighed, weigh
from journal.numerics import coverage_factor

#: The chance of a false alarm that is allowed in a whole series.
FALSE_ALARMS = 0.015
#: Parts of the allowed risk: most for one lasting step, some for a spell, a step that was undone again.
_RISK_OF_STEP, _RISK_OF_SPELL = 0.8, 0.2
#: A longer spell shows as a lasting step at one of its ends.
_LONGEST_SPELL = 100


@dataclass(frozen=True)
class LevelStep:
    """A lasting change of level."""

    first: int  # index of the first value at the new level
    change: float  # new level less old, in the unit of the values; the old ends at the step before, if any
    low: float  # lower end of the 90 % interval of the change
    high: float  # its upper end
    p_value: float  # chance that scatter alone shows such a step somewhere between its neighbours; an upper bound


def find_steps(values: Sequence[float], sds: Sequence[float] | None = None) -> list[LevelStep]:
    """Where the level of a series changed.

    Every split with at least four values on each side (three in a series of fewer than ten) is tried, and every spell
    that long; the largest weighted contrast must be rarer than FALSE_ALARMS under mere scatter. Each stretch between
    steps is searched in the same way. At the end every step must stand up alone between its neighbours.

    False alarms: a series of independent values without a step shows one in less than that share of cases (an upper bound
    for normal values). 1,000 simulated series of 8 to 120 values each gave 0.5 to 1.3 %, and 2 % where the
    scatter had heavy tails (t with 3 degrees of freedom). Values that follow their neighbours are outside that promise:
    a correlation of 0.3 with the one before gave 11 %, and a drift makes steps too, which `describe_change` tells apart.

    `values`: finite numbers in order of date; fewer than eight show nothing.
    `sds`: standard deviation of each from its reading, >= 0, in the same unit; left out: all alike. An error that
    batches share is no part of it.

    Out: steps in order of date. The interval is Welch's for two means; it leaves out that the place was chosen by the
    data.

    Sources: L. J. Vostrikova, Soviet Math. Dokl. 24 (1981) 55 (binary segmentation); A. B. Olshen et al.,
    Biostatistics 5 (2004) 557 (spells); B. L. Welch, Biometrika 34 (1947) 28.
    """
    if len(values) < FEWEST_VALUES:
        return []
    return steps_of(weigh(values, sds))


def steps_of(series: Weighed) -> list[LevelStep]:
    """The steps of a weighed series of at least eight values."""
    count = len(series.values)
    cuts = sorted(_segment(series, 0, count))
    kept = _stand_alone(series, cuts)
    bounds = [0, *(cut for cut, _ in kept), count]
    return [
        _step(series.between(before, cut), series.between(cut, after), cut, p_value)
        for before, (cut, p_value), after in zip(bounds, kept, bounds[2:], strict=False)
    ]


def limits_after(values: Sequence[float], steps: Sequence[LevelStep]) -> list[ControlLimits]:
    """Limits reckoned anew for each stretch between steps, in order; none of a series of fewer than two values."""
    bounds = [0, *(step.first for step in steps), len(values)]
    return [individuals_chart(values[start:end]) for start, end in pairwise(bounds) if end - start >= 2]


def _segment(series: Weighed, start: int, end: int) -> Iterator[int]:
    """Cuts of one stretch, and of the stretches that they make."""
    if end - start < FEWEST_VALUES:
        return
    stretch = series.between(start, end)
    candidates = [_best_split(stretch), _best_spell(stretch)]
    cuts, p_value = min(candidates, key=lambda candidate: candidate[1])
    if p_value > FALSE_ALARMS:
        return
    yield from (start + cut for cut in cuts)
    for left, right in pairwise([start, *(start + cut for cut in cuts), end]):
        yield from _segment(series, left, right)


def _stand_alone(series: Weighed, cuts: list[int]) -> list[tuple[int, float]]:
    """Each cut moved to the best place between its neighbours, the weakest left out until all of them stand."""
    while cuts:
        p_values = []
        for index in range(len(cuts)):
            bounds = [0, *cuts, len(series.values)]
            split, p_value = _best_split(series.between(bounds[index], bounds[index + 2]))
            cuts[index] = bounds[index] + split[0]
            p_values.append(p_value)
        weakest = max(range(len(cuts)), key=lambda index: p_values[index])
        if p_values[weakest] <= FALSE_ALARMS:
            return list(zip(cuts, p_values, strict=True))
        del cuts[weakest]
    return []


def _side(count: int) -> int:
    """How many values each side of a step must have."""
    return 3 if count < 10 else 4


def _sums(series: Weighed) -> tuple[np.ndarray, np.ndarray]:
    """Weight before each place, and weighted sum of deviations from the mean before it."""
    deviations = series.weights * (series.values - series.mean())
    return np.cumsum(np.append(0.0, series.weights)), np.cumsum(np.append(0.0, deviations))


def _best_split(series: Weighed) -> tuple[tuple[int, ...], float]:
    """The split with the largest contrast, and the chance of such a one."""
    count, squares = len(series.values), series.squares()
    side = _side(count)
    if squares <= 0:
        return (side,), 1.0
    weight, total = _sums(series)
    shares = weight[side : count - side + 1] / weight[-1]
    contrasts = total[side : count - side + 1] ** 2 / (weight[-1] * shares * (1 - shares))
    best = int(np.argmax(contrasts))
    largest = float(np.sqrt(min(1.0, contrasts[best] / squares)))
    return (side + best,), min(1.0, chance_of_split(largest, shares, count) / _RISK_OF_STEP)


def _best_spell(series: Weighed) -> tuple[tuple[int, ...], float]:
    """The spell with the largest contrast to all the rest, and the chance of such a one."""
    count, squares = len(series.values), series.squares()
    side = _side(count)
    lengths = np.arange(side, min(_LONGEST_SPELL, count - 2 * side) + 1)
    if squares <= 0 or not len(lengths):
        return (), 1.0
    weight, total = _sums(series)
    first = np.arange(side, count - 2 * side + 1)[:, None]
    last = np.minimum(first + lengths, count)
    shares = (weight[last] - weight[first]) / weight[-1]
    contrasts = (total[last] - total[first]) ** 2 / (weight[-1] * shares * (1 - shares))
    contrasts[first + lengths > count - side] = 0.0
    start, length = np.unravel_index(int(np.argmax(contrasts)), contrasts.shape)
    largest = float(np.sqrt(min(1.0, contrasts[start, length] / squares)))
    tried = int(np.count_nonzero(first + lengths <= count - side))
    spell = (int(first[start, 0]), int(last[start, length]))
    return spell, min(1.0, chance_of_any(largest, tried, count) / _RISK_OF_SPELL)


def _step(before: Weighed, after: Weighed, first: int, p_value: float) -> LevelStep:
    """The change with its 90 % interval, each side by its own scatter (Welch)."""
    errors = [side.squares() / (len(side.values) - 1) / float(side.weights.sum()) for side in (before, after)]
    change, error = after.mean() - before.mean(), fsum(errors)
    if error <= 0:
        return LevelStep(first, change, change, change, p_value)
    parts = fsum(e**2 / (len(side.values) - 1) for e, side in zip(errors, (before, after), strict=True))
    half_width = coverage_factor(error**2 / parts) * error**0.5
    return LevelStep(first, change, change - half_width, change + half_width, p_value)

"""How well steps and drifts are found in invented series with a known truth: `python tests/history/measure_change.py`.

A series scatters by 1.75 points in all, half of the variance from readings whose standard deviation is told. Nothing
here is taken from the code under test.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from journal.history.change import LevelStep, describe_change, find_steps

SCATTER = 1.75
READING = SCATTER / 2**0.5
NEAR = 3
Shape = Callable[[np.random.Generator, int], np.ndarray]


@dataclass(frozen=True)
class Series:
    """A kind of invented series."""

    name: str
    shape: Shape  # what is added to the scatter
    places: tuple[int, ...] = ()  # where its level changes
    size: float = 0.0  # by how much, at the first place
    count: int = 40
    tails: float | None = None  # degrees of freedom of the scatter; None for normal
    uneven: bool = False  # readings from half to one and a half times as sure
    told: bool = True  # the standard deviations are passed on
    memory: float = 0.0  # correlation with the value before


@dataclass(frozen=True)
class Shares:
    """Of all series of a kind."""

    found: float  # any step
    near: float  # every true place within three batches
    many: float  # more steps than there are
    covered: float  # true size inside the 90 % interval, of those near
    told_step: float  # called a step after weighing it against a drift
    told_near: float  # called a step, and every place near
    told_drift: float


def flat(_: np.random.Generator, count: int) -> np.ndarray:
    return np.zeros(count)


def step(size: float, first: int = 20) -> Shape:
    return lambda rng, count: size * (np.arange(count) >= first)


def spell(size: float, first: int, end: int) -> Shape:
    return lambda rng, count: size * ((np.arange(count) >= first) & (np.arange(count) < end))


def drift(rise: float) -> Shape:
    return lambda rng, count: np.linspace(0, rise, count)


def wild(rng: np.random.Generator, count: int) -> np.ndarray:
    return 10 * SCATTER * (np.arange(count) == rng.integers(count)) * rng.choice([-1, 1])


def both(*shapes: Shape) -> Shape:
    return lambda rng, count: sum((shape(rng, count) for shape in shapes), np.zeros(count))


KINDS = (
    Series("step of 4", step(4), (20,), 4),
    Series("step of 4, uneven readings", step(4), (20,), 4, uneven=True),
    Series("step of 2.5", step(2.5), (20,), 2.5),
    Series("step of 2.5, uneven readings", step(2.5), (20,), 2.5, uneven=True),
    Series("step of 4, one wild value", both(step(4), wild), (20,), 4),
    Series("spell of 4 from 14 to 26", spell(4, 14, 26), (14, 26), 4),
    Series("two steps of 4", both(step(4, 13), step(4, 27)), (13, 27), 4),
    Series("drift of 4", drift(4)),
    Series("drift of 8", drift(8)),
    Series("one wild value", wild),
    Series("nothing, 8 values", flat, count=8),
    Series("nothing, 12 values", flat, count=12),
    Series("nothing, 20 values", flat, count=20),
    Series("nothing", flat),
    Series("nothing, 120 values", flat, count=120),
    Series("nothing, uneven readings", flat, uneven=True),
    Series("nothing, uneven, not told", flat, uneven=True, told=False),
    Series("nothing, heavy tails (t, 3)", flat, tails=3),
    Series("nothing, memory 0.3", flat, memory=0.3),
)


def draw(kind: Series, rng: np.random.Generator) -> tuple[np.ndarray, np.ndarray | None]:
    """One series with its standard deviations."""
    sds = READING * (rng.uniform(0.5, 1.5, kind.count) if kind.uneven else np.ones(kind.count))
    scores = rng.normal(size=kind.count)
    if kind.tails:
        scores = rng.standard_t(kind.tails, kind.count) / np.sqrt(kind.tails / (kind.tails - 2))
    for index in range(1, kind.count if kind.memory else 0):
        scores[index] = kind.memory * scores[index - 1] + (1 - kind.memory**2) ** 0.5 * scores[index]
    values = np.hypot(READING, sds) * scores + kind.shape(rng, kind.count)
    return values, sds if kind.told else None


def near(steps: Sequence[LevelStep], places: Sequence[int]) -> bool:
    """Every true place has a step within three batches."""
    return bool(places) and all(any(abs(step.first - place) <= NEAR for step in steps) for place in places)


def measure(kind: Series, times: int, seed: int = 1) -> Shares:
    """Shares of many series of a kind."""
    rng = np.random.default_rng(seed)
    rows, covered = [], []
    for _ in range(times):
        values, sds = draw(kind, rng)
        told = describe_change(values, sds)
        # where no drift stands in their place, the steps told are those that were found
        steps = told.steps if told.drift is None else find_steps(values, sds)
        is_near = near(steps, kind.places)
        rows.append(
            (
                bool(steps),
                is_near,
                len(steps) > len(kind.places),
                bool(told.steps),
                near(told.steps, kind.places),
                told.drift is not None,
            )
        )
        if is_near:
            covered.append(steps[0].low <= kind.size <= steps[0].high)
    found, close, many, told_step, told_near, told_drift = np.mean(rows, axis=0)
    return Shares(found, close, many, float(np.mean(covered or [np.nan])), told_step, told_near, told_drift)


def table(times: int) -> str:
    """The table as Markdown."""
    head = "| series of 40 values | step found | within ±3 | too many | size covered | told: step | within ±3 | told: drift |"
    lines = [head, "| --- |" + " --- |" * 7]
    for kind in KINDS:
        got = measure(kind, times)
        near, covered, told = ["–"] * 3
        if kind.places:
            near, covered, told = (f"{share:.1%}" for share in (got.near, got.covered, got.told_near))
        lines.append(
            f"| {kind.name} | {got.found:.1%} | {near} | {got.many:.1%} | {covered}"
            f" | {got.told_step:.1%} | {told} | {got.told_drift:.1%} |"
        )
    return "\n".join(lines)


def seconds(count: int) -> float:
    """Time to describe a series with a step every hundred values, the best of three."""
    values = np.random.default_rng(1).normal(0, 1, count) + 2 * (np.arange(count) // 100 % 2)
    taken = []
    for _ in range(3):
        start = time.perf_counter()
        describe_change(values, np.full(count, 0.7))
        taken.append(time.perf_counter() - start)
    return min(taken)


if __name__ == "__main__":
    print(table(int(sys.argv[1]) if len(sys.argv) > 1 else 1000))
    print(f"\n1,000 values described in {1000 * seconds(1000):.0f} ms")

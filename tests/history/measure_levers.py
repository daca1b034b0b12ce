"""How well the study of levers does on invented records with a known truth: `python tests/history/measure_levers.py`.

A record has 40 batches of five lots of malt. Each batch converts with a scatter of 1.2 points, is known to 1.27 points (0.25 L
and 0.7 gravity points on a batch of twenty-five litres come to about that), and each lot's sheet is wrong by 0.6 points.
Nothing here is taken from the code under test.
"""

from __future__ import annotations

import os
import sys
import time
from collections import Counter
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

# matrices this small are only slowed down by threads that wait for one another
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

import numpy as np

from journal.history.levers import LeverResult, Row, judge, measure, prepare

SCATTER, OWN_SD, LOT_SD = 0.012, 0.0127, 0.006
BATCHES, LOT_SIZE = 40, 8
Draw = Callable[[np.random.Generator, int], np.ndarray]


def steps(*settings: float) -> Draw:
    return lambda rng, count: rng.choice(settings, count)


def words(*settings: str) -> Draw:
    return lambda rng, count: rng.choice(settings, count)


def spells(*settings: float) -> Draw:
    """Settings that a brewer keeps for three to nine batches."""

    def draw(rng: np.random.Generator, count: int) -> np.ndarray:
        kept = [np.full(rng.integers(3, 10), rng.choice(settings)) for _ in range(count)]
        return np.concatenate(kept)[:count]

    return draw


CRUSH_STEPS = steps(0.9, 1.0, 1.1, 1.2, 1.3)
OTHERS: dict[str, Draw] = {
    "mash_ph": lambda rng, count: rng.uniform(5.2, 5.6, count).round(2),
    "mash_temperature": lambda rng, count: rng.uniform(64, 69, count).round(1),
    "mash_time": steps(60, 60, 75, 90),
    "liquor_to_grist": lambda rng, count: rng.normal(3.1, 0.3, count).round(2),
    "mixing": words("stirred", "stirred", "once", "rakes"),
    "lauter_time": lambda rng, count: rng.normal(55, 12, count).round(),
    "lauter_method": words("fly", "fly", "batch"),
    "grain soaked": words("yes", "no", "no"),
    "stirs in the mash": steps(1, 2, 3, 4),
}


@dataclass(frozen=True)
class Truth:
    """What the levers do per unit, how crush was varied, and what went wrong in some batches."""

    crush: float = 0.0
    draw_crush: Draw = CRUSH_STEPS
    others: Mapping[str, float] | None = None
    odd: float = 0.0
    missing: float = 0.0


def simulated(seed: int, truth: Truth, batches: int = BATCHES) -> list[Row]:
    rng = np.random.default_rng(seed)
    settings = {"crush": truth.draw_crush(rng, batches)} | {name: draw(rng, batches) for name, draw in OTHERS.items()}
    lot = np.arange(batches) // LOT_SIZE
    sheet = rng.normal(0.0, LOT_SD, lot.max() + 1)[lot]
    value = sheet + rng.normal(0.0, SCATTER, batches) + rng.normal(0.0, OWN_SD, batches)
    value += rng.choice([0.0, 0.08, -0.08], batches, p=[1 - truth.odd, truth.odd / 2, truth.odd / 2])
    for name, effect in {"crush": truth.crush, **(truth.others or {})}.items():
        value += effect * (settings[name] - settings[name].mean())
    rows = []
    for index in range(batches):
        known = {name: column[index].item() for name, column in settings.items() if rng.random() >= truth.missing}
        known["malt_lot"] = f"lot-{lot[index]}"
        rows.append(Row(str(index + 1), float(value[index]), OWN_SD, {f"lot-{lot[index]}": 1.0}, known))
    return rows


@dataclass
class Tally:
    """What many records came to."""

    records: int = 0
    crush_clear: int = 0
    crush_covered: int = 0
    others_covered: int = 0
    others_looked: int = 0
    falsely_clear: Counter[str] | None = None

    def line(self, name: str) -> str:
        false = self.falsely_clear or Counter()
        worst, times = max(false.items(), key=lambda item: item[1], default=("-", 0))
        return (
            f"| {name:<46} | {self.crush_clear / self.records:6.1%} | {self.crush_covered / self.records:6.1%} "
            f"| {self.others_covered / max(self.others_looked, 1):6.1%} | {times / self.records:5.1%} ({worst}) |"
        )


def tally(truth: Truth, records: int, start: int = 0, batches: int = BATCHES) -> Tally:
    found = Tally(falsely_clear=Counter())
    for seed in range(start, start + records):
        (results,) = judge([measure(prepare(simulated(seed, truth, batches), LOT_SD), {})])
        found.records += 1
        crush = next(result for result in results if result.lever == "crush")
        found.crush_clear += crush.verdict == "clear"
        found.crush_covered += covers(crush, truth.crush)
        real = {"crush", "malt_lot", *(truth.others or {})}
        none = [result for result in results if result.lever not in real and result.effect is not None]
        found.others_looked += len(none)
        found.others_covered += sum(covers(result, 0.0) for result in none)
        found.falsely_clear.update({result.lever for result in none if result.verdict == "clear"})
    return found


def covers(result: LeverResult, truth: float) -> bool:
    return result.low is not None and result.high is not None and result.low <= truth <= result.high


FINE = steps(*np.arange(0.9, 1.301, 0.05).round(2))
CASES: dict[str, tuple[Truth, int]] = {
    "crush -0.02 per 0.1 mm, steps of 0.1 mm": (Truth(-0.2), BATCHES),
    "crush -0.01 per 0.1 mm, steps of 0.1 mm": (Truth(-0.1), BATCHES),
    "crush -0.01 per 0.1 mm, steps of 0.05 mm": (Truth(-0.1, FINE), BATCHES),
    "crush -0.02 per 0.1 mm, kept for spells": (Truth(-0.2, spells(0.9, 1.0, 1.1, 1.2, 1.3)), BATCHES),
    "crush -0.01 per 0.1 mm, kept for spells": (Truth(-0.1, spells(0.9, 1.0, 1.1, 1.2, 1.3)), BATCHES),
    "no lever does anything": (Truth(), BATCHES),
    "-0.01, and pH -0.05 per unit, stirs +0.005 each": (
        Truth(-0.1, others={"mash_ph": -0.05, "stirs in the mash": 0.005}),
        BATCHES,
    ),
    "-0.01, one batch in twenty off by 8 points": (Truth(-0.1, odd=0.05), BATCHES),
    "-0.01, a tenth of the settings not recorded": (Truth(-0.1, missing=0.1), BATCHES),
    "-0.02, 16 batches": (Truth(-0.2), 16),
    "-0.02, 10 batches": (Truth(-0.2), 10),
}


def with_more_numbers(row: Row) -> Row:
    rng = np.random.default_rng(int(row.batch))
    more = {f"own number {place}": float(rng.integers(1, 9)) for place in range(4)}
    return replace(row, settings={**row.settings, **more})


def main() -> None:
    records = int(sys.argv[1]) if len(sys.argv) > 1 else 200
    print(f"{records} records each; 90 % intervals; clear: adjusted p < 0.10")
    print(f"| {'truth':<46} | clear  | covers | others | worst falsely clear |")
    print(f"| {'-' * 46} | ------ | ------ | ------ | ------------------- |")
    for name, (truth, batches) in CASES.items():
        print(tally(truth, records, batches=batches).line(name), flush=True)
    rows = [with_more_numbers(row) for row in simulated(0, Truth(-0.1, missing=0.1), 1000)]
    started = time.perf_counter()
    results = measure(prepare(rows, LOT_SD), {})
    taken = time.perf_counter() - started
    print(f"1000 batches of 125 lots, {len({result.lever for result in results})} levers: {taken:.2f} s")


if __name__ == "__main__":
    main()

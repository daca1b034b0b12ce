"""Simulated breweries asked what pays first: does each change bring what is said, is the best one named, is nothing made of nothing.

`python tests/history/pays_trials.py [BREWERIES]` prints the table that stands in tests/measured/pays.md; the tests run a small share.
The truth comes from `rinsing_brewery.py`, which brews every batch again with the change and shares no formula with the code judged.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import NamedTuple

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1]))

from balance.simulated_brewery import BREWERY
from history.rinsing_brewery import (
    LATEST,
    Brewed,
    House,
    brewery_of_house,
    limit_house,
    some_bag,
    some_house,
    truth_of,
)
from history.told import tell_of

from journal.history.pays import Pays

A_POINT = 0.01


class Said(NamedTuple):
    """One number that was told, of a name: its error, the interval told, and the truth."""

    name: str
    error: float
    low: float
    high: float
    truth: float

    @property
    def covers(self) -> bool:
        """Whether the interval holds the truth."""
        return self.low <= self.truth <= self.high


@dataclass(frozen=True)
class PaysTrial:
    """A brewery's answer beside the truth: its mean account (not dissolved, tun, kettle, fermenter), what each change brings."""

    pays: Pays
    account: np.ndarray
    gains: dict[str, float]

    def top_is_right(self) -> bool:
        """Whether the first change told is among the truly best two."""
        best = sorted(self.gains, key=lambda key: -self.gains[key])[:2]
        return bool(self.pays.changes) and self.pays.changes[0].key in best

    def errors(self) -> Iterator[Said]:
        """Of every change told its error, and whether its interval holds the truth."""
        for change in self.pays.changes:
            if change.key in self.gains:
                truth = self.gains[change.key]
                yield Said(change.key, change.gain - truth, change.low, change.high, truth)

    def losses(self) -> Iterator[Said]:
        """The same of the losses and of what reached the fermenter; what stayed in the tun is left out, for here it is not told apart."""
        by_place = {loss.place: loss for loss in self.pays.losses}
        into = self.pays.into_fermenter
        rows = (
            ("not dissolved", by_place["not dissolved"].share, by_place["not dissolved"], self.account[0]),
            ("kettle", by_place["kettle"].share, by_place["kettle"], self.account[2]),
            ("fermenter", into.value, into, self.account[3]),
        )
        for name, value, told, truth in rows:
            yield Said(name, value - float(truth), told.low, told.high, float(truth))


def pays_trial(house_of: Callable[[np.random.Generator], House], seed: int) -> PaysTrial:
    """One brewery, told."""
    rng = np.random.default_rng(seed)
    made: Brewed = brewery_of_house(house_of(rng), BREWERY, rng)
    with TemporaryDirectory() as folder:
        pays = tell_of(Path(folder), made.entries, made.settings).history.brewhouses[0].pays
    assert pays is not None
    crush = next((change for change in pays.changes if change.key == "crush"), None)
    now = float(np.median(made.gaps[-LATEST:]))
    then = float(crush.setting) if crush and isinstance(crush.setting, float) else 0.95
    return PaysTrial(pays, *truth_of(made, rng, then - now))


def _rows(title: str, found: list[Said]) -> Iterator[str]:
    yield f"{title:<40}{'told':>6}{'truth':>8}{'bias':>8}{'error':>8}{'±':>8}{'covers':>9}"
    for name in dict.fromkeys(said.name for said in found):
        of_it = [said for said in found if said.name == name]
        errors = np.array([said.error for said in of_it]) * 100
        truth = 100 * np.mean([said.truth for said in of_it])
        reach = 50 * np.mean([said.high - said.low for said in of_it])
        covers = np.mean([said.covers for said in of_it])
        numbers = f"{truth:>8.2f}{np.mean(errors):>+8.2f}{np.std(errors):>8.2f}{reach:>8.2f}{covers:>9.1%}"
        yield f"{name:<40}{len(errors):>6}{numbers}"


def table(count: int) -> str:
    sparged = [pays_trial(some_house, seed) for seed in range(count)]
    bags = [pays_trial(some_bag, 10_000 + seed) for seed in range(max(count // 2, 1))]
    limits = [pays_trial(limit_house, 20_000 + seed) for seed in range(max(count // 2, 1))]
    quiet = np.mean([not any(c.gain > A_POINT for c in each.pays.changes) for each in limits])
    near = np.mean([each.pays.ending == "near the limit" for each in limits])
    best = [100 * max(each.gains.values()) for each in limits]
    candidates = np.mean([len(each.gains) for each in sparged])
    right = np.mean([each.top_is_right() for each in sparged])
    rows = [
        *_rows(f"{count} batch sparges: gain, points", [row for each in sparged for row in each.errors()]),
        *_rows(f"{len(bags)} bags: gain, points", [row for each in bags for row in each.errors()]),
        *_rows("losses of both, points", [row for each in (*sparged, *bags) for row in each.losses()]),
        f"of {candidates:.0f} candidates the first is among the truly best two: {right:.1%} of {count}",
        f"at the limit, no change above a point: {quiet:.1%} of {len(limits)}; said to be near it: {near:.1%}",
        f"  (the best change there truly brings {np.mean(best):.2f} points on the mean, {max(best):.2f} at most)",
    ]
    return "\n".join(rows)


if __name__ == "__main__":
    print(table(int(sys.argv[1]) if len(sys.argv) > 1 else 200))

"""The usual brews of a brewhouse, to be brewed again with something changed."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import fields
from functools import cached_property
from typing import Any

import numpy as np

from journal.balance.vessels import Facts
from journal.frozen import dataclass
from journal.history.pays.account import Brewing, account, with_habits
from journal.history.pays.level import MeanHabits
from journal.numerics import Matrix, Vector, coverage_factor, jacobian

#: What is done to a batch before it is brewed again; every habit a number, or an array of them.
Alteration = Callable[[Brewing], Brewing]


@dataclass(frozen=True)
class MeanAccount:
    """The mean account of some brews, 5 shares, and its slopes by HABITS, 5 × 6."""

    shares: Vector
    slopes: Matrix


def _stacked(brewings: Sequence[Brewing]) -> Brewing:
    """Brews that are lautered alike as one whose numbers are columns, n × 1."""
    names = sorted({name for u, _ in brewings for name in u})
    u = {name: np.array([[u.get(name, 0.0)] for u, _ in brewings]) for name in names}
    columns: dict[str, Any] = {
        fact.name: np.array([[getattr(facts, fact.name)] for _, facts in brewings]) for fact in fields(Facts)
    }
    return u, Facts(**columns | {"run_offs": brewings[0][1].run_offs})


@dataclass(frozen=True)
class Habitual:
    """Brews as they were set up, and what the brewhouse does on the mean."""

    brewings: tuple[Brewing, ...]
    habits: MeanHabits

    @cached_property
    def _stacks(self) -> tuple[tuple[Brewing, int], ...]:
        """All brews, those that are lautered alike together: worked out at once, for there are many questions; with how many they are."""
        alike: dict[tuple[int, bool], list[Brewing]] = {}
        for u, facts in self.brewings:
            alike.setdefault((facts.run_offs, u["sparge_liquor"] > 0.0), []).append((u, facts))
        return tuple((_stacked(group), len(group)) for group in alike.values())

    @property
    def factor(self) -> float:
        """How many standard uncertainties an interval at LEVEL reaches to each side."""
        return coverage_factor(self.habits.freedom)

    @property
    def run_offs(self) -> int:
        """How many times most of the brews are rinsed."""
        each = [facts.run_offs for _, facts in self.brewings]
        return max(each, key=each.count)

    @cached_property
    def mean(self) -> MeanAccount:
        """The account as it is brewed."""
        return self.altered(lambda brewing: brewing)

    def mean_of(self, habits: Matrix, seen: Callable[[Brewing], Matrix]) -> Matrix:
        """What is seen of the brews on the mean, m × k, by k habits, 6 × k; of n brews at once it sees m × n × k."""
        whole = sum(np.sum(seen(with_habits(brewing, habits)), axis=1) for brewing, _ in self._stacks)
        mean: Matrix = np.asarray(whole) / len(self.brewings)
        return mean

    def at_mean(self, seen: Callable[[Brewing], Matrix]) -> Vector:
        """The same as the brewhouse does it on the mean: m."""
        return self.mean_of(self.habits.mean[:, None], seen)[:, 0]

    def altered(self, alteration: Alteration) -> MeanAccount:
        """The mean account with something changed. Raises ValueError where a brew would make no wort."""

        def shares(habits: Matrix) -> Matrix:
            return self.mean_of(habits, lambda brewing: account(*alteration(brewing)))

        at = self.habits.mean
        return MeanAccount(shares(at[:, None])[:, 0], jacobian(shares, at))

    def brewhouse_efficiency(self, alteration: Alteration) -> float:
        """The share that reaches the fermenter with something changed, without its slopes."""
        return float(self.at_mean(lambda brewing: account(*alteration(brewing)))[-1])

    def each_batch(self) -> Matrix:
        """What each of the n batches' own ways would make of all the brews: accounts, 5 × n."""
        return self.mean_of(self.habits.each.T, lambda brewing: account(*brewing))

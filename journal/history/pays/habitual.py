"""The usual brews of a brewhouse, to be brewed again with something changed."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cached_property

import numpy as np

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


@dataclass(frozen=True)
class Habitual:
    """Brews as they were set up, and what the brewhouse does on the mean."""

    brewings: tuple[Brewing, ...]
    habits: MeanHabits

    @property
    def factor(self) -> float:
        """How many standard uncertainties an interval at LEVEL reaches to each side."""
        return coverage_factor(self.habits.freedom)

    @cached_property
    def mean(self) -> MeanAccount:
        """The account as it is brewed."""
        return self.altered(lambda brewing: brewing)

    def at_mean(self) -> Iterator[Brewing]:
        """Each brew as the brewhouse does it on the mean."""
        return (with_habits(brewing, self.habits.mean) for brewing in self.brewings)

    def altered(self, alteration: Alteration) -> MeanAccount:
        """The mean account with something changed. Raises ValueError where a brew would make no wort."""

        def shares(habits: Matrix) -> Matrix:
            brewed = (alteration(with_habits(brewing, habits)) for brewing in self.brewings)
            mean: Matrix = np.mean([account(*each) for each in brewed], axis=0)
            return mean

        at = self.habits.mean
        return MeanAccount(shares(at[:, None])[:, 0], jacobian(shares, at))

    def brewhouse_efficiency(self, alteration: Alteration) -> float:
        """The share that reaches the fermenter with something changed, without its slopes."""
        brewed = [account(*alteration(brewing)) for brewing in self.at_mean()]
        return float(np.mean(brewed, axis=0)[-1])

    def each_batch(self) -> Matrix:
        """What each of the n batches' own ways would make of all the brews: accounts, 5 × n."""
        habits = self.habits.each.T
        mean: Matrix = np.mean([account(*with_habits(brewing, habits)) for brewing in self.brewings], axis=0)
        return mean

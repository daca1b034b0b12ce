"""One lot of malt for another."""

from __future__ import annotations

from collections.abc import Iterable

from journal.frozen import dataclass


@dataclass(frozen=True)
class Lot:
    """A lot's extract as is, fraction of its weight by its sheet; `effect`: what it gave over what its sheet promised."""

    extract: float
    effect: float = 1.0


def swap(weights: Iterable[float], old: Lot, new: Lot) -> tuple[float, ...]:
    """Weights, kg, of the new lot that bring the extract which these weights of the old one did.

    Raises ValueError where one of the two has no extract to reckon by.
    """
    if old.extract * old.effect <= 0 or new.extract * new.effect <= 0:
        raise ValueError("a lot without extract can't take another's place")
    times = old.extract * old.effect / (new.extract * new.effect)
    return tuple(weight * times for weight in weights)

"""The priming of a brew like an earlier one, where what the earlier one got missed the carbonation that it was to have."""

from __future__ import annotations

from typing import NamedTuple

from journal.figures import BatchFigures, Result
from journal.figures.poured import priming_sugar_of
from journal.reading import Batch
from journal.science import carbonation


class PrimingAnew(NamedTuple):
    """kg of sugar for L of beer that bring the carbonation wanted; `gave` is what the weight before came to."""

    weight: float
    volume: float
    gave: Result


def prime_anew(like: Batch, figures: BatchFigures, by_volume: float) -> PrimingAnew | None:
    """What to prime a brew with that is `by_volume` times an earlier one; None where that one's own weight is as good.

    As good is what brings the carbonation within its uncertainty, and what nobody can judge. The beer is taken to be as warm as it was.
    Source: stoichiometry, `carbonation.priming`.
    """
    wanted, sugar = like.package.carbonation, priming_sugar_of(like.package.priming)
    gave, residual, volume = (figures.get(name) for name in ("carbonation", "residual_carbonation", "package_volume"))
    if wanted is None or sugar is None or gave is None or residual is None or volume is None:
        return None
    if misses(gave, wanted.value) == 0.0:
        return None
    packaged = volume.value * by_volume
    weight = carbonation.priming(wanted.value, residual.value, packaged, sugar)
    return PrimingAnew(weight, packaged, gave) if weight > 0.0 else None


def misses(gave: Result, wanted: float) -> float:
    """By how much, g/L, a carbonation misses the one wanted; 0 within its uncertainty."""
    return gave.value - wanted if abs(gave.value - wanted) > gave.sd else 0.0

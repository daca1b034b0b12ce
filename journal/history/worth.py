"""What a better efficiency is worth: grain saved against the brewer's own earlier level, and money where prices are known."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from math import fsum
from statistics import mean, variance
from typing import Protocol

from journal.figures import BatchFigures
from journal.frozen import dataclass
from journal.history.change import LevelStep
from journal.history.lot_steps import lots_differ
from journal.numerics import coverage_factor
from journal.reading import Batch, Malts

#: Batches that an earlier level is taken from where nothing stepped: the first ones.
FIRST_ONES = 5


class OwnValue(Protocol):
    """A batch's own value of a figure, and what is left of it after grist and volumes."""

    @property
    def batch(self) -> str:
        """The batch's id."""
        ...

    @property
    def value(self) -> float:
        """The figure."""
        ...

    @property
    def residual(self) -> float:
        """What grist and volumes leave of it."""
        ...


@dataclass(frozen=True)
class Savings:
    """Grain saved, kg in all (negative: spent), and money in whatever the brewer counts in, None where a price is wanting."""

    grain: float
    money: float | None


@dataclass(frozen=True)
class Worth:
    """What the `batches` since `since` saved against the level before.

    `change`, a fraction, is that of brewhouse efficiency for the grist, `low` to `high` its interval at LEVEL; `least` and `most`
    are what the ends of it would have saved. `by_brewing`: whether the brewing itself changed, and not what an instrument
    shows or a lot gives; without that nothing is claimed.
    """

    since: str
    batches: int
    change: float
    low: float
    high: float
    saved: Savings
    least: Savings
    most: Savings
    by_brewing: bool = True

    @property
    def sure(self) -> bool:
        """Whether scatter alone would hardly make such a difference, and neither an instrument nor a lot may have."""
        return self.by_brewing and (self.low > 0.0 or self.high < 0.0)


def price_of(batch: Batch, malts: Malts) -> float | None:
    """What a kilogram of the grist cost; None where a malt's price is not known."""
    paid, weight = 0.0, 0.0
    for grain in batch.grains:
        malt = malts.by_key.get(grain.malt or "")
        if grain.weight is None or malt is None or malt.price is None:
            return None
        paid += malt.price.value * grain.weight.value
        weight += grain.weight.value
    return paid / weight if weight > 0 else None


def _interval(
    before: Sequence[OwnValue], after: Sequence[OwnValue], lots: Mapping[str, Mapping[str, float]], sheet: float
) -> tuple[float, float]:
    """A difference of two means by Welch's t, with what other lots' sheets may have wrong, which does not average out."""
    parts = [variance(p.residual for p in points) / len(points) for points in (before, after)]
    degrees_of_freedom = (
        fsum(parts) ** 2
        / fsum(part**2 / (len(points) - 1) for part, points in zip(parts, (before, after), strict=True))
        if fsum(parts) > 0.0
        else math.inf
    )
    earlier, later = ([lots.get(p.batch, {}) for p in points] for points in (before, after))
    shared = lots_differ(earlier, later, sheet)
    half_width = coverage_factor(degrees_of_freedom) * math.hypot(
        math.sqrt(fsum(parts)), shared * mean(p.value for p in after)
    )
    change = mean(p.residual for p in after) - mean(p.residual for p in before)
    return change - half_width, change + half_width


def _savings(
    after: Sequence[OwnValue],
    earlier: float,
    batches: Mapping[str, Batch],
    figures: Mapping[str, BatchFigures],
    malts: Malts,
) -> Savings:
    """What a batch that got `value`, where `earlier` would have got less, wanted less grain by."""
    grain, money = 0.0, 0.0
    priced = True
    for point in after:
        then = point.value - (point.residual - earlier)
        saved = figures[point.batch]["grain_weight"].value * (point.value / then - 1.0)
        grain += saved
        price = price_of(batches[point.batch], malts)
        priced = priced and price is not None
        money += saved * (price or 0.0)
    return Savings(grain, money if priced else None)


def worth_of(
    points: Sequence[OwnValue],
    steps: Sequence[LevelStep],
    batches: Mapping[str, Batch],
    figures: Mapping[str, BatchFigures],
    malts: Malts,
    lots: Mapping[str, Mapping[str, float]],
    sheet: float,
) -> Worth | None:
    """What the brews since the last step, or after the first ones, saved; None where there is nothing to hold them against.

    `lots` by batch are shares of the grist's extract, `sheet` the relative standard uncertainty of a lot's sheet.
    """
    start = steps[-1].first if steps else FIRST_ONES
    before = points[steps[-2].first if len(steps) > 1 else 0 : start]
    after = points[start:]
    if len(before) < FIRST_ONES - 2 or len(after) < FIRST_ONES - 2:
        return None
    level = mean(point.residual for point in after)
    change = level - mean(point.residual for point in before)
    low, high = _interval(before, after, lots, sheet)
    saved, least, most = (
        _savings(after, level - difference, batches, figures, malts) for difference in (change, low, high)
    )
    return Worth(after[0].batch, len(after), change, low, high, saved, least, most)

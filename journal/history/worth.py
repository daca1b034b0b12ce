"""What a better efficiency is worth: grain saved against the brewer's own earlier level, and money where prices are known."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from statistics import mean
from typing import Protocol

from journal.figures import BatchFigures
from journal.history.change import Step
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
class Worth:
    """Grain saved by the `batches` since `since`, kg in all, against the level before (negative: spent).

    `change` is that of brewhouse efficiency for the grist, a fraction; `money` in whatever the brewer counts in, None where a price
    is wanting.
    """

    since: str
    batches: int
    change: float
    grain: float
    money: float | None


def _price(batch: Batch, malts: Malts) -> float | None:
    """What a kilogram of the grist cost; None where a malt's price is not known."""
    paid, weight = 0.0, 0.0
    for grain in batch.grains:
        malt = malts.by_key.get(grain.malt or "")
        if grain.weight is None or malt is None or malt.price is None:
            return None
        paid += malt.price.value * grain.weight.value
        weight += grain.weight.value
    return paid / weight if weight > 0 else None


def worth_of(
    points: Sequence[OwnValue],
    steps: Sequence[Step],
    batches: Mapping[str, Batch],
    figures: Mapping[str, BatchFigures],
    malts: Malts,
) -> Worth | None:
    """What the brews since the last step, or after the first ones, saved; None where there is nothing to hold them against.

    A batch that got `value` where the earlier level would have got `value` less the change wanted less grain by that share.
    """
    start = steps[-1].first if steps else FIRST_ONES
    before = points[steps[-2].first if len(steps) > 1 else 0 : start]
    after = points[start:]
    if len(before) < FIRST_ONES - 2 or len(after) < FIRST_ONES - 2:
        return None
    earlier = mean(point.residual for point in before)
    grain, money = 0.0, 0.0
    priced = True
    for point in after:
        then = point.value - (point.residual - earlier)
        weight = figures[point.batch]["grain_weight"].value
        saved = weight * (point.value / then - 1.0)
        grain += saved
        price = _price(batches[point.batch], malts)
        priced = priced and price is not None
        money += saved * (price or 0.0)
    change = mean(point.residual for point in after) - earlier
    return Worth(after[0].batch, len(after), change, grain, money if priced else None)

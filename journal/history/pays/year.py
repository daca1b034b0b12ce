"""How much malt a brewhouse takes in a year as it is brewed now, and what a kilogram costs."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from journal.figures import BatchFigures
from journal.history.worth import price_of
from journal.reading import Batch, Malts

_YEAR = 365.0
#: A record shorter than this, days, says nothing of a year: its batches count as the year's.
_SHORT = 90.0


def batches_a_year(batches: Sequence[Batch]) -> float:
    """Batches a year at the pace of the year before the latest one, `batches` in order of brewing, one or more.

    A record of less than a year is taken on at its own pace; one of less than three months is not.
    """
    last = batches[-1].day
    span = float((last - batches[0].day).days)
    if span < _SHORT:
        return float(len(batches))
    if span < _YEAR:
        return (len(batches) - 1) * _YEAR / span
    return float(sum((last - batch.day).days < _YEAR for batch in batches))


def price_per_kg(batches: Sequence[Batch], figures: Mapping[str, BatchFigures], malts: Malts) -> float | None:
    """What a kilogram of the grists cost on the mean, over the batches all of whose malts have a price; None where fewer than half have."""
    priced = [
        (price, figures[batch.id]["grain_weight"].value)
        for batch in batches
        if (price := price_of(batch, malts)) is not None
    ]
    if 2 * len(priced) < len(batches) or not priced:
        return None
    return sum(price * weight for price, weight in priced) / sum(weight for _, weight in priced)

"""Years of brewing as strips: a dot a brew, from January to December."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from journal.frozen import dataclass
from journal.pages.charts.axis import Axis, AxisTick
from journal.pages.charts.strip import StripAxis, StripPicture
from journal.pages.counted import count_batches
from journal.pages.index import Index
from journal.pages.model import Link
from journal.pages.paths import year_path
from journal.pages.words import MONTHS

_DAYS = Axis(1.0, 366.0)
_MONTHS = tuple(
    AxisTick(_DAYS.share(date(2024, month, 1).timetuple().tm_yday), MONTHS[month - 1][:3]) for month in (1, 4, 7, 10)
)
#: The axis of the year, under its strips.
YEAR_AXIS = StripAxis(_DAYS, _MONTHS, "January to December")


@dataclass(frozen=True)
class YearStrip:
    """A year: its page, how many batches it has in words, and a dot for each, which says no more than the words beside it."""

    year: Link
    words: str
    strip: StripPicture


def year_strip(index: Index, year: int) -> YearStrip:
    """One year's brews, and those that are planned as open dots."""
    brewed, planned = (
        tuple(
            float(batch.day.timetuple().tm_yday)
            for batch in index.batches
            if batch.day.year == year and batch.planned is which
        )
        for which in (False, True)
    )
    words = ", ".join([count_batches(len(brewed))] * bool(brewed) + [f"{len(planned)} planned"] * bool(planned))
    strip = StripPicture(_DAYS, "", dots=brewed, open_dots=planned, ticks=_MONTHS)
    return YearStrip(Link(str(year), year_path(year)), words, strip)


def year_strips(index: Index, years: Iterable[int]) -> tuple[YearStrip, ...]:
    """Several years, in the order given."""
    return tuple(year_strip(index, year) for year in years)


def years_of(index: Index) -> list[int]:
    """Every year in which something was brewed or is to be, the latest first."""
    return sorted({batch.day.year for batch in index.batches}, reverse=True)

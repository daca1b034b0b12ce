"""Amounts as they stand on a working sheet: rounded as they are measured out, in the brewery's units."""

from __future__ import annotations

import re
from collections.abc import Sequence

from journal.figures.as_read import VolumeReading
from journal.figures.corrected import litres
from journal.history.plan import Range
from journal.measures import writing
from journal.measures.wording import range_ends, show_range, unit_for
from journal.pages.model import UNBROKEN
from journal.reading import Batch

#: °C that the marks of a kettle are read at where the record says nothing (common practice), by where it is read.
USUALLY_READ_AT = {"before": 65.0, "after": 95.0}


def unbroken(text: str) -> str:
    """An amount that no line breaks in."""
    return text.replace(" ", UNBROKEN)


def weight(value: float, system: str) -> str:
    """kg, as it is weighed out."""
    return unbroken(writing.weight(value, system))


def volume(value: float, system: str) -> str:
    """L, as it is measured out."""
    return unbroken(writing.volume(value, system))


def unit_of(amount: str) -> str:
    """The first unit in an amount: that in which the next is typed."""
    found = re.search(r"[^\W\d_]+", amount)
    return found[0] if found else ""


def temperature(value: float, system: str) -> str:
    """°C, as a thermometer shows it."""
    return unbroken(writing.temperature(value, system).replace("deg", "°"))


def minutes(value: float) -> str:
    """Whole minutes."""
    return unbroken(writing.time(value))


def gravity(value: float) -> str:
    """SG to a point."""
    return writing.gravity(value)


def sign(unit: str, system: str) -> str:
    """The sign of a unit as the brewery sees it."""
    return unit_for(unit, system).sign


def span(found: Range, unit: str, system: str, times: float = 1.0) -> str:
    """The range of what is expected; `times` it for a volume read hot."""
    return unbroken(show_range(found.low * times, found.high * times, unit, system))


def lies_within(shown: str, found: Range, unit: str, system: str, times: float = 1.0) -> bool:
    """Whether a number as shown lies in that range as shown, its ends included; neither is negative."""
    low, high = (float(end) for end in range_ends(found.low * times, found.high * times, unit, system))
    return low <= float(shown) <= high


def swelling(at: float) -> float:
    """How many litres at a temperature, °C, a litre at 20 °C fills."""
    return 1.0 / litres(VolumeReading(1.0, at))


def read_at(earlier: Sequence[Batch], where: str) -> tuple[float, bool]:
    """The temperature, °C, that the kettle's marks are read at `before` or `after` the boil, and whether the record says so.

    That of the latest earlier batch that states one.
    """
    for batch in reversed(earlier):
        vessel = getattr(batch.boil, where)
        if vessel.volume is not None and vessel.volume.at is not None:
            return vessel.volume.at, True
    return USUALLY_READ_AT[where], False

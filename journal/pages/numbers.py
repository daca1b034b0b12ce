"""Numbers from figures and readings, as the brewery sees them."""

from __future__ import annotations

from journal.figures import Result
from journal.measures.wording import Shown, show
from journal.pages.model import Number


def number(shown: Shown) -> Number:
    """A shown number, cut at its decimal point."""
    whole, point, fraction = shown.value.partition(".")
    return Number(whole, point + fraction, shown.sd, shown.unit)


def quantity(value: float, sd: float, unit: str, system: str) -> Number:
    """A number of a kept unit."""
    return number(show(value, sd, unit, system))


def of_result(result: Result, system: str) -> Number:
    """A figure with its uncertainty."""
    return quantity(result.value, result.sd, result.unit, system)

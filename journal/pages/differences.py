"""Differences in words: signed, efficiencies in points, intervals at 90 %."""

from __future__ import annotations

from journal.measures.wording import show_difference, show_range, unit_for
from journal.pages.model import UNBROKEN

#: Half a 90 % interval in standard deviations: what an interval's width says of the digits its middle deserves.
HALF_WIDTH = 1.645


def change(value: float, low: float, high: float, unit: str, system: str) -> str:
    """`+3.2 points (2.1 to 4.3)`, for units whose nought is nothing."""
    shown = show_difference(value, (high - low) / 2 / HALF_WIDTH, unit, system)
    return join(shown.value, shown.unit, f"({between(low, high, unit, system)})")


def between(low: float, high: float, unit: str, system: str) -> str:
    """`2.1 to 4.3`, without its unit."""
    return show_range(low, high, unit, system).removesuffix(f" {unit_for(unit, system).sign}").replace(" ", UNBROKEN)


def difference(value: float, sd: float, unit: str, system: str) -> str:
    """`+3.2 ± 0.7 points`."""
    return join(str(show_difference(value, sd, unit, system)))


def join(*parts: str) -> str:
    """Parts that stay on one line."""
    return " ".join(part for part in parts if part).replace(" ", UNBROKEN)


def signed_points(value: float, low: float, high: float, system: str) -> str:
    """`+3.2 points`, with the digits that its interval deserves."""
    shown = show_difference(value, (high - low) / 2 / HALF_WIDTH, "1", system)
    return join(shown.value, shown.unit)

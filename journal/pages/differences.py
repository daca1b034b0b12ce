"""Differences in words: signed, efficiencies in points, intervals at 90 %."""

from __future__ import annotations

from journal.measures.wording import plain, range_ends, show_difference, show_range, signed, unit_for
from journal.pages.model import UNBROKEN

#: Half a 90 % interval in standard deviations: what an interval's width says of the digits its middle deserves.
HALF_WIDTH = 1.645


def show_change(value: float, low: float, high: float, unit: str, system: str) -> str:
    """`+3.2 points (2.1 to 4.3)`, for units whose nought is nothing."""
    return join(show_change_alone(value, low, high, unit, system), f"({between(low, high, unit, system)})")


def show_change_alone(value: float, low: float, high: float, unit: str, system: str) -> str:
    """`+3.2 points`, with as many digits as its interval has, which may stand beside it."""
    shown = show_difference(value, (high - low) / 2 / HALF_WIDTH, unit, system)
    finest = max(_decimals(end) for end in range_ends(low, high, unit, system))
    if _decimals(shown.value) == finest:
        return join(shown.value, shown.unit)
    return join(signed(plain(unit_for(unit, system).convert_difference(value), finest)), shown.unit)


def show_within(value: float, low: float, high: float, unit: str, system: str) -> str:
    """`74.3 % (73.1 to 75.5)`: a value with its interval, both to the digits that this deserves."""
    how, (first, last) = unit_for(unit, system), range_ends(low, high, unit, system)
    decimals = max(_decimals(first), _decimals(last))
    return join(plain(how.convert(value), decimals), how.sign, f"({first} to {last})")


def _decimals(number: str) -> int:
    return len(number.partition(".")[2])


def between(low: float, high: float, unit: str, system: str) -> str:
    """`2.1 to 4.3`, without its unit."""
    return show_range(low, high, unit, system).removesuffix(f" {unit_for(unit, system).sign}").replace(" ", UNBROKEN)


def difference(value: float, sd: float, unit: str, system: str) -> str:
    """`+3.2 ± 0.7 points`."""
    return join(str(show_difference(value, sd, unit, system)))


def join(*parts: str) -> str:
    """Parts that stay on one line."""
    return " ".join(part for part in parts if part).replace(" ", UNBROKEN)

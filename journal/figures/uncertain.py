"""A number that knows what it is uncertain by: what each independent quantity brings to it, by tag.

To first order, as the *Guide to the expression of uncertainty in measurement* has it (JCGM 100:2008, section 5): the parts of
one tag add up with their signs, those of different tags as squares. So two numbers from one reading move together.
"""

from __future__ import annotations

import math
from collections.abc import Iterable


class Uncertain:
    """`value`, and in `parts` by tag the standard uncertainty each source brings, signed by the way it moves the value."""

    __slots__ = ("parts", "value")

    def __init__(self, value: float, parts: dict[str, float]) -> None:
        self.value = value
        self.parts = parts

    @property
    def sd(self) -> float:
        """Combined standard uncertainty (k = 1)."""
        return math.hypot(*self.parts.values())

    def __repr__(self) -> str:
        return f"{self.value:g} ± {self.sd:g}"


def source(value: float, sd: float, tag: str) -> Uncertain:
    """An independent quantity; whatever has the same tag is the same quantity."""
    return Uncertain(value, {tag: sd})


def combined(value: float, slopes: Iterable[tuple[Uncertain, float]]) -> Uncertain | float:
    """A number that moves with others by given slopes; a plain number if there are none."""
    parts: dict[str, float] = {}
    for number, slope in slopes:
        for tag, part in number.parts.items():
            parts[tag] = parts.get(tag, 0.0) + slope * part
    return Uncertain(value, parts) if parts else value

"""A number that knows what it is uncertain by: what each independent quantity brings to it, by its source.

To first order, as the *Guide to the expression of uncertainty in measurement* has it (JCGM 100:2008, section 5): the parts of
one source add up with their signs, those of different ones as squares. So two numbers from one reading move together.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from enum import StrEnum
from typing import NamedTuple


class ErrorKind(StrEnum):
    """What it is about a source that is uncertain; the value is how it is told apart in text."""

    READING = ""  # what was read or stated at its path
    TEMPERATURE = "at"  # the temperature that it was read at
    CORRELATION = "correlation"  # the relation by which an instrument's reading is understood
    EXTRACT = "extract"  # a malt's extract, by its sheet
    MODEL = "model of"  # the relation that gives a figure
    BALANCED = "balance"  # a direction in which a balance is free to move


class ErrorSource(NamedTuple):
    """One independent source of uncertainty: a path in the entry, in brewery.yaml or malts.yaml; of a model a figure's name."""

    path: str
    kind: ErrorKind = ErrorKind.READING

    def __str__(self) -> str:
        if self.kind is ErrorKind.MODEL:
            return f"{self.kind} {self.path}"
        beside = self.kind in {ErrorKind.TEMPERATURE, ErrorKind.CORRELATION}
        return f"{self.path} {self.kind}" if beside else self.path


class Uncertain:
    """`value`, and in `parts` the standard uncertainty each source brings, signed by the way it moves the value."""

    __slots__ = ("parts", "value")

    def __init__(self, value: float, parts: dict[ErrorSource, float]) -> None:
        self.value = value
        self.parts = parts

    @property
    def sd(self) -> float:
        """Combined standard uncertainty (k = 1)."""
        return math.hypot(*self.parts.values())

    def __repr__(self) -> str:
        return f"{self.value:g} ± {self.sd:g}"


def source(value: float, sd: float, of: ErrorSource) -> Uncertain:
    """An independent quantity; whatever has the same source is the same quantity."""
    return Uncertain(value, {of: sd})


def combine(value: float, slopes: Iterable[tuple[Uncertain, float]]) -> Uncertain | float:
    """A number that moves with others by given slopes; a plain number if there are none."""
    parts: dict[ErrorSource, float] = {}
    for number, slope in slopes:
        if not parts:
            parts = {of: slope * part for of, part in number.parts.items()}
            continue
        for of, part in number.parts.items():
            parts[of] = parts.get(of, 0.0) + slope * part
    return Uncertain(value, parts) if parts else value

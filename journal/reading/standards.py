"""What an instrument is held against: water, ice, a weight, a solution or a buffer whose value is known."""

from __future__ import annotations

import re
from typing import NamedTuple

from journal.frozen import dataclass
from journal.measures import Gravity, Measure, Scale, read_gravity, read_measure
from journal.measures.units import PH, TEMPERATURE, WEIGHT
from journal.reading.located_yaml import Node, Scalar
from journal.reading.values import Context

WATER, ICE, BOILING_WATER, A_WEIGHT, A_STRENGTH, A_PH, WEIGHED_WATER = (
    "water",
    "ice",
    "boiling water",
    "a weight",
    "a solution",
    "a buffer",
    "weighed water",
)
EXAMPLES = {
    WATER: "water at 20 degC",
    ICE: "ice",
    BOILING_WATER: "boiling water",
    A_WEIGHT: "5.000 kg",
    A_STRENGTH: "10.0 °P",
    A_PH: "pH 7.01",
    WEIGHED_WATER: "10.00 kg of water at 15 degC",
}
_BY_NAME = dict.fromkeys(("ice", "ice water", "iced water", "melting ice"), ICE) | {"boiling water": BOILING_WATER}


class Standard(NamedTuple):
    """What an instrument was held against: `what` it was, its `value` (kg, °P or pH; 0 where the name says it) and its degC."""

    what: str
    value: float = 0.0
    at: float | None = None


@dataclass(frozen=True)
class StandardForm:
    """A thing whose value is known, one of those an instrument can be held against."""

    accepted: tuple[str, ...]

    @property
    def words(self) -> str:
        """What they are, by examples."""
        return f"what is known, such as {' or '.join(EXAMPLES[what] for what in self.accepted)}"

    def read(self, node: Node, path: str, context: Context) -> Standard | None:
        """The standard."""
        text = " ".join(node.text.split()) if isinstance(node, Scalar) else ""
        found = _standard(text)
        if found is not None and found.what in self.accepted:
            return found
        what = f"“{text}” is nothing this is checked with" if text else f"`{path}` must be what it was checked against"
        hint = f"Write {', or '.join(EXAMPLES[what] for what in self.accepted)}."
        context.report("not-a-choice", what, hint, node.span, path)
        return None


def _standard(text: str) -> Standard | None:
    if text.casefold() in _BY_NAME:
        return Standard(_BY_NAME[text.casefold()])
    return _of_water(text) or _of_a_number(text)


def _of_water(text: str) -> Standard | None:
    if water := re.fullmatch(r"(?:distilled |tap |plain )?water(?: at (.+))?", text, re.IGNORECASE):
        at = read_measure(water[1], TEMPERATURE) if water[1] else Measure(20.0, "celsius")
        return Standard(WATER, 0.0, at.value) if isinstance(at, Measure) else None
    if weighed := re.fullmatch(r"(.+?) of (?:distilled |tap )?water(?: at (.+))?", text, re.IGNORECASE):
        weight = read_measure(weighed[1], WEIGHT)
        at = read_measure(weighed[2], TEMPERATURE) if weighed[2] else Measure(20.0, "celsius")
        if isinstance(weight, Measure) and isinstance(at, Measure):
            return Standard(WEIGHED_WATER, weight.value, at.value)
        return None
    return None


def _of_a_number(text: str) -> Standard | None:
    if buffer := re.fullmatch(r"pH\s*(.+)", text, re.IGNORECASE):
        value = read_measure(buffer[1], PH)
        return Standard(A_PH, value.value, value.at) if isinstance(value, Measure) else None
    weight = read_measure(text, WEIGHT)
    if isinstance(weight, Measure):
        return Standard(A_WEIGHT, weight.value)
    strength = read_gravity(text)
    if isinstance(strength, Gravity) and strength.scale is not Scale.HYDROMETER:
        return Standard(A_STRENGTH, strength.value)
    return None

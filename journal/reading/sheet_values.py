"""What malt sheets and shops state in their own way: an extract in points, a price by the pound."""

from __future__ import annotations

import re
from dataclasses import dataclass

from journal.measures import Measure
from journal.measures.units import NUMBER, SHARE, WEIGHT, MeasureKind, affine
from journal.reading.located_yaml import Node, Scalar
from journal.reading.values import Context, Quantity

#: Points of gravity that a pound of pure sucrose, all of it extract, gives a US gallon (common practice).
SUCROSE_POINTS = 46.2
_POINTS = re.compile(r"(\d{1,2}(?:\.\d+)?)\s*(?:ppg|pts?\b.*|points?\b.*)", re.IGNORECASE)
_FRACTION = re.compile(r"0?\.\d+")
_GRAVITY = re.compile(r"1\.0\d{1,3}")
#: So few per cent of a malt are extract that a bare number is likelier one of points (common practice).
_FEWEST_POINTS = 20.0
#: A number, perhaps with the sign of a currency, and perhaps what it is the price of.
PRICE = r"[$€£]?\s*(\d+(?:\.\d+)?)\s*[$€£]?(?:\s*(?:per|/)\s*(kg|lb|lbs|pound|oz))?"


@dataclass(frozen=True)
class ExtractShare(Quantity):
    """A share of the weight that is extract; of one in points per pound and gallon it says which share that is."""

    kind: MeasureKind = SHARE
    zero: bool = True

    def read(self, node: Node, path: str, context: Context) -> Measure | None:
        """The share, a fraction of 1."""
        text = node.text.strip() if isinstance(node, Scalar) else ""
        if _FRACTION.fullmatch(text):
            hint = f"A share is written in per cent: {100.0 * float(text):.4g} %."
            context.report("unit-missing", f"`{path}`: “{text}” has no unit", hint, node.span, path)
            return None
        points = _points(text)
        if not points or points > SUCROSE_POINTS:
            return super().read(node, path, context)
        share, why = (
            f"{100.0 * points / SUCROSE_POINTS:.0f} %",
            f"pure sucrose gives {SUCROSE_POINTS:g}, all of it extract",
        )
        if re.fullmatch(r"[\d.]+", text) and not _GRAVITY.fullmatch(text):
            hint = f"A unit is never guessed: write {text} %, or {share} if it is points per pound and gallon, of which {why}."
            context.report("unit-missing", f"`{path}`: “{text}” has no unit", hint, node.span, path)
        else:
            message = f"`{path}`: “{text}” is in points per pound and gallon, and this must be a share of the weight"
            context.report("unit-wrong-kind", message, f"Write {share}: {why}.", node.span, path)
        return None


def _points(text: str) -> float | None:
    """Points per pound and gallon that a text states, or may; None where it states none."""
    if found := _POINTS.fullmatch(text):
        return float(found[1])
    if _GRAVITY.fullmatch(text):
        return 1000.0 * (float(text) - 1.0)
    bare = re.fullmatch(r"\d\d(?:\.\d+)?", text)
    return float(text) if bare and float(text) >= _FEWEST_POINTS else None


@dataclass(frozen=True)
class Price(Quantity):
    """A price in whatever the brewer counts in: of a kilogram, or `per lb`."""

    kind: MeasureKind = NUMBER
    zero: bool = True

    @property
    def words(self) -> str:
        """Examples of it."""
        return "a number such as 1.45, of a kilogram; or $1.60 per lb"

    def read(self, node: Node, path: str, context: Context) -> Measure | None:
        """The price of a kilogram."""
        found = re.fullmatch(PRICE, node.text.strip()) if isinstance(node, Scalar) else None
        if not found:
            return super().read(node, path, context)
        kilograms = affine(WEIGHT.written[found[2]], WEIGHT.unit)[0] if found[2] else 1.0
        return Measure(float(found[1]) / kilograms, "fraction")

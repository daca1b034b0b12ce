"""Quantities: number, unit, uncertainty, temperature.

In: a brewer's text. Out: a `Measure` or `Gravity` in a known unit, or the `Fault` that says what to write instead; and
back, numbers as text for people. The only pint registry lives here. Imports `problems` alone.
"""

from journal.measures.grammar import read_gravity, read_measure
from journal.measures.measure import Fault, Gravity, Measure, Scale
from journal.measures.units import MeasureKind

__all__ = ["Fault", "Gravity", "Measure", "MeasureKind", "Scale", "read_gravity", "read_measure"]

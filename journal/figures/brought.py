"""Figures that are nothing but a reading brought to 20 °C: they come of the table of readings."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from journal.figures.catalogue import Figure, enter
from journal.figures.corrected import gravity, litres
from journal.reading.known_readings import GRAVITY, READINGS, VOLUME, KnownReading

#: By unit of the figure: what corrects a reading, the formula's words, the source.
_BROUGHT: dict[str, tuple[Callable[[Any], float], str, str]] = {
    VOLUME: (litres, "at 20 °C", "V·ρw(T)/ρw(20 °C), density of water by Kell 1975 (ITS-90 form)"),
    GRAVITY: (
        gravity,
        "as SG 20/20",
        "hydrometers by buoyancy with ICUMSA SPS-4 densities; °P by the ASBC table's cubic; °Bx divided by the wort factor",
    ),
}


def enter_readings(group: str) -> None:
    """Put those of one group into the catalogue, in the order of the work."""
    for reading in READINGS:
        if reading.means and reading.group == group:
            _enter(reading)


def _enter(reading: KnownReading) -> None:
    """The figure that is nothing but a reading brought to 20 °C."""
    correct, words, source = _BROUGHT[reading.unit]

    def brought(**given: Any) -> float:
        return correct(given[reading.parameter])

    brought.__doc__ = reading.means
    formula, needs = f"{{{reading.parameter}}} {words}", (reading.parameter,)
    enter(Figure(reading.figure, reading.unit, reading.group, formula, source, brought, needs, ()))

"""Temperatures that can't be meant on the scale they are written on, and can on the other one.

All temperatures that can be at all pass the grammar; here each field is held to what is brewed (common practice). What would
be odd on both scales is let be: a cold mash at 4 degC, or liquor of any heat, is nobody's slip.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import TYPE_CHECKING

from journal.measures import Measure
from journal.measures.units import affine
from journal.problems import Problem
from journal.reading.table import walk

if TYPE_CHECKING:
    from journal.reading.entry import Batch

#: degC, least and greatest, that a field may state, by its path without numbers of lines. The warmest yeasts ferment at 42, and
#: wort sours at up to 50; liquor, wort at knockout and what is cooled for a stand may have any heat.
_BREWED = {
    "mash.grain_temperature": (-25.0, 45.0),
    "mash.strike": (30.0, 105.0),
    "mash.rests.temperature": (30.0, 105.0),
    "souring.temperature": (10.0, 55.0),
    "souring.readings.temperature": (5.0, 105.0),
    "stand.temperature": (40.0, 105.0),
    "cooling.to": (-2.0, 55.0),
    "fermenter.temperatures.temperature": (-4.0, 45.0),
    "readings.temperature": (-4.0, 45.0),
    "package.warmest": (-4.0, 45.0),
    "package.pressure": (-4.0, 33.0),
}
_LINE = re.compile(r"\[\d+\]")


def find_mixed_scales(batch: Batch) -> Iterator[Problem]:
    """Every temperature that was meant in degF and written as degC, or the other way round."""
    for path, value, _ in walk(batch):
        brewed = _BREWED.get(_LINE.sub("", path)) if isinstance(value, Measure) else None
        if brewed is None:
            continue
        written = batch.written(path)
        other = on_other_scale(value, written, *brewed)
        if other:
            message = f"`{path}: {written}` can hardly be meant here"
            yield Problem("temperature-doubtful", message, f"Check the unit: {other}?", batch.place(path))


def on_other_scale(value: Measure, written: str, low: float, high: float) -> str | None:
    """The temperature, or that of a sample, with the other scale's unit, where only on that it lies from low to high, degC."""
    celsius = value.at if value.unit not in {"celsius", "fahrenheit"} else value.value
    if celsius is None or low <= celsius <= high:
        return None
    scale, offset = affine("fahrenheit", "celsius")
    fahrenheit = (celsius - offset) / scale
    in_fahrenheit = written.rstrip("\"'. ").endswith("F")
    number, meant = (fahrenheit, fahrenheit) if in_fahrenheit else (celsius, scale * celsius + offset)
    return f"{number:.4g} {'degC' if in_fahrenheit else 'degF'}" if low <= meant <= high else None

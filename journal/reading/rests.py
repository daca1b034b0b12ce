"""A rest of the mash, in words or as a group."""

from __future__ import annotations

import re
from typing import Any

from journal.frozen import dataclass
from journal.measures import Measure
from journal.measures.units import TEMPERATURE, TIME, VOLUME
from journal.problems import Span
from journal.reading.located_yaml import Node, Scalar
from journal.reading.table import Group, entry_field
from journal.reading.values import Context, Quantity, VesselVolume


@dataclass(frozen=True)
class Rest:
    """One step of the mash."""

    temperature: Measure | None = entry_field(Quantity(TEMPERATURE), "temperature of the mash", required=True)
    time: Measure | None = entry_field(Quantity(TIME), "how long it was held", required=True)
    infusion: Measure | None = entry_field(
        VesselVolume(VOLUME.such_as("4.0 L")),
        "liquor that brought the mash here, as measured cold; part of `mash.liquor`",
    )
    infusion_temperature: Measure | None = entry_field(
        Quantity(TEMPERATURE.such_as("96 degC")), "how hot that liquor was"
    )
    decoction: Measure | None = entry_field(
        VesselVolume(VOLUME.such_as("6 L")), "mash that was taken out, boiled and put back to bring the rest here"
    )
    boiled: Measure | None = entry_field(Quantity(TIME.such_as("15 min"), zero=True), "how long the decoction boiled")


@dataclass(frozen=True)
class RestForm:
    """A rest, as `66.5 degC for 60 min` or as a group."""

    words: str = "a rest such as 66.5 degC for 60 min or a group {temperature, time, infusion, decoction …}"

    def read(self, node: Node, path: str, context: Context) -> Rest | None:
        """The rest; both parts are needed."""
        if not isinstance(node, Scalar):
            rest = Group(Rest).read(node, path, context)
            return rest if isinstance(rest, Rest) else None
        parts = re.fullmatch(r"(.*?)(\s+for\s+)(.*)", node.text.strip())
        if not parts:
            hint = "Write it like this: 66.5 degC for 60 min."
            context.report(
                "number-unreadable", f"“{node.text}” is no rest: a temperature, `for`, a time", hint, node.span, path
            )
            return None
        time_start = node.span.start + parts.start(3)
        places = {
            "temperature": Span(node.span.start, node.span.start + parts.end(1)),
            "time": Span(time_start, node.span.end),
        }
        values: dict[str, Any] = {}
        for name, kind, text in (("temperature", TEMPERATURE, parts[1]), ("time", TIME, parts[3])):
            part_path = f"{path}.{name}"
            context.places[part_path] = places[name]
            values[name] = Quantity(kind).read(Scalar(text, places[name], node.plain), part_path, context)
        return None if None in values.values() else Rest(**values)

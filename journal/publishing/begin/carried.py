"""What the next brew takes over from the batch it is like: all that was chosen and not measured, scaled or moved where it must be."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import is_dataclass
from datetime import date, datetime
from typing import Any

from journal.figures import BatchFigures
from journal.frozen import dataclass
from journal.history.plan.draft import Multiples
from journal.history.plan.priming import PrimingAnew, prime_anew
from journal.history.plan.strike import cold_litres
from journal.measures import Measure, writing
from journal.measures.units import is_depth
from journal.measures.wording import METRIC, US, show
from journal.publishing.begin.yaml_lines import YamlLine, quote
from journal.reading import Batch, Malts, resolve
from journal.reading.entry import Addition, Yeast
from journal.reading.known_readings import BY_PATH, MEASURED
from journal.reading.lines import name_of_line
from journal.reading.malts import may_bring_extract
from journal.reading.table import fields_of, is_blank, written_at

#: What beside MEASURED is of one day alone, and what a plan works out for itself or a draft writes in its own way.
_OF_THAT_DAY = {
    "mash": {"strike", "grain_temperature", "rests", "readings", "iodine", "stuck", "log"},
    "souring": {"readings"},
    "lauter": {"method", "time", "ph"},
    "boil": {"before", "after", "time"},
    "fermenter": {"pitched"},
    "fermenter.yeast": {"generation", "of_batch", "cells"},
    "package": {"on", "gravity", "warmest"},
}
#: Days and hours that move with the day of brewing.
_MOVED = frozenset({"on", "off", "began", "ended", "closed"})
#: Amounts that go with something, by the name of their field, wherever it stands: one of `Multiples`.
_WITH = {"top_up": "volume", "infusion": "liquor", "decoction": "mash", "ice_removed": "volume"}
_WORDS = {
    "volume": "with the volume",
    "liquor": "with the mash liquor",
    "sparge": "with the sparge",
    "mash": "with the mash",
    "extract": "with the extract",
}
#: What says what a line is of stands first in it.
_NAMING = frozenset({"addition", "hop", "name"})
#: The system whose kitchen scales hops are weighed on, by the unit that they were weighed in.
_KITCHEN = {"ounce": US, "pound": US, "gram": METRIC, "kilogram": METRIC}
_AMOUNTS = frozenset({"weight", "amount"})


@dataclass(frozen=True)
class CarriedOver:
    """Writes what is taken over from a batch; `later` is how many days after it the next one is brewed."""

    like: Batch
    figures: BatchFigures
    malts: Malts
    times: Multiples
    later: int
    system: str = METRIC

    def source(self, path: str) -> str:
        """What the entry says at a path, in its brewer's own writing; empty where it says nothing on one line."""
        text = self.like.source.text
        span = self.like.places.get(path)
        said = text[span.start : span.end].strip() if span else ""
        return "" if "\n" in said else said

    def group(self, path: str, indent: str) -> Iterator[YamlLine]:
        """The fields of a group, without its own line, but for what is of that day alone."""
        record, left_out = written_at(self.like, path), _OF_THAT_DAY.get(path, set())
        for name in fields_of(type(record)):
            if name not in left_out and BY_PATH.get(f"{path}.{name}") not in MEASURED:
                yield from self.field(f"{path}.{name}", getattr(record, name), indent)

    def field(self, path: str, value: Any, indent: str) -> Iterator[YamlLine]:
        """One field with all that it holds; nothing where it is blank."""
        name = path.rpartition(".")[2]
        if value is None or value == ():
            return
        if isinstance(value, Yeast) and value.strain and value == Yeast(strain=value.strain):
            yield YamlLine(f"{indent}{name}: {quote(value.strain)}", f"as batch {self.like.id}")
        elif is_dataclass(value):
            inner = () if is_blank(value) else tuple(self.group(path, f"{indent}  "))
            if inner:
                yield from (YamlLine(f"{indent}{name}:"), *inner)
        elif isinstance(value, tuple) and is_dataclass(value[0]):
            yield YamlLine(f"{indent}{name}:", f"as batch {self.like.id}")
            for place, line in enumerate(value):
                yield from self.line(f"{path}[{place}]", line, f"{indent}  ")
        else:
            text, comment = self._said(path, name, value)
            if text:
                yield YamlLine(f"{indent}{name}: {text}", comment)

    def line(self, path: str, line: Any, indent: str) -> Iterator[YamlLine]:
        """One line of a list, as a block."""
        first = "- "
        for name in sorted(fields_of(type(line)), key=lambda name: name not in _NAMING):
            value = getattr(line, name)
            times = self._times(path, line) if name in _AMOUNTS else ""
            text, comment = ("", "") if value is None else self._said(f"{path}.{name}", name, value, times)
            if text:
                yield YamlLine(f"{indent}{first}{name}: {text}", comment)
                first = "  "

    def _said(self, path: str, name: str, value: Any, times: str = "") -> tuple[str, str]:
        """A value as the next entry has it, and what is said of it."""
        anew = self._primed_anew() if path == "package.priming.weight" else None
        if anew is not None and isinstance(value, Measure):
            return writing.amount(anew.weight, value.unit, self.system), self._why_anew(anew)
        times = times or _WITH.get(name, "") or self._elsewhere(path)
        if times and isinstance(value, Measure):
            return self._scaled(value, getattr(self.times, times), path), f"scaled {_WORDS[times]}"
        if name in _MOVED and isinstance(value, date):
            return self._moved(value), ""
        if isinstance(value, str):
            return self.source(path) or quote(value), ""
        return self.source(path), ""

    def _primed_anew(self) -> PrimingAnew | None:
        return prime_anew(self.like, self.figures, self.times.volume)

    def _why_anew(self, anew: PrimingAnew) -> str:
        """What the weight of the priming sugar is for, and what it was before."""
        gave = show(anew.gave.value, anew.gave.sd, anew.gave.unit, self.system)
        before, wanted = (self.source(f"package.{field}") for field in ("priming.weight", "carbonation"))
        return (
            f"for {wanted} in {writing.volume(anew.volume, self.system)}: {before} in batch {self.like.id} gave {gave}"
        )

    def _elsewhere(self, path: str) -> str:
        """What an amount outside a list goes with."""
        return {"package.priming.weight": "volume", "fermenter.yeast.amount": "extract"}.get(path, "")

    def _times(self, path: str, line: Any) -> str:
        """What the amount of a line goes with: what brings extract with the extract, salts with their liquor, the rest with the beer."""
        if isinstance(line, Addition) and may_bring_extract(line, self.malts):
            values = resolve(line, path, self.malts)
            known = values.extract_as_is or values.extract
            if known is None or known.value > 0:
                return "extract"
        group = path.partition(".")[0]
        if not isinstance(line, Addition) or not name_of_line(line):
            return "volume"
        return {"mash": "liquor", "lauter": "sparge"}.get(group, "volume")

    def _scaled(self, measure: Measure, times: float, path: str) -> str:
        """An amount multiplied, in the unit it was written in where it is small; a depth by the dip as what it came to."""
        if is_depth(measure.unit):
            found = self.figures.get(
                {"boil.top_up": "kettle_top_up", "fermenter.top_up": "fermenter_top_up"}.get(path, "")
            )
            return writing.volume(found.value * times, self.system) if found else ""
        if ".hops[" in path and measure.unit in _KITCHEN:
            return writing.weight(measure.value * times, _KITCHEN[measure.unit])
        if measure.at is not None:
            return writing.amount(cold_litres(measure) * times, measure.unit, self.system)
        return writing.amount(measure.value * times, measure.unit, self.system)

    def _moved(self, when: date) -> str:
        day = date.fromordinal(when.toordinal() + self.later)
        if not isinstance(when, datetime) or (when.hour, when.minute) == (0, 0):
            return day.isoformat()
        return f"{day} {when:%H:%M}"

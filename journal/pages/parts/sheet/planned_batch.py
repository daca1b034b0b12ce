"""What every part of a working sheet looks things up in."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import datetime

from journal.frozen import dataclass
from journal.history.plan import Range
from journal.history.plan.from_batch import of_extract_alone
from journal.history.plan.readings import READINGS
from journal.measures import Measure, MeasureKind, writing
from journal.measures.units import TEMPERATURE, VOLUME, WEIGHT
from journal.pages.parts.sheet import words
from journal.pages.parts.sheet.model import CLOCK, GRAVITY, WORDS, Box, Task, Typed
from journal.pages.view import BatchView
from journal.pages.words import day
from journal.reading import Batch
from journal.reading.entry import Addition
from journal.reading.table import written_at

#: What follows a reading's path in the key of the box for the temperature that it was read at.
AT = "at"
#: The key of the box for the time at which the boil begins: hops and sugars fall due by it.
BOILS = "boil from"


@dataclass(frozen=True)
class PlannedBatch:
    """A planned batch, what its readings are expected to show by figure, and the earlier batches of its brewhouse."""

    view: BatchView
    expected: dict[str, Range]
    earlier: tuple[Batch, ...]

    @property
    def system(self) -> str:
        """The units that the brewery sees."""
        return self.view.system

    @property
    def batch(self) -> Batch:
        """The planned batch."""
        return self.view.batch

    @property
    def of_extract_alone(self) -> bool:
        """Whether nothing is mashed or steeped."""
        return of_extract_alone(self.batch, self.view.figures)

    def sign(self, unit: str) -> str:
        """The sign of a unit as the brewery sees it."""
        return words.sign(unit, self.system)

    def typed(self, path: str, kind: MeasureKind, unit: str = "", expected: Range | None = None) -> Typed:
        """A quantity for a field of the entry; a number alone counts in a kept `unit` as the brewery sees it."""
        ends = (expected.low, expected.high) if expected else None
        return Typed(path, kind.name, unit and self.sign(unit), path, self.batch.written(path), ends)

    def beside(self, path: str, what: str, kind: MeasureKind, unit: str) -> Typed:
        """A quantity that has no field of its own, told beside that of a path."""
        return Typed(f"{path} {what}", kind.name, self.sign(unit))

    def weight_box(self, said: str, path: str, amount: str, unit: str = "") -> Box:
        """Room for a weight, which counts in the unit that its planned amount is in."""
        shown = words.unit_of(amount) or self.sign("kg")
        return Box(said, unit, replace(self.typed(path, WEIGHT), unit=shown))

    def weighed(self, name: str, weight: Measure | None, path: str, beside: str = "") -> Task:
        """Something to be weighed out, with what is said beside its weight."""
        amount = words.weight(weight.value, self.system) if weight else ""
        return Task(
            name, amount, beside, "", (self.weight_box("weighed", path, amount, "" if weight else self.sign("kg")),)
        )

    def added(self, group: str, lines: Iterable[tuple[int, Addition]] | None = None) -> Iterator[Task]:
        """What is to be added in a group of the entry, or these of its lines, each with when it goes in."""
        every = lines if lines is not None else enumerate(written_at(self.batch, f"{group}.additions"))
        for place, line in every:
            path = f"{group}.additions[{place}]"
            amount = words.unbroken(self.batch.written(f"{path}.{line.weight_field}"))
            if line.weighed is not None:
                amount = words.unbroken(writing.amount(line.weighed.value, line.weighed.unit, self.system))
            boiled = f"boils {words.minutes(line.boiled.value)}" if line.boiled else ""
            when = day(line.on.date()).text if line.on else boiled
            field, boil = f"{path}.{line.weight_field}", self.batch.boil.time
            box = (
                Box("in", "", Typed(path, WORDS)) if line.weighed is None else self.weight_box("weighed", field, amount)
            )
            if box.typed and line.boiled and boil and group == "boil":
                due = (BOILS, boil.value - line.boiled.value)
                box = replace(box, typed=replace(box.typed, after=due))
            yield Task(self.view.names[path], amount, when, "", (box,))

    def hops(self, group: str) -> Iterator[Task]:
        """Hops of a group of the entry but the kettle's, whose time is the boil's."""
        for place, hop in enumerate(written_at(self.batch, f"{group}.hops")):
            amount = words.weight(hop.weight.value, self.system) if hop.weight else ""
            days = [day(when.date()).text for when in (hop.on, hop.off) if isinstance(when, datetime)]
            stood = f"for {words.minutes(hop.stood.value)}" if hop.stood else ""
            box = Box("in at", "", Typed(f"{group}.hops[{place}]", CLOCK))
            yield Task(hop.hop or "", amount, " to ".join(days) or stood, "", (box,))

    def gravity(self, name: str, figure: str) -> Task:
        """A gravity to be read, with what it is expected to be."""
        found = self.expected.get(figure)
        path = READINGS[figure].path
        ends = (found.low, found.high) if found else None
        boxes = (Box("read", "", Typed(path, GRAVITY, "", path, self.batch.written(path), ends)),)
        if found is None:
            return Task(name, boxes=boxes)
        return Task(name, words.gravity(found.expected), words.span(found, "SG", self.system), "", boxes)

    def temperature_box(self, said: str, path: str) -> Box:
        """Room for a temperature that has a field of its own."""
        return Box(said, self.sign("°C"), self.typed(path, TEMPERATURE, "°C"))

    def volume(self, name: str, figure: str, at: float | None = None, note: str = "") -> Task:
        """A volume to be read at a temperature, °C, None for 20, with what it is expected to be there and at 20 °C."""
        found, path = self.expected.get(figure), READINGS[figure].path
        warm = Box("at", self.sign("°C"), self.beside(path, AT, TEMPERATURE, "°C"))
        boxes = (
            Box("read", self.sign("L"), self.typed(path, VOLUME, "L", found)),
            *([warm] if at is not None else []),
        )
        if found is None:
            return Task(name, boxes=boxes)
        if at is None:
            return Task(
                name,
                words.volume(found.expected, self.system),
                words.span(found, "L", self.system),
                note,
                boxes,
            )
        times = words.swelling(at)
        cold = f"{words.volume(found.expected, self.system)} at {words.temperature(20.0, self.system)}"
        return Task(
            name,
            words.volume(found.expected * times, self.system),
            words.span(found, "L", self.system, times),
            f"{cold}{'; ' + note if note else ''}",
            boxes,
        )

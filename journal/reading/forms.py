"""Values that may be written in more than one way: a text or a group, one quantity or several, a time of the clock."""

from __future__ import annotations

import re
from datetime import datetime, timedelta
from typing import Any, NamedTuple

from journal.frozen import dataclass
from journal.measures import Measure
from journal.problems import Span
from journal.reading.located_yaml import Mapping, Node, Scalar, Sequence
from journal.reading.table import Group
from journal.reading.values import Context, ListOf, Moment, Quantity

#: When hops came out: a moment, or at knockout.
Off = datetime | str
KNOCKOUT = "knockout"


@dataclass(frozen=True)
class OrText(Group):
    """A group of fields, or a text that stands for one of them."""

    field: str

    @property
    def words(self) -> str:
        """What may stand there."""
        return f"a text, or a group {super().words}"

    def read(self, node: Node, path: str, context: Context) -> Any:
        """The record; of a text, with that field alone."""
        if isinstance(node, Mapping):
            return super().read(node, path, context)
        if not isinstance(node, Scalar):
            return Group.read(self, node, path, context)
        context.places[f"{path}.{self.field}"] = node.span
        return self.record(**{self.field: node.text.strip()}) if node.text.strip() else None


@dataclass(frozen=True)
class OneOrMore:
    """A quantity, or a list of such."""

    item: Quantity

    @property
    def words(self) -> str:
        """An example of each."""
        return f"{self.item.words}, or a list of such"

    def read(self, node: Node, path: str, context: Context) -> Measure | tuple[Measure, ...] | None:
        """The measure, or the measures of a list in order."""
        if isinstance(node, Sequence):
            return ListOf(self.item).read(node, path, context) or None
        return self.item.read(node, path, context)


@dataclass(frozen=True)
class OffForm:
    """When hops came out."""

    words: str = "a date such as 2026-04-21, or knockout"

    def read(self, node: Node, path: str, context: Context) -> Off | None:
        """The moment, or the word."""
        if isinstance(node, Scalar) and node.text.strip() == KNOCKOUT:
            return KNOCKOUT
        return Moment().read(node, path, context)


class ClockTime(NamedTuple):
    """A time of the brewing day, min since its midnight, and what was done."""

    minutes: int
    words: str

    def on(self, day: datetime) -> datetime:
        """The moment, on a day that began at `day`."""
        return day + timedelta(minutes=self.minutes)


@dataclass(frozen=True)
class ClockForm:
    """A clock time and words."""

    words: str = "a clock time and words such as 08:40 mashed in"

    def read(self, node: Node, path: str, context: Context) -> ClockTime | None:
        """The time within its day; what comes before it says which day."""
        text = node.text.strip() if isinstance(node, Scalar) else ""
        parts = re.fullmatch(r"(\d{1,2})[:.](\d{2})\s+(\S.*)", text, re.DOTALL)
        hours, minutes = (int(parts[1]), int(parts[2])) if parts else (24, 0)
        if parts is None or hours > 23 or minutes > 59:
            shown = f"“{text}”" if text else f"`{path}`"
            hint = "Write hours, a colon, minutes, a space and what was done, such as: - 08:40 mashed in."
            if isinstance(node, Mapping):
                hint += " A colon in the words needs the whole line in quotation marks."
            span = Span(node.span.start, node.span.end)
            context.report("not-a-clock-time", f"{shown} is no time of the clock with words", hint, span, path)
            return None
        return ClockTime(60 * hours + minutes, " ".join(parts[3].split()))


def in_days(times: tuple[ClockTime, ...]) -> tuple[ClockTime, ...]:
    """Clock times one after the other: one that is earlier than the one above is of the next day."""
    found: list[ClockTime] = []
    for time in times:
        days = found[-1].minutes // 1440 if found else 0
        later = days + 1 if found and 1440 * days + time.minutes < found[-1].minutes else days
        found.append(ClockTime(1440 * later + time.minutes, time.words))
    return tuple(found)

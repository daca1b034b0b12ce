"""The trends page and its charts."""

from __future__ import annotations

from dataclasses import dataclass

from journal.pages.models.common import Model, Number, When


@dataclass(frozen=True)
class Point:
    """A batch in a chart: day (ISO), value and standard uncertainty in the chart's unit; `flagged` if a warning is on it."""

    day: str
    value: float
    sd: float
    batch: str
    href: str
    words: str
    flagged: bool


@dataclass(frozen=True)
class Chart:
    """One figure over time; `unit` is the sign at the axis."""

    figure: str
    words: str
    unit: str
    summary: str
    points: tuple[Point, ...]


@dataclass(frozen=True)
class TrendRow:
    """A batch in the table of numbers, a cell for each chart; None where the figure is absent."""

    id: str
    href: str
    brewed: When
    cells: tuple[Number | None, ...]
    flagged: tuple[bool, ...]


@dataclass(frozen=True, kw_only=True)
class TrendsModel(Model):
    """Efficiencies and boil-off over time."""

    sentence: str
    outlook: str
    charts: tuple[Chart, ...]
    columns: tuple[str, ...]
    rows: tuple[TrendRow, ...]

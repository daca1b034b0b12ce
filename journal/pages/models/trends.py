"""The trends page and its charts."""

from __future__ import annotations

from dataclasses import dataclass

from journal.pages.model import Link, Model, Number, When


@dataclass(frozen=True)
class Point:
    """A batch in a chart: day (ISO), value and standard uncertainty in the chart's unit; `flagged` if it is left out."""

    day: str
    value: float
    sd: float
    batch: str
    href: str
    words: str
    flagged: bool


@dataclass(frozen=True)
class Band:
    """Centre and limits over a stretch of days (ISO), in the chart's unit."""

    first: str
    last: str
    low: float
    centre: float
    high: float


@dataclass(frozen=True)
class StepMark:
    """Where a level changed: the day (ISO) of the first batch at the new one, and the change in a few words."""

    day: str
    words: str


@dataclass(frozen=True)
class Chart:
    """One figure over time; `unit` is the sign at the axis, `small` a chart that stands below another.

    `by_themselves`: points are what a batch's readings say by themselves, so that they may differ from reconciled numbers.
    """

    figure: str
    words: str
    unit: str
    summary: str
    points: tuple[Point, ...]
    bands: tuple[Band, ...] = ()
    steps: tuple[StepMark, ...] = ()
    small: bool = False
    by_themselves: bool = False


@dataclass(frozen=True)
class SignalWords:
    """A run that scatter seldom makes: the batch that completed it, and what is odd."""

    batch: Link
    words: str


@dataclass(frozen=True)
class Trend:
    """A figure's course: the chart, what grist and volumes leave of it where that is another picture, and what it says.

    `limits` tells what the band is or why there is none; `sentences` tell steps and drift.
    """

    chart: Chart
    left: Chart | None
    limits: str
    sentences: tuple[str, ...]
    signals: tuple[SignalWords, ...]


@dataclass(frozen=True)
class HitRow:
    """How often what was foreseen of one figure came about."""

    figure: Link
    right: int
    of: int
    share: str


@dataclass(frozen=True)
class Foreseen:
    """How right the expectations were: one sentence, and a row a figure."""

    sentence: str
    rows: tuple[HitRow, ...]


@dataclass(frozen=True)
class TrendRow:
    """A batch in the table of numbers, a cell for each chart; None where the figure is absent."""

    id: str
    href: str
    brewed: When
    cells: tuple[Number | None, ...]
    flagged: tuple[bool, ...]


@dataclass(frozen=True)
class TastedRow:
    """A batch that was given a score, and what was done: mash temperature, attenuation, practice, empty where not known."""

    batch: Link
    brewed: When
    score: str
    mash: str
    attenuation: Number | None
    practice: str
    faults: str


@dataclass(frozen=True)
class TrendSection:
    """One brewhouse; `name` is empty where there is only one. `worth` is what a change of level saved or spent."""

    name: str
    anchor: str
    sentence: str
    outlook: str
    trends: tuple[Trend, ...]
    worth: str
    foreseen: Foreseen | None
    columns: tuple[str, ...]
    tasted: tuple[TastedRow, ...]
    rows: tuple[TrendRow, ...]


@dataclass(frozen=True, kw_only=True)
class TrendsModel(Model):
    """Efficiencies and boil-off over time, a section a brewhouse, the one with most batches first."""

    sections: tuple[TrendSection, ...]

    @property
    def sentence(self) -> str:
        """What the page opens with."""
        return self.sections[0].sentence

    @property
    def outlook(self) -> str:
        """What will come, of the first brewhouse."""
        return self.sections[0].outlook

"""The page on the brewhouses: what the record says of each."""

from __future__ import annotations

from dataclasses import dataclass

from journal.pages.model import Link, Model, Number


@dataclass(frozen=True)
class Dot:
    """One batch in a small picture: `x` in per cent of its width; `y`, `low` and `high` in pixels from its top."""

    x: float
    y: float
    low: float
    high: float
    batch: Link


@dataclass(frozen=True)
class Line:
    """A level across a small picture: pixels from its top."""

    y: float


@dataclass(frozen=True)
class SmallCourse:
    """Values in order of date: the level, what batches scatter about it, and what is stated, if it lies within."""

    height: int
    top: float
    bottom: float
    level: Line
    spread_top: float
    spread_height: float
    stated: Line | None
    dots: tuple[Dot, ...]
    summary: str


@dataclass(frozen=True)
class Learnt:
    """One thing learnt: what it is, its level with standard error, the spread between batches, and what is stated."""

    anchor: str
    words: str
    meaning: str
    rests: str
    number: Number
    spread: Number
    batches: int
    stated: str
    disagrees: bool
    course: SmallCourse


@dataclass(frozen=True)
class BrewhouseSection:
    """One brewhouse; `outlook` says what will come where nothing is learnt yet."""

    name: str
    anchor: str
    summary: str
    outlook: str
    learnt: tuple[Learnt, ...]


@dataclass(frozen=True, kw_only=True)
class BrewhouseModel(Model):
    """Every brewhouse, the one with most batches first."""

    sections: tuple[BrewhouseSection, ...]

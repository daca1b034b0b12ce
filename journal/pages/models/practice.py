"""The page on what goes with a better figure."""

from __future__ import annotations

from dataclasses import dataclass

from journal.pages.model import Link, Model


@dataclass(frozen=True)
class IntervalBar:
    """An interval about nought: `low`, `high`, `middle` and `zero` in per cent of the bar's width, and all of it in words."""

    low: float
    high: float
    middle: float
    zero: float
    words: str


@dataclass(frozen=True)
class LeverRow:
    """One lever, or one of its words against the commonest: what was tried, and what went with it.

    `per` is the step that `effect` and `interval` stand for; `clear` says that the record is sure; `aside` names what it
    changed together with.
    """

    words: str
    tried: str
    batches: int
    per: str
    effect: str
    interval: str
    bar: IntervalBar
    clear: bool
    verdict: str
    aside: str


@dataclass(frozen=True)
class PairRow:
    """Two batches that differ in one lever only, the earlier first."""

    lever: str
    first: Link
    second: Link
    before: str
    after: str
    difference: str


@dataclass(frozen=True)
class FigureStudy:
    """What goes with one figure: the answer, the levers that could be studied, and those that could not.

    `allowed_for` says lever by lever which others were; `settle` which change would tell most, or nothing.
    """

    figure: str
    words: str
    answer: str
    rows: tuple[LeverRow, ...]
    allowed_for: tuple[str, ...]
    silent: tuple[str, ...]
    pairs: tuple[PairRow, ...]
    settle: str


@dataclass(frozen=True)
class PracticeSection:
    """One brewhouse; `name` is empty where there is only one."""

    name: str
    anchor: str
    studies: tuple[FigureStudy, ...]


@dataclass(frozen=True, kw_only=True)
class PracticeModel(Model):
    """Which practice goes with a better figure, a section a brewhouse; `comparisons` leads to the batches side by side."""

    sections: tuple[PracticeSection, ...]
    comparisons: Link | None

"""A picture of something over time, or of one thing beside another: panels on one axis."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Tick:
    """A mark on an axis: its place in the picture's own units, and its words."""

    at: float
    text: str


@dataclass(frozen=True)
class Mark:
    """A point at its place, with its uncertainty's ends; `href` leads somewhere, `here` is the batch of the page."""

    x: float
    y: float
    top: float
    bottom: float
    words: str
    href: str = ""
    here: bool = False


@dataclass(frozen=True)
class Strip:
    """A range of the upright axis, told from its neighbours by its words: where it begins and how high it is."""

    y: float
    height: float
    words: str


@dataclass(frozen=True)
class Panel:
    """One drawing: its top and bottom, what the upright axis counts, its ticks, and what is drawn.

    `line` is a path of what was recorded, `fitted` one of what it was fitted by, `band` the outline of how sure that is; empty for
    none.
    """

    top: float
    bottom: float
    unit: str
    ticks: tuple[Tick, ...]
    marks: tuple[Mark, ...] = ()
    strips: tuple[Strip, ...] = ()
    line: str = ""
    fitted: str = ""
    band: str = ""


@dataclass(frozen=True)
class CoursePicture:
    """Panels above one another in a picture `width` by `height`; from `left` to `right` they are drawn.

    `summary` says the same in words.
    """

    name: str
    title: str
    summary: str
    width: float
    height: float
    left: float
    right: float
    panels: tuple[Panel, ...]
    ticks: tuple[Tick, ...]
    across: str

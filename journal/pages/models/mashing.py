"""What a batch's page says of its mash."""

from __future__ import annotations

from dataclasses import dataclass

from journal.pages.model import Link, Number
from journal.pages.models.course import CoursePicture


@dataclass(frozen=True)
class ComparedFigure:
    """A figure of the mash beside the earlier mashes of its brewhouse: their range, empty where there are too few."""

    figure: Link
    number: Number
    earlier: str


@dataclass(frozen=True)
class Advice:
    """A note such as a friend would give: what, why, and by whose word."""

    text: str
    reason: str
    source: str


@dataclass(frozen=True)
class MashPart:
    """The mash: its course, what is to be said of that, its figures beside earlier ones, how conversion went on, and notes."""

    picture: CoursePicture | None
    remark: str
    conversion: CoursePicture | None
    beside: tuple[ComparedFigure, ...]
    advice: tuple[Advice, ...]

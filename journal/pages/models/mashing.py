"""What a batch's page says of its mash."""

from __future__ import annotations

from dataclasses import dataclass

from journal.pages.models.common import Link, Number
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
    """The course of the mash, its figures beside those of earlier mashes, how conversion went on, and notes."""

    picture: CoursePicture | None
    conversion: CoursePicture | None
    beside: tuple[ComparedFigure, ...]
    advice: tuple[Advice, ...]

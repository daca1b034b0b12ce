"""What a batch's page says from pitching on."""

from __future__ import annotations

from dataclasses import dataclass

from journal.pages.model import When
from journal.pages.models.course import CoursePicture


@dataclass(frozen=True)
class TastingNote:
    """One tasting: its day, the brewer's words, the score in words (empty for none), faults by name."""

    on: When | None
    words: str
    score: str
    faults: tuple[str, ...]


@dataclass(frozen=True)
class FermentationPart:
    """The course of the fermentation, how it went in sentences, attenuation beside the mash, cautions, and tastings."""

    picture: CoursePicture | None
    sentences: tuple[str, ...]
    beside: CoursePicture | None
    cautions: tuple[str, ...]
    tasting: tuple[TastingNote, ...]

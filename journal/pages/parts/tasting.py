"""What was tasted, in the brewer's own words."""

from __future__ import annotations

from journal.frozen import dataclass
from journal.pages.beer import score_text
from journal.pages.model import When
from journal.pages.words import day
from journal.reading import Batch


@dataclass(frozen=True)
class TastingNote:
    """One tasting: its day, the brewer's words, the score in words (empty for none), faults by name."""

    on: When | None
    words: str
    score: str
    faults: tuple[str, ...]


def tasting_notes(batch: Batch) -> tuple[TastingNote, ...]:
    """Every tasting of a batch, as the entry has them."""
    return tuple(
        TastingNote(day(note.on) if note.on else None, note.words or "", score_text(note), note.faults)
        for note in batch.tasting
    )

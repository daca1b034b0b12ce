"""What brewery.yaml says of instruments that were checked and of what happened, by places of batches."""

from __future__ import annotations

from collections.abc import Sequence

from journal.history.moved.said import Said
from journal.reading import Batch, Brewery, Brewhouse


def told_of(batches: Sequence[Batch], brewery: Brewery, brewhouse: Brewhouse) -> Said:
    """The evidence for a record of these batches, in order of date."""
    del batches, brewery, brewhouse
    return Said()

"""The record of a journal, and one batch of it, for commands that ask about batches."""

from __future__ import annotations

from pathlib import Path

from journal.cli.common import refuse
from journal.pages.record import Record
from journal.publishing.cache import FileCache
from journal.publishing.named import batch_named
from journal.publishing.refused import Refused
from journal.publishing.understanding import understand, with_history
from journal.reading import Batch


def record_of(root: Path, *, history: bool = False) -> Record:
    """The record of the journal at `root`, with statistics over all batches only if asked; uses what earlier commands kept."""
    with FileCache(root) as memory:
        record = understand(root, memory=memory)
        return with_history(record, memory=memory) if history else record


def batch_called(batch: str, record: Record) -> Batch:
    """The batch with an id; ends the command with what is wrong where there is none."""
    found = batch_named(batch, record)
    if isinstance(found, Refused):
        refuse(found.why, misused=found.misused)
    return found

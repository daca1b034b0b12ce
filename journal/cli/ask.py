"""The record of a journal, and one batch of it, for commands that ask about batches."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from journal.build.cache import FileCache
from journal.build.understanding import understand, with_history
from journal.pages.record import Record
from journal.problems import did_you_mean
from journal.reading import Batch


def record_of(root: Path, *, history: bool = False) -> Record:
    """The record of the journal at `root`, with statistics over all batches only if asked; uses what earlier commands kept."""
    with FileCache(root) as memory:
        record = understand(root, memory=memory)
        return with_history(record, memory=memory) if history else record


def batch_called(batch: str, record: Record) -> Batch:
    """The batch with an id; ends the command with what is wrong where there is none."""
    by_id = {found.id: found for found in record.batches}
    if batch in by_id:
        return by_id[batch]
    for entry in record.broken:
        if entry.batch and entry.batch.id == batch:
            click.echo(f"{entry.file} has errors; `wortbook check {entry.file}` shows them.", err=True)
            sys.exit(1)
    raise click.UsageError(f"no batch is called {batch}. {did_you_mean(batch, by_id)}".rstrip())

"""What is known of a journal, for commands that ask about its batches."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from journal.build.kept import Kept
from journal.build.understanding import understand
from journal.cli.common import did_you_mean
from journal.pages.record import Record
from journal.reading import Batch


def understood(root: Path, *, tell_it: bool = False) -> Record:
    """What is known of each batch, and if told to of the record as a whole; what earlier commands worked out is recalled."""
    with Kept(root) as memory:
        return understand(root, memory=memory, tell_it=tell_it)


def batch_called(batch: str, record: Record) -> Batch:
    """The batch of an id; ends with what is wrong where none has it."""
    by_id = {known.id: known for known in record.batches}
    if batch in by_id:
        return by_id[batch]
    for entry in record.broken:
        if entry.batch and entry.batch.id == batch:
            click.echo(f"{entry.file} has errors; `wortbook check {entry.file}` shows them.", err=True)
            sys.exit(1)
    raise click.UsageError(f"no batch is called {batch}.{did_you_mean(batch, by_id)}")

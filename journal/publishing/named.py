"""The batch that a brewer names."""

from __future__ import annotations

from journal.pages.record import Record
from journal.problems import did_you_mean, in_words
from journal.publishing.refused import Refused
from journal.reading import Batch

#: How many of the latest batches are told where none is near the name.
_LATEST = 3


def batch_named(name: str, record: Record) -> Batch | Refused:
    """The batch with an id, or why there is none."""
    by_id = {found.id: found for found in record.batches}
    if name in by_id:
        return by_id[name]
    for entry in record.broken:
        if entry.batch and entry.batch.batch == name:
            why = f"{entry.file} has errors, so nothing can be taken from it; `wortbook check {entry.file}` shows them."
            return Refused(why, misused=False)
    latest = list(by_id)[-_LATEST:]
    there = f"The latest: {in_words(latest)}." if latest else "There is none yet; `wortbook begin` begins one."
    return Refused(f"no batch is called {name}. {did_you_mean(name, by_id, there)}")

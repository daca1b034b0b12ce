"""A journal understood: read, worked out, balanced, and what is wrong or odd in it. Knows no page."""

from __future__ import annotations

import gc
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from functools import partial
from pathlib import Path

from journal.balance.odd import odd
from journal.figures import BatchFigures, figures_of
from journal.figures.impossible import impossible
from journal.history.brewhouse import brewhouse_records, disagreements
from journal.history.fold import balance_all
from journal.memory import FORGETFUL, Memory, digest_of
from journal.pages.record import Record
from journal.problems import in_order
from journal.reading import Journal, read_journal

#: Called with what is being done, how many are done and how many there are.
Progress = Callable[[str, int, int], None]


@contextmanager
def not_collecting() -> Iterator[None]:
    """Python looks for garbage in circles ever again, and a build makes hardly any: that took a fifth of its time."""
    was = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was:
            gc.enable()


def silent(_what: str, _done: int, _total: int) -> None:
    """No progress shown."""


def figure_all(journal: Journal, progress: Progress = silent, memory: Memory = FORGETFUL) -> dict[str, BatchFigures]:
    """The figures of every batch as recorded, by id."""
    figures: dict[str, BatchFigures] = {}
    batches = journal.batches
    for done, batch in enumerate(batches):
        progress("Working out figures", done, len(batches))
        figures[batch.id] = memory.recall(
            digest_of("figures", batch.digest), partial(figures_of, batch, journal.brewery, journal.malts)
        )
    return figures


@not_collecting()
def understand(root: Path, progress: Progress = silent, memory: Memory = FORGETFUL, *, tell_it: bool = True) -> Record:
    """Everything known of a journal: read, worked out, balanced, and what is wrong or odd, in order.

    Without `tell_it` the record as a whole is left untold: neither the problems nor the pages of batches need it.
    """
    journal, problems = read_journal(root, memory)
    figures = figure_all(journal, progress, memory)
    balances = balance_all(journal, figures, lambda done, total: progress("Balancing", done, total), memory)
    for batch in journal.batches:
        impossible_values = impossible(batch, journal.brewery, figures[batch.id])
        problems.extend(odd(batch, journal.brewery, balances[batch.id], impossible_values))
    problems.extend(disagreements(brewhouse_records(journal, balances), journal.brewery))
    record = Record(journal, figures, tuple(in_order(problems)), balances)
    return told(record, progress, memory) if tell_it else record


def told(record: Record, progress: Progress = silent, memory: Memory = FORGETFUL) -> Record:
    """A record with what it says as a whole."""
    from journal.history.story import tell  # noqa: PLC0415  # whoever checks an entry does not wait for statistics

    progress("Reading the record", 0, 1)
    return replace(record, history=tell(record.journal, record.figures, record.balances, memory))

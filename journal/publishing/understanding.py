"""From a journal's folder to its `Record`: read, worked out, balanced, and what is wrong or odd in it. Knows no page."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from functools import partial
from pathlib import Path

from journal.balance.odd import odd
from journal.figures import BatchFigures, figures_of
from journal.figures.impossible import impossible
from journal.history import History, history_of
from journal.history.brewhouse import brewhouse_records, disagreements
from journal.history.fold import balance_all, digests_before
from journal.memory import FORGETFUL, LazyMapping, Memory, digest_of
from journal.pages.record import Record
from journal.problems import Problem, in_order
from journal.reading import Batch, Journal, read_journal

#: Called with what is being done, how many are done and how many there are.
Progress = Callable[[str, int, int], None]


def silent(_what: str, _done: int, _total: int) -> None:
    """No progress shown."""


def figure_all(journal: Journal, memory: Memory = FORGETFUL) -> Mapping[str, BatchFigures]:
    """The figures of every batch as recorded, by id."""
    figures: LazyMapping[BatchFigures] = LazyMapping()
    values = []
    for batch in journal.batches:
        key, make = digest_of("figures", batch.digest), partial(figures_of, batch, journal.brewery, journal.malts)
        values.append((key, make))
        memory.keep(key)
        figures.add(batch.id, partial(memory.recall, key, make))
    memory.make_ahead(values)
    return figures


def understand(root: Path, progress: Progress = silent, memory: Memory = FORGETFUL) -> Record:
    """What each batch of a journal comes to: read, worked out, balanced, and what is wrong or odd, in order.

    `root` is the folder that holds entries/. The record's history is still empty (see `with_history`): neither the
    problems nor the pages of batches need it. What a brewer wrote raises nothing.
    """
    journal, problems = read_journal(root, memory)
    figures = figure_all(journal, memory)
    balances = balance_all(journal, figures, lambda done, total: progress("Balancing", done, total), memory)
    record = Record(journal, figures, (), balances, History(()))
    problems.extend(_odd_in(record, memory))
    return replace(record, problems=tuple(in_order(problems)))


def _odd_in(record: Record, memory: Memory) -> Iterator[Problem]:
    """What the numbers of each batch say against themselves, and what the record says against brewery.yaml."""
    journal, batches = record.journal, record.batches
    *before, whole = digests_before(batches)

    def numbers(batch: Batch) -> list[Problem]:
        return odd(
            batch,
            journal.brewery,
            record.balances[batch.id],
            impossible(batch, journal.brewery, record.figures[batch.id]),
        )

    for batch, earlier in zip(batches, before, strict=True):
        yield from memory.recall(digest_of("odd", earlier, batch.digest), partial(numbers, batch))
    yield from memory.recall(
        digest_of("disagreements", whole),
        lambda: disagreements(brewhouse_records(journal, record.balances, stated_only=True), journal.brewery),
    )


def with_history(record: Record, progress: Progress = silent, memory: Memory = FORGETFUL) -> Record:
    """The record with the statistics over all its batches, which take longest of all."""
    progress("Reading the record", 0, 1)
    return replace(record, history=history_of(record.journal, record.figures, record.balances, memory))

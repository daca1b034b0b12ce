"""From a journal's folder to its `Record`: read, worked out, balanced, and what is wrong or odd in it. Knows no page."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from dataclasses import replace
from functools import partial
from pathlib import Path

from journal.balance.odd import find_odd
from journal.figures import CATALOGUE, BatchFigures, figures_of
from journal.figures.closed_package import ExpectedEnd, check_closed_package
from journal.figures.impossible import find_impossible
from journal.figures.looked_at import LOOKED_AT, completed
from journal.history import History, history_of
from journal.history.brewhouse import brewhouse_records, disagreements
from journal.history.fold import balance_all, digests_before
from journal.history.moved.notes import moved_by_brewhouse, moved_notes
from journal.memory import FORGETFUL, LazyMapping, Memory, digest_of
from journal.pages.record import Record
from journal.problems import BatchFault, Problem, in_order, internal_fault, naming
from journal.publishing.progress import Progress, show_no_progress
from journal.publishing.weighed_out import weigh_out_planned
from journal.reading import Batch, Journal, read_journal


def _figures_of(batch: Batch, journal: Journal, asked_for: Collection[str] = CATALOGUE.keys()) -> BatchFigures:
    with naming(batch.id):
        return figures_of(batch, journal.brewery, journal.malts, asked_for)


def figure_all(journal: Journal, memory: Memory = FORGETFUL, *, whole: bool = True) -> Mapping[str, BatchFigures]:
    """The figures of every batch as recorded, by id; unless `whole` those that only pages show when they are asked for."""
    figures: LazyMapping[BatchFigures] = LazyMapping()
    values = []
    for batch in journal.batches:
        key, make = digest_of("figures", batch.facts_digest), partial(_figures_of, batch, journal)
        recall_all = partial(memory.recall, key, make)
        if whole or memory.has(key):
            memory.keep(key)
            values.append((key, make))
            figures.add(batch.id, recall_all)
        else:
            key, make = digest_of("looked at", batch.facts_digest), partial(_figures_of, batch, journal, LOOKED_AT)
            values.append((key, make))
            figures.add(batch.id, partial(_completed, memory, key, make, recall_all))
    memory.make_ahead(values)
    return figures


def _completed(
    memory: Memory, key: str, make: Callable[[], BatchFigures], recall_all: Callable[[], BatchFigures]
) -> BatchFigures:
    return completed(memory.recall(key, make), recall_all)


def understand(
    root: Path, progress: Progress = show_no_progress, memory: Memory = FORGETFUL, *, for_pages: bool = True
) -> Record:
    """What each batch of a journal comes to: read, worked out, balanced, and what is wrong or odd, in order.

    `root` is the folder that holds entries/. The record's history is still empty (see `with_history`): neither the
    problems nor the pages of batches need it. Unless it is `for_pages`, figures that are only shown are worked out when they are
    asked for. What a brewer wrote raises nothing: a batch that a fault of ours keeps from being worked out is set aside, and the
    problems say so.
    """
    journal, problems = read_journal(root, memory)
    while True:
        figures = figure_all(journal, memory, whole=for_pages)
        record, odd_things, faults = _worked_out(journal, figures, progress, memory)
        if not faults:
            return replace(record, problems=tuple(in_order([*problems, *odd_things])))
        for fault in faults:
            batch = next(batch for batch in journal.batches if batch.id == fault.batch_id)
            problem = internal_fault(f"what batch {batch.id} comes to", fault.why, place=batch.place("batch"))
            journal = journal.without(batch.id, problem)
            problems.append(problem)


def _worked_out(
    journal: Journal, figures: Mapping[str, BatchFigures], progress: Progress, memory: Memory
) -> tuple[Record, list[Problem], list[BatchFault]]:
    """The record of a journal without its history, what is odd in it, and what keeps batches from being worked out."""
    record = Record(journal, figures, (), {}, History(()))
    found: list[Problem] = []
    faults: list[BatchFault] = []
    try:
        balances = balance_all(journal, record.figures, lambda done, total: progress("Balancing", done, total), memory)
    except BatchFault as fault:
        return record, found, [fault]
    record = replace(record, balances=balances)
    try:
        record = weigh_out_planned(record)
    except BatchFault as fault:
        return record, found, [fault]
    *before, whole = digests_before(record.batches)
    for batch, earlier in zip(record.batches, before, strict=True):
        key = digest_of("odd", earlier, batch.facts_digest)
        try:
            found += memory.recall(key, partial(_odd_in, record, batch))
        except BatchFault as fault:
            faults.append(fault)
    if not faults:
        try:
            record = replace(record, moved=moved_by_brewhouse(record.journal, record.figures, record.balances, memory))
            found += memory.recall(digest_of("of the record", whole), partial(_of_the_record, record))
        except BatchFault as fault:
            faults.append(fault)
    # one that could not be worked out spoils what hangs on it
    return record, found, list({fault.batch_id: fault for fault in faults}.values())


def _of_the_record(record: Record) -> list[Problem]:
    """What the record as a whole says: what moved in it, and what it contradicts in brewery.yaml."""
    journal = record.journal
    stated = brewhouse_records(journal, record.balances, stated_only=True)
    return [*moved_notes(journal, record.moved), *disagreements(stated, journal.brewery, record.moved)]


def _odd_in(record: Record, batch: Batch) -> list[Problem]:
    """What the numbers of a batch say against themselves."""
    brewery, figures, balance = record.journal.brewery, record.figures[batch.id], record.balances[batch.id]
    foreseen = balance.also_foreseen.get("apparent_attenuation")
    end = ExpectedEnd(foreseen.value, foreseen.low) if foreseen else None
    with naming(batch.id):
        return [
            *find_odd(batch, brewery, balance, find_impossible(batch, brewery, figures)),
            *check_closed_package(batch, brewery, figures, end),
        ]


def with_history(record: Record, progress: Progress = show_no_progress, memory: Memory = FORGETFUL) -> Record:
    """The record with the statistics over all its batches, which take longest of all."""
    progress("Reading the record", 0, 1)
    return replace(record, history=history_of(record.journal, record.figures, record.balances, memory))

"""Planned grists by shares with the weights that the record makes of them, before anything is shown of their batches."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import TypeVar

from journal.balance import Balance
from journal.balance.balance import judge_batch
from journal.figures import BatchFigures, figures_of
from journal.history.plan.by_shares import WeighedOut, weigh_out
from journal.memory import LazyMapping, digest_of
from journal.pages.record import Record
from journal.problems import naming

T = TypeVar("T")


def weigh_out_planned(record: Record) -> Record:
    """The record with every planned batch that states shares alone as its brewer will weigh it; one that can't be stays as it is.

    The entries are not touched: where a weight stands is where the entry says it, and of these none does.
    """
    planned = [batch for batch in record.batches if batch.planned and batch.by_shares]
    journal, figures, balances = record.journal, dict[str, BatchFigures](), dict[str, Balance]()
    for batch in planned:
        with naming(batch.id):
            found = weigh_out(batch, record.journal, record.figures, record.balances)
            if not isinstance(found, WeighedOut):
                continue
            came_to = (repr(found.plan), repr(found.ways))
            weighed = replace(
                found.batch,
                digest=digest_of(batch.digest, *came_to) if batch.digest else "",
                facts_digest=digest_of(batch.facts_digest, *came_to) if batch.digest else "",
            )
            numbers = figures_of(weighed, journal.brewery, journal.malts)
            judged = judge_batch(weighed, numbers, journal.brewery, journal.malts, found.priors)
        journal, figures[batch.id] = journal.with_batch(weighed), numbers
        also = record.balances[batch.id].also_foreseen
        balances[batch.id] = Balance(
            judged, found.priors, weighed, numbers, journal.brewery, journal.malts, also_foreseen=also
        )
    if not figures:
        return record
    return replace(
        record,
        journal=journal,
        figures=_with(record.figures, figures),
        balances=_with(record.balances, balances),
    )


def _with(known: Mapping[str, T], other: Mapping[str, T]) -> Mapping[str, T]:
    """The same values but for these; none is made that nobody asks for."""
    found: LazyMapping[T] = LazyMapping()
    for name in known:
        found.add(name, lambda name=name: other[name] if name in other else known[name])  # type: ignore[misc]
    return found

"""Everything the pages show, in one value."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import field
from functools import cached_property, partial

from journal.balance import BROKEN, Balance
from journal.figures import BatchFigures, Result
from journal.frozen import dataclass
from journal.history import History
from journal.history.moved.record import MovedRecord
from journal.problems import Problem
from journal.reading import Batch, Entry, Journal


@dataclass(frozen=True)
class Record:
    """The journal as read, its figures as recorded and its balances by batch id, and every problem in order of file and place.

    `journal.batches` are the batches without an error, in order of brewing; `broken` the entries that can't be published;
    `moved` what moved in each brewhouse, by its key, which is known before the rest of the history.
    """

    journal: Journal
    figures: Mapping[str, BatchFigures]
    problems: tuple[Problem, ...]
    balances: Mapping[str, Balance]
    history: History
    moved: Mapping[str, MovedRecord] = field(default_factory=dict)

    @property
    def batches(self) -> list[Batch]:
        """The batches without an error, by date of brewing."""
        return self.journal.batches

    @property
    def broken(self) -> list[Entry]:
        """Entries that an error keeps from being published."""
        return [entry for entry in self.journal.entries if entry.broken]

    def best(self, batch_id: str, name: str) -> Result | None:
        """A figure as it is to be shown first: reconciled where the balance holds, else as recorded; None where it is absent."""
        balance, recorded = self.balances.get(batch_id), self.figures[batch_id]
        return balance.best(name, recorded) if balance else recorded.get(name)

    def finder(self, batch_id: str) -> Callable[[str], Result | None]:
        """The same of one batch, for who looks up several."""
        balance, recorded = self.balances.get(batch_id), self.figures[batch_id]
        return recorded.get if balance is None else partial(balance.best, recorded=recorded)

    def counts(self, batch: Batch) -> bool:
        """Whether a batch belongs in statistics: its balance is not broken, or its brewer trusts it all the same."""
        balance = self.balances.get(batch.id)
        return balance is None or balance.verdict.status != BROKEN or batch.trust.get("balance", False)

    @cached_property
    def _problems(self) -> dict[str, list[Problem]]:
        found: dict[str, list[Problem]] = {}
        for problem in self.problems:
            found.setdefault(problem.file_name, []).append(problem)
        return found

    def problems_of(self, file: str) -> list[Problem]:
        """The problems of one entry's file."""
        return self._problems.get(file, [])

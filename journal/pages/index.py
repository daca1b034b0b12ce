"""What making any page needs to look up."""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import replace
from datetime import date
from functools import cached_property
from typing import TYPE_CHECKING

from journal.balance import BROKEN, Balance
from journal.figures import BatchFigures, Result
from journal.frozen import dataclass
from journal.measures.wording import METRIC
from journal.pages.model import UNBROKEN, Frame, Link
from journal.pages.paths import page_paths, slug
from journal.pages.record import Record
from journal.problems import Problem, Severity
from journal.reading import Batch

if TYPE_CHECKING:
    from journal.pages.view import BatchView


@dataclass(frozen=True)
class Index:
    """The record with its look-ups; `today` only tells a planned brew from one whose day has gone by."""

    record: Record
    today: date | None = None

    @cached_property
    def views(self) -> dict[str, BatchView]:
        """What `view_of` keeps, by batch id."""
        return {}

    @property
    def system(self) -> str:
        """The units that the brewery sees."""
        return self.record.journal.brewery.units or METRIC

    @property
    def brewery(self) -> str:
        """The brewery's name."""
        return self.record.journal.brewery.name or "A brewing journal"

    @cached_property
    def batches(self) -> list[Batch]:
        """The published batches in order of brewing."""
        return self.record.batches

    @cached_property
    def order(self) -> dict[str, int]:
        """The place of each batch in the order of brewing, by id."""
        return {batch.id: place for place, batch in enumerate(self.batches)}

    def beside(self, batch: Batch, step: int) -> Batch | None:
        """The batch so many after one in order of brewing, before it if negative; None beyond the ends."""
        place = self.order[batch.id] + step
        return self.batches[place] if 0 <= place < len(self.batches) else None

    @cached_property
    def brewed(self) -> list[Batch]:
        """Those that are not only planned."""
        return [batch for batch in self.batches if not batch.planned]

    def earlier(self, batch: Batch, most: int) -> list[Batch]:
        """The latest `most` batches brewed before one on the same brewhouse, in order of brewing."""
        journal = self.record.journal
        brewed = journal.by_brewhouse.get(journal.brewhouse_key(batch), [])
        before = bisect_left(brewed, self.order[batch.id], key=lambda each: self.order[each.id])
        return brewed[max(before - most, 0) : before]

    @cached_property
    def paths(self) -> dict[str, str]:
        """The page of every entry by its file."""
        return page_paths(self.record.journal)

    @cached_property
    def _problems(self) -> dict[str, list[Problem]]:
        found: dict[str, list[Problem]] = {}
        for problem in self.record.problems:
            found.setdefault(problem.file_name, []).append(problem)
        for entry in self.record.journal.entries:
            found.setdefault(entry.file, []).extend(p for p in entry.log_problems if p.file_name != entry.file)
        return found

    def problems_of(self, file: str) -> list[Problem]:
        """The problems of one entry and of the logs it names, gravest first, then in order of their place."""
        return sorted(self._problems.get(file, []), key=lambda problem: problem.severity.rank)

    def warnings_of(self, batch: Batch) -> list[Problem]:
        """What is odd in a batch."""
        return [problem for problem in self.problems_of(batch.file) if problem.severity is not Severity.NOTE]

    def figures(self, batch: Batch) -> BatchFigures:
        """A batch's figures as recorded."""
        return self.record.figures[batch.id]

    def balance(self, batch: Batch) -> Balance | None:
        """A batch's balance, None where none was struck."""
        return self.record.balances.get(batch.id)

    def reconciled(self, batch: Batch) -> bool:
        """Whether a batch's figures are shown as its balance has them."""
        balance = self.balance(batch)
        return balance is not None and balance.holds

    def doubtful(self, batch: Batch) -> bool:
        """Whether a batch's readings contradict one another."""
        balance = self.balance(batch)
        return balance is not None and balance.verdict.status == BROKEN

    def best(self, batch: Batch) -> BatchFigures:
        """A batch's figures as they are to be shown first; each keeps the readings that it was worked out from."""
        figures = self.figures(batch)
        return replace(figures, results={name: self._best(batch, found) for name, found in figures.results.items()})

    def _best(self, batch: Batch, recorded: Result) -> Result:
        best = self.record.best(batch.id, recorded.name)
        if best is None or best is recorded:
            return recorded
        return Result(best.name, best.unit, best.value, best.sd, recorded.parts, recorded.inputs)

    def result(self, batch: Batch, name: str) -> Result | None:
        """One figure of a batch as it is to be shown first, None where it is absent."""
        recorded = self.figures(batch).get(name)
        return None if recorded is None else self._best(batch, recorded)

    def link(self, batch: Batch) -> Link:
        """A batch by its number and title."""
        return Link(f"{batch.id}{UNBROKEN}{batch.title}", self.paths[batch.file])

    @cached_property
    def anchors(self) -> dict[str, str]:
        """Where each brewhouse stands on the pages of the record, by its key, the one with most batches first."""
        by_key = self.record.journal.by_brewhouse
        return {
            key: f"brewhouse-{slug(key).lower()}-{place}" if key else f"brewhouse-{place}"
            for place, key in enumerate(sorted(by_key, key=lambda key: -len(by_key[key])), 1)
        }

    @property
    def address(self) -> str:
        """Where the journal is published, with a slash at its end; empty where no address is stated."""
        return self.record.journal.brewery.address or ""

    def frame(self, title: str, part: str, summary: str = "", kind: str = "website", image: str = "") -> Frame:
        """What stands around a page."""
        return Frame(self.brewery, title, part, summary, self.address, kind, image, self.system)

    def flagged(self, batch: Batch, result: Result) -> bool:
        """Whether a figure is kept out of statistics.

        A warning stands on a reading that it was worked out from, or on itself; or the batch's readings contradict one
        another and its brewer does not trust them all the same.
        """
        if not self.record.counts(batch):
            return True
        used = {source.path for source, _ in result.parts}
        doubted = (problem.path for problem in self.warnings_of(batch) if problem.path)
        return any(path == result.name or any(_within(reading, path) for reading in used) for path in doubted)


def _within(reading: str, path: str) -> bool:
    return reading == path or reading.startswith((f"{path}.", f"{path}["))

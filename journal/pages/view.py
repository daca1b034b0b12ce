"""What every part of a batch's page looks things up in."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from journal.figures import BatchFigures
from journal.figures.counted import Recordings
from journal.figures.instruments import Deviations
from journal.pages.grist import line_names
from journal.pages.index import Index
from journal.pages.model import Number
from journal.pages.numbers import quantity
from journal.reading import Batch


@dataclass(frozen=True)
class BatchView:
    """One batch's readings and what it takes to show them."""

    index: Index
    batch: Batch
    names: dict[str, str]

    @property
    def system(self) -> str:
        """The units that the brewery sees."""
        return self.index.system

    @property
    def figures(self) -> BatchFigures:
        """The batch's figures as recorded."""
        return self.index.figures(self.batch)

    @cached_property
    def best(self) -> BatchFigures:
        """The batch's figures as they are shown first: reconciled where the balance holds."""
        return self.index.best(self.batch)

    @cached_property
    def deviations(self) -> Deviations:
        """How uncertain a reading is."""
        return Deviations(self.index.record.journal.brewery.instruments)

    @cached_property
    def recordings(self) -> Recordings:
        """What each reading counts as."""
        return Recordings(self.batch, self.index.record.journal.brewery)

    @cached_property
    def doubted(self) -> frozenset[str]:
        """Paths that a warning stands on."""
        return frozenset(problem.path for problem in self.index.warnings_of(self.batch) if problem.path)

    def shown(self, value: float, sd: float, unit: str) -> Number:
        """A number as the brewery sees it."""
        return quantity(value, sd, unit, self.system)


def view_of(index: Index, batch: Batch) -> BatchView:
    """A batch with its look-ups."""
    return BatchView(index, batch, line_names(index, batch))

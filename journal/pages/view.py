"""What every part of a batch's page looks things up in."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import field
from functools import cached_property
from typing import Any, TypeVar

from journal.figures import BatchFigures
from journal.figures.as_read import Observed
from journal.figures.beer_gravities import Fermentation
from journal.figures.counted import Recordings
from journal.figures.instruments import Deviations
from journal.figures.observe import observe
from journal.frozen import dataclass
from journal.pages.grist import line_names
from journal.pages.index import Index
from journal.pages.model import Number
from journal.pages.numbers import quantity
from journal.reading import Batch

T = TypeVar("T")


@dataclass(frozen=True)
class BatchView:
    """One batch's readings and what it takes to show them."""

    index: Index
    batch: Batch
    names: dict[str, str]
    _made: dict[Callable[..., Any], Any] = field(default_factory=dict)

    def once(self, make: Callable[[BatchView], T]) -> T:
        """A part that several pages of the batch show, made when the first of them asks for it."""
        if make not in self._made:
            self._made[make] = make(self)
        return self._made[make]  # type: ignore[no-any-return]

    @cached_property
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
    def observed(self) -> Mapping[str, Observed]:
        """The batch's readings as figures take them."""
        journal = self.index.record.journal
        return observe(self.batch, journal.brewery, journal.malts)

    @cached_property
    def fermentation(self) -> Fermentation:
        """What is known of the batch's fermentation."""
        return self.recordings.fermentation

    @cached_property
    def doubted(self) -> frozenset[str]:
        """Paths that a warning stands on."""
        return frozenset(problem.path for problem in self.index.warnings_of(self.batch) if problem.path)

    def shown(self, value: float, sd: float, unit: str) -> Number:
        """A number as the brewery sees it."""
        return quantity(value, sd, unit, self.system)


def view_of(index: Index, batch: Batch) -> BatchView:
    """A batch with its look-ups: those of the latest are kept, for its pages are made one after the other."""
    if batch.id not in index.views:
        index.views.clear()
        index.views[batch.id] = BatchView(index, batch, line_names(index, batch))
    return index.views[batch.id]

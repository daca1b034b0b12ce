"""The batches that one hangs together with, and whose numbers its page therefore shows."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import NamedTuple

from journal.measures.wording import show
from journal.pages.index import Index
from journal.pages.model import UNBROKEN, Link
from journal.pages.numbers import number
from journal.pages.words import day
from journal.reading import Batch


class RelativeLine(NamedTuple):
    """A sentence about batches, with their links between its two parts."""

    words: str
    batches: tuple[Link, ...]
    rest: str


def relatives(index: Index, batch: Batch, page: Callable[[Batch], str] | None = None) -> tuple[RelativeLine, ...]:
    """How a batch hangs together with others; the links lead to their pages, or to what `page` has of each."""
    return tuple(_Lines(index, batch, page or (lambda each: index.paths[each.file])).lines())


class _Lines:
    def __init__(self, index: Index, batch: Batch, page: Callable[[Batch], str]) -> None:
        self.index, self.batch, self.page = index, batch, page

    def link(self, batch: Batch, before: str = "") -> Link:
        return Link(f"{before}{batch.id}{UNBROKEN}{batch.title}", self.page(batch))

    def links(self, batches: tuple[Batch, ...]) -> tuple[Link, ...]:
        return tuple(self.link(each) for each in batches)

    def lines(self) -> Iterator[RelativeLine]:
        known, fermenter = self.batch.relatives, self.batch.fermenter
        if known.whole is not None:
            taken = f", taken on {day(self.batch.taken).text}" if self.batch.taken else ""
            own = "the gravity before yeast was read here, bitterness and colour are that brew’s"
            wort = own if fermenter.gravity else "original gravity, bitterness and colour are that brew’s"
            thinned = ", thinned" if fermenter.top_up and fermenter.top_up.value else ""
            yield RelativeLine(
                "A part of", (self.link(known.whole),), f"{taken}, where the brew day is written; {wort}{thinned}."
            )
        if known.first is not None:
            rest = ", where the grain is written; the efficiencies are those of all its worts together."
            yield RelativeLine("A later wort of the mash of", (self.link(known.first),), rest)
        if known.host is not None:
            yield RelativeLine("Went into the fermenter of", (self.link(known.host),), ", where its beer is.")
        if known.blended:
            yield RelativeLine("A blend of", tuple(self._poured()), ": alcohol and extract by mass.")
        if known.parts:
            rest = (
                "."
                if fermenter.volume or "fermenter_volume" not in self._figures()
                else ": its volume is that of these."
            )
            yield RelativeLine("Parted into", self.links(known.parts), rest)
        if known.seconds:
            rest = " as well: the efficiencies are those of all its worts together."
            yield RelativeLine("The mash gave", self.links(known.seconds), rest)
        if known.guests:
            rest = " went into the same fermenter: original gravity and efficiencies are this brew’s, its other numbers of all of it."
            yield RelativeLine("", self.links(known.guests), rest)

    def _figures(self) -> dict[str, object]:
        return dict(self.index.figures(self.batch).results)

    def _poured(self) -> Iterator[Link]:
        for each in self.batch.relatives.blended:
            litres = show(self.batch.blend_of[each.id].value, 0.0, "L", self.index.system)
            yield self.link(each, f"{number(litres).text} of ")

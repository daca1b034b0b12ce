"""The batches that one batch hangs together with, each as it was read."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from journal.frozen import dataclass

if TYPE_CHECKING:
    from journal.reading.entry import Batch


@dataclass(frozen=True)
class Relatives:
    """One brew in several vessels, and several in one.

    `whole`: the brew that this is a fermenter of. `first`: the one whose mash this is a later wort of. `host`: the one whose
    fermenter this brew went into. `blended`: what it was blended of, in the order written. The other way round `parts`,
    `seconds` and `guests` name this one as their whole, first and host. Those that a batch was made of have relatives of
    their own, as far as its numbers rest on them.
    """

    whole: Batch | None = None
    first: Batch | None = None
    host: Batch | None = None
    blended: tuple[Batch, ...] = ()
    parts: tuple[Batch, ...] = ()
    seconds: tuple[Batch, ...] = ()
    guests: tuple[Batch, ...] = ()

    def named(self) -> Iterator[tuple[str, Batch]]:
        """Every one of them, with what it is to the batch."""
        for role in ("whole", "first", "host"):
            one = getattr(self, role)
            if one is not None:
                yield role, one
        for role in ("blended", "parts", "seconds", "guests"):
            yield from ((role, each) for each in getattr(self, role))

    def __bool__(self) -> bool:
        return any(True for _ in self.named())

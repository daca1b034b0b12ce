"""What may be an instrument's doing or a lot's, and is not settled: no gain is told of it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from journal.history.moved.record import MovedRecord
from journal.history.pays.alter import ModelChange


def without_doubted(changes: Iterable[ModelChange], moved: MovedRecord) -> Iterator[ModelChange]:
    """Those changes of what a brewhouse does that no instrument may have made look other than it is."""
    unsettled = replace(moved, moves=tuple(move for move in moved.moves if not (move.corrects or move.brewing)))
    return (change for change in changes if not unsettled.doubts(change.habit))


def doubted_causes(moved: MovedRecord) -> tuple[str, ...]:
    """Causes that may be an instrument's or a lot's, and aren't settled to this day, the likeliest first."""
    unsettled = (move for move in moved.moves if move.last_batch is None and not (move.corrects or move.brewing))
    return tuple(dict.fromkeys(cause.cause for move in unsettled for cause in move.causes))

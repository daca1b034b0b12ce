"""Whether the days and hours of an entry come in an order that can be."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime
from itertools import pairwise

from journal.problems import Problem
from journal.reading.entry import Batch, Hop
from journal.reading.table import lines_of, walk

_CHECK = "Check both dates."
#: When yeast, culture and malt were made, or a water was analysed, is of no account to the brew.
_BEFORE_BREWING = ("brewed", "water.")


def check_times(batch: Batch) -> Iterator[Problem]:
    """Every date before the day of brewing, and every pair that comes in the wrong order."""
    yield from before_brewing(batch)
    yield from _hops(batch)
    yield from _souring(batch)
    yield from _in_turn(
        batch, [(f"fermenter.temperatures[{n}].on", t.on) for n, t in enumerate(batch.fermenter.temperatures)]
    )


def _day(moment: date) -> date:
    return moment.date() if isinstance(moment, datetime) else moment


def _said(moment: date) -> str:
    """A moment as a brewer writes it: of midnight the day alone."""
    timed = isinstance(moment, datetime) and (moment.hour, moment.minute) != (0, 0)
    return f"{moment:%Y-%m-%d %H:%M}" if timed else f"{moment:%Y-%m-%d}"


def _disorder(batch: Batch, path: str, message: str, other: str, hint: str = _CHECK) -> Problem:
    return Problem("dates-disorder", message, hint, batch.place(path), expected_by=batch.place(other))


def before_brewing(batch: Batch) -> Iterator[Problem]:
    """Every date before the day of brewing."""
    if batch.brewed is None:
        return
    for path, value, _ in walk(batch):
        if isinstance(value, date) and _day(value) < batch.brewed and not path.startswith(_BEFORE_BREWING):
            yield _disorder(batch, path, f"`{path}` is {_day(value)}, before the day of brewing", "brewed")


def _hops(batch: Batch) -> Iterator[Problem]:
    for path, hop in lines_of(batch, Hop):
        if hop.on is not None and isinstance(hop.off, datetime) and hop.off < hop.on:
            message = f"these hops come out on {_said(hop.off)}, before they go in on {_said(hop.on)}"
            yield _disorder(batch, f"{path}.off", message, f"{path}.on")


def _souring(batch: Batch) -> Iterator[Problem]:
    souring = batch.souring
    moments = [("souring.began", souring.began)]
    moments += [(f"souring.readings[{n}].at", look.at) for n, look in enumerate(souring.readings)]
    yield from _in_turn(batch, [*moments, ("souring.ended", souring.ended)])


def _in_turn(batch: Batch, moments: list[tuple[str, datetime | None]]) -> Iterator[Problem]:
    """Those of a list that come before the one above them."""
    known = [(path, moment) for path, moment in moments if moment is not None]
    for (before, earlier), (path, moment) in pairwise(known):
        if moment < earlier:
            message = f"`{path}` is {_said(moment)}, before `{before}` on {_said(earlier)}"
            yield _disorder(batch, path, message, before, "Check both, and write them in order.")

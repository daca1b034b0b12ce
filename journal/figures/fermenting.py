"""What can't be, or must not be, from pitching on: beer that grows heavier, and sugar given to a beer that is not done."""

from __future__ import annotations

from collections.abc import Iterator

from journal.figures.beer_gravities import BeerGravity
from journal.figures.poured import recorded_fermentation, why_not_primed
from journal.figures.uncertain import Uncertain, combine
from journal.problems import Problem
from journal.reading import Batch, Brewery
from journal.reading.table import is_blank

#: Beyond this many standard uncertainties a gravity has risen.
BEYOND = 2.0


def check_fermentation(batch: Batch, brewery: Brewery) -> Iterator[Problem]:
    """Every problem of a fermentation that the readings' uncertainties decide, as warnings."""
    # most batches have nothing to look at, and pay nothing
    if batch.readings or not is_blank(batch.package):
        yield from _rises(batch, brewery)
        yield from _primed_too_early(batch, brewery)


def _doubt(one: BeerGravity, other: BeerGravity) -> float:
    known = [(gravity, sign) for gravity, sign in ((one.gravity, 1.0), (other.gravity, -1.0))]
    apart = combine(0.0, [(gravity, sign) for gravity, sign in known if isinstance(gravity, Uncertain)])
    return apart.sd if isinstance(apart, Uncertain) else 0.0


def _rises(batch: Batch, brewery: Brewery) -> Iterator[Problem]:
    known = recorded_fermentation(batch, brewery)
    gravities = list(known.gravities)
    if known.wort is not None and gravities:
        gravities.insert(0, BeerGravity("fermenter.gravity", known.pitched or gravities[0].at, known.wort))
    lowest = gravities[0] if gravities else None
    for reading in gravities[1:]:
        if lowest and reading.value - lowest.value > BEYOND * _doubt(reading, lowest) > 0.0:
            message = f"the gravity rises from {lowest.value:.3f} to {reading.value:.3f}"
            hint = "Check both readings, their times and the temperature of the samples."
            hint += " Sugar added later is an addition of the fermenter with its day, `on`."
            place, other = batch.place(reading.path), batch.place(lowest.path)
            yield Problem("gravity-rises", message, hint, place, expected_by=other)
            # one cause is said once: from here on the higher one counts
            lowest = reading
        elif lowest is None or reading.value < lowest.value:
            lowest = reading


def _primed_too_early(batch: Batch, brewery: Brewery) -> Iterator[Problem]:
    package = batch.package
    # a package without a container is told of where the entry is read, and what is only planned is not primed yet
    if package.priming.weight is None or package.container is None or batch.planned:
        return
    reason = why_not_primed(batch, brewery)
    if reason:
        message = f"`package.priming` adds sugar to a beer that may not have finished: {reason}"
        hint = (
            "Wait until two readings three days apart agree. Bottles filled already: keep them cold, covered and out of reach;"
            " protect eyes and hands before touching one."
        )
        yield Problem("priming-unready", message, hint, batch.place("package.priming"))

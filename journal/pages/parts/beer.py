"""The beer in a line: from which gravity to which, how strong, how bitter, how dark, how much."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from journal.figures import Result
from journal.pages.beer import Beer, beer_of
from journal.pages.model import Number
from journal.pages.numbers import of_result, quantity
from journal.pages.paths import accounts_path
from journal.pages.view import BatchView

#: Which volume it is.
_WHICH = {"package_volume": "packaged", "fermenter_volume": "into the fermenter"}


class BeerFact(NamedTuple):
    """One number of the beer: its figure's name, what it is, the number, and where it is worked out.

    `to` is the number that it became, where the two are read as one: the gravity that the beer began with and ended at. `which` says
    of which of several it is, `packaged` or `into the fermenter` of a volume.
    """

    name: str
    words: str
    number: Number
    href: str
    to: BeerFact | None = None
    which: str = ""


#: The figures that a beer is told by, and in how few words. Of bitterness the ± is part of the number: a formula foretells no more.
_TOLD = (
    ("alcohol_by_volume", "alcohol by volume", False),
    ("bitterness", "bitterness", True),
    ("colour", "colour", False),
    ("volume", "volume", False),
)


def beer_facts(view: BatchView, beer: Beer | None = None) -> tuple[BeerFact, ...]:
    """What is known of the beer, in the order in which a brewer says it."""
    beer = beer or beer_of(view.index.record, view.batch)
    return tuple(_facts(view, beer))


def _fact(view: BatchView, result: Result, words: str, *, spread: bool = False) -> BeerFact:
    number = of_result(result, view.system) if spread else quantity(result.value, 0.0, result.unit, view.system)
    return BeerFact(result.name, words, number, f"{accounts_path(view.batch.id)}#{result.name}")


def _facts(view: BatchView, beer: Beer) -> Iterator[BeerFact]:
    first, last = beer.original_gravity, beer.final_gravity
    ended = _fact(view, last, "final gravity") if last else None
    if first:
        yield _fact(view, first, "original gravity")._replace(to=ended)
    elif ended:
        yield ended
    for name, words, spread in _TOLD:
        result: Result | None = getattr(beer, name)
        if result is not None and result.value > 0:
            yield _fact(view, result, words, spread=spread)._replace(which=_WHICH.get(result.name, ""))


def beer_words(facts: tuple[BeerFact, ...], between: str = ", ") -> str:
    """`1.045 → 1.008, 4.8 %, 32 ± 7 IBU, 13 EBC, 17.5 L`."""
    return between.join(
        f"{fact.number.text} → {fact.to.number.text}" if fact.to else fact.number.text for fact in facts
    )

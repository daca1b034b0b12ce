"""What was to be expected of a batch, beside what it came to."""

from __future__ import annotations

from dataclasses import dataclass

from journal.balance.foresee import Foreseen
from journal.figures import CATALOGUE
from journal.history.plan.readings import READINGS
from journal.measures.wording import plain, show_range, unit_for
from journal.pages.model import Number
from journal.pages.numbers import of_result
from journal.pages.view import BatchView
from journal.pages.words import figure_words
from journal.reading.known_readings import AT_STATIONS


@dataclass(frozen=True)
class Expected:
    """A figure as it was to be expected, beside what it came to.

    `span` is the range with its unit, `batches` how many earlier batches stand behind it. `got` is None where nothing
    was measured; `outside` is below, above or empty. `mark` is the place of what was got on a strip whose middle half is
    the range, in per cent of the strip's width.
    """

    name: str
    words: str
    span: str
    batches: int
    got: Number | None
    outside: str
    mark: float


#: The strip of an expectation: its range is the middle half; what lies far off stands at the strip's end, per cent.
_LOW, _HALF, _END = 25.0, 50.0, 4.0


def _read_in(station: str) -> tuple[str, ...]:
    return tuple(reading.figure for reading in AT_STATIONS if reading.station == station)


#: What a brewer looks at on the day, in the order of the work.
ON_THE_DAY = (*_read_in("kettle"), "boil_off", *_read_in("knockout"), *_read_in("fermenter"))


def _span(foreseen: Foreseen, unit: str, system: str, *, outside: bool) -> str:
    """The range; of an efficiency in whole per cents, unless a value close outside it would seem to lie within."""
    if unit != "1" or outside:
        return show_range(foreseen.low, foreseen.high, unit, system)
    how = unit_for(unit, system)
    return f"{plain(how.convert(foreseen.low), 0)} to {plain(how.convert(foreseen.high), 0)} {how.sign}"


def expected_of(view: BatchView, name: str) -> Expected | None:
    """One figure as it was to be expected; None where no earlier batch stands behind it."""
    balance = view.index.balance(view.batch)
    foreseen = balance.foreseen.get(name) if balance else None
    if foreseen is None or foreseen.batches == 0:
        return None
    got = None if view.batch.planned else view.best.get(name)
    outside, mark = "", 0.0
    if got is not None:
        outside = "below" if got.value < foreseen.low else "above" if got.value > foreseen.high else ""
        place = _LOW + _HALF * (got.value - foreseen.low) / (foreseen.high - foreseen.low)
        mark = round(min(max(place, _END), 100 - _END), 1)
    return Expected(
        name=name,
        words=figure_words(name),
        span=_span(foreseen, CATALOGUE[name].unit, view.system, outside=bool(outside)),
        batches=foreseen.batches,
        got=of_result(got, view.system) if got else None,
        outside=outside,
        mark=mark,
    )


def expectations(view: BatchView) -> tuple[Expected, ...]:
    """What a brewer looks at on the day and got; of a planned brew, everything expected but what its sheet has already."""
    balance = view.index.balance(view.batch)
    more = tuple(name for name in balance.foreseen if name not in READINGS) if balance else ()
    names = more if view.batch.planned else ON_THE_DAY
    made = (expected_of(view, name) for name in names)
    return tuple(one for one in made if one and (one.got or view.batch.planned))

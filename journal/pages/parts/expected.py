"""What was to be expected of a batch, beside what it came to."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from journal.balance.foresee import Foreseen
from journal.figures import CATALOGUE, Result
from journal.frozen import dataclass
from journal.history.plan import target_of
from journal.history.plan.readings import READINGS
from journal.measures.wording import plain, show_range, signed, unit_for
from journal.pages.model import UNBROKEN, Number
from journal.pages.numbers import of_result, quantity
from journal.pages.view import BatchView
from journal.pages.words import figure_words
from journal.reading.known_readings import AT_STATIONS


@dataclass(frozen=True)
class Expected:
    """A figure as it was to be expected, and as it was planned, beside what it came to.

    `span` is the range with its unit, `batches` how many earlier batches stand behind it: empty and 0 where there is none.
    `planned` is the entry's target, `difference` by how much what was got is more or less, as `+2 points`. `got` is None where
    nothing was measured; `outside` is below, above or empty. `mark` is the place of what was got on a strip whose middle half is
    the range, in per cent of the strip's width.
    """

    name: str
    words: str
    span: str
    batches: int
    got: Number | None
    outside: str
    mark: float
    planned: Number | None = None
    difference: str = ""


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
        got=_got(got, view.system, foreseen if outside else None) if got else None,
        outside=outside,
        mark=mark,
    )


def _got(got: Result, system: str, missed: Foreseen | None) -> Number:
    """What was measured, rounded as a brewer says it; where that would seem to lie within the range it missed, with all its digits."""
    rounded = quantity(got.value, 0.0, got.unit, system)
    if got.unit == "1" or (missed and _seems_within(rounded, missed, unit_for(got.unit, system).convert)):
        return of_result(got, system)
    return rounded


def _seems_within(shown: Number, missed: Foreseen, convert: Callable[[float], float]) -> bool:
    decimals = max(len(shown.fraction) - 1, 0)
    low, high = (round(convert(end), decimals) for end in (missed.low, missed.high))
    return low <= float(f"{shown.whole}{shown.fraction}".replace("−", "-")) <= high


def expectations(view: BatchView) -> tuple[Expected, ...]:
    """What a brewer looks at on the day, plans and got; of a planned brew, everything expected but what its sheet has already."""
    balance = view.index.balance(view.batch)
    if view.batch.planned:
        more = tuple(name for name in balance.foreseen if name not in READINGS) if balance else ()
        return tuple(one for name in more if (one := expected_of(view, name)))
    aims = _aims(view)
    rows = []
    for name in ON_THE_DAY:
        one, aim, got = expected_of(view, name), aims.get(name), view.best.get(name)
        if got is None or (one is None and aim is None):
            continue
        shown = _got(got, view.system, None)
        one = one or Expected(name, figure_words(name), "", 0, shown, "", 0.0)
        if aim is not None:
            aimed = quantity(aim, 0.0, got.unit, view.system)
            one = replace(one, planned=aimed, difference=_difference(got.value - aim, got.unit, view.system))
        rows.append(one)
    return tuple(rows)


def _aims(view: BatchView) -> dict[str, float]:
    """What the entry states as its target, SG and L."""
    volume = view.batch.target.volume
    aims = {"original_gravity": target_of(view.batch), "fermenter_volume": volume.value if volume else None}
    return {name: aim for name, aim in aims.items() if aim is not None}


def _difference(value: float, unit: str, system: str) -> str:
    """`+2 points`, `−0.4 L`: a gravity's in points of 0.001."""
    shown = signed(plain(value * 1000, 0) if unit == "SG" else plain(unit_for(unit, system).convert(value), 1))
    words = ("point" if shown in {"+1", "−1"} else "points") if unit == "SG" else unit_for(unit, system).sign
    return f"{shown}{UNBROKEN}{words}"


def what_they_rest_on(rows: tuple[Expected, ...]) -> str:
    """From what the ranges come, and what the plan is; empty where there is nothing to say."""
    said = []
    batches = max((row.batches for row in rows), default=0)
    if batches:
        earlier = "batch" if batches == 1 else "batches"
        said.append(
            f"Expected: where nine in ten should lie, from {batches} earlier {earlier} of the same brewhouse, for this grist and liquor."
        )
    if any(row.planned for row in rows):
        said.append(
            "Planned: the entry’s own target. What was to be expected is calculated anew from the batches before this one, for the "
            "grist and liquor that the entry has now."
        )
    return " ".join(said)

"""What brewery.yaml says of instruments that were checked and of what was changed, by places of batches in the record."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, timedelta
from math import fsum

from journal.figures.checked import checks_that_hold
from journal.history.moved.causes import (
    FERMENTER_MARKS,
    HYDROMETER,
    KETTLE_MARKS,
    LIQUOR_MEASURE,
    MALT_LOT,
    MALT_SCALE,
    REFRACTOMETER,
)
from journal.history.moved.said import InstrumentCheck, Said, Told
from journal.reading import Batch, Brewery, Brewhouse
from journal.reading.instrument_checks import Check

#: Standard uncertainty of a careful check, in the unit of the cause (common practice): half a division, a dip of a tenth of
#: a litre in ten, a weight that is known to its gram.
_CHECKED_TO = {
    HYDROMETER: 0.0005,
    REFRACTOMETER: 0.1,
    KETTLE_MARKS: 0.01,
    FERMENTER_MARKS: 0.01,
    LIQUOR_MEASURE: 0.01,
    MALT_SCALE: 0.003,
}
#: Words of brewers, and the causes they name (common practice).
_NAMED = (
    (("hydrometer", "saccharometer"), {HYDROMETER}),
    (("refractometer",), {REFRACTOMETER}),
    (("kettle", "copper"), {KETTLE_MARKS, "boil-off", "kettle loss"}),
    (("dipstick", "dip stick", "sight glass", "marks"), {KETTLE_MARKS, FERMENTER_MARKS}),
    (("fermenter", "bucket", "carboy"), {FERMENTER_MARKS}),
    (("jug", "water meter", "flow meter", "liquor"), {LIQUOR_MEASURE}),
    (("scale", "scales", "balance"), {MALT_SCALE}),
    (("mill", "roller", "rollers", "crush", "gap"), {"conversion", "run-off"}),
    (("mash", "thermometer", "stirring", "paddle", "ph"), {"conversion"}),
    (("tun", "false bottom", "manifold", "bag", "sparge", "lauter"), {"dead space", "absorption", "run-off"}),
    (("burner", "element", "stove", "hob", "lid", "boil"), {"boil-off"}),
    (("hops", "trub", "tap", "valve", "whirlpool", "filter", "chiller", "pump"), {"kettle loss"}),
    (("malt", "sack", "lot", "maltster"), {MALT_LOT}),
)


def causes_named(words: str) -> frozenset[str]:
    """The causes that a brewer's own words speak of; none where they name nothing known."""
    said = f" {' '.join(''.join(letter if letter.isalnum() else ' ' for letter in words.casefold()).split())} "
    return frozenset().union(*(causes for names, causes in _NAMED if any(f" {name} " in said for name in names)))


def _corrected_already(checks: Sequence[Check], day: date) -> float:
    """What the readings of the day before a check were corrected by, in the unit of the cause: only the rest can have moved."""
    found = [off for _, check in checks_that_hold(checks, day - timedelta(days=1)) if (off := check.off()) is not None]
    return fsum(found) / len(found) if found else 0.0


def _checks(brewery: Brewery, brewhouse: Brewhouse) -> Iterator[tuple[str, Check, Sequence[Check]]]:
    """Every check by the cause that it is of, with all of that instrument."""
    instruments = brewery.instruments
    of: list[tuple[str, Sequence[Check]]] = [
        (HYDROMETER, instruments.hydrometer.checks),
        (REFRACTOMETER, instruments.refractometer.checks),
        (MALT_SCALE, instruments.malt_scale.checks),
        (LIQUOR_MEASURE, instruments.volume.checks),
        (KETTLE_MARKS, brewhouse.kettle.checks),
        *((FERMENTER_MARKS, vessel.checks) for vessel in brewery.fermenters.values()),
    ]
    for cause, checks in of:
        for check in checks:
            yield cause, check, checks


def said_of(batches: Sequence[Batch], brewery: Brewery, brewhouse: Brewhouse) -> Said:
    """The evidence for a record of these batches of a brewhouse, in order of date."""
    days = [batch.day for batch in batches]

    def brewed_before(day: date) -> int:
        return sum(each < day for each in days)

    checked, told = [], []
    for cause, check, others in _checks(brewery, brewhouse):
        off = check.off()
        if check.on is not None and off is not None:
            off -= _corrected_already(others, check.on)
            checked.append(InstrumentCheck(cause, brewed_before(check.on), off, _CHECKED_TO[cause]))
        if check.new:
            told.append(Told(brewed_before(check.holds_from), frozenset({cause})))
    told += [
        Told(brewed_before(change.on), causes_named(change.what), change.what)
        for change in brewhouse.changes
        if change.on is not None and change.what
    ]
    return Said(tuple(sorted(checked, key=lambda check: check.before)), tuple(told))

"""The gravities of the fermenting beer, as read and as logged: in order, on one scale, and what they say together."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, datetime, time, timedelta
from functools import cached_property
from typing import Any

import numpy as np

from journal.figures.as_read import GravityReading, Observed
from journal.figures.corrected import fermented_gravity, gravity
from journal.figures.logistic import FEWEST_GRAVITIES, LogisticFit, curve, fit_logistic
from journal.figures.propagate import nominal, propagate
from journal.figures.uncertain import ErrorKind, ErrorSource, Uncertain, combine, source
from journal.measures import Gravity, Scale
from journal.reading import Batch
from journal.reading.logs import Log
from journal.science import beer, wort
from journal.science.fermentation import GravityAt, Logistic, strength

#: A log is thinned to so many stretches of time, the middle of each counting.
MOST_STRETCHES = 300
#: Standard uncertainty of a logger's gravity that no reading by hand was set against, SG: bubbles and yeast on a float
#: shift all of it alike (common practice); and of one day's middle beside another's.
LOG_OFFSET, LOG_DAY = 0.002, 0.001
#: A refractometer's reading can be understood once this much has seemed to ferment (S. Terrill, 2011).
UNDERSTOOD_FROM = 0.61
_DAY = timedelta(days=1)
#: From any minute of a day to this one of another there are as many days, whole ones, as from date to date.
_LAST_MINUTE = time(23, 59)


@dataclass(frozen=True)
class BeerGravity:
    """One gravity of the beer, SG 20/20 (with its uncertainty where it has one), where it stands and when it was read."""

    path: str
    at: datetime
    gravity: Any
    refractometer: bool = False

    @property
    def value(self) -> float:
        """SG."""
        return nominal(self.gravity)

    @property
    def sd(self) -> float:
        """Standard uncertainty, SG, beside other readings: what all readings of a refractometer share is left out."""
        if not isinstance(self.gravity, Uncertain):
            return 0.0
        return float(np.hypot.reduce([part for of, part in self.gravity.parts.items() if of.path == self.path]))


def recorded_gravities(batch: Batch) -> list[tuple[datetime, str, Gravity]]:
    """The gravities read by hand with their paths, in order of time; a packaging without a date comes last."""
    found = [
        (reading.at, f"readings[{index}].gravity", reading.gravity)
        for index, reading in enumerate(batch.readings)
        if reading.gravity and reading.at
    ]
    package = batch.package
    if package.gravity:
        when = datetime.combine(package.on, time.max) if package.on else datetime.max
        found.append((when, "package.gravity", package.gravity))
    return sorted(found, key=lambda reading: reading[0])


def last_gravity(batch: Batch) -> tuple[str, Gravity] | None:
    """The last gravity with its path; of one day's, a hydrometer's before a refractometer's."""
    found = recorded_gravities(batch)
    if not found:
        return None
    day = found[-1][0].date()
    _, path, last = max(
        (reading for reading in found if reading[0].date() == day),
        key=lambda reading: (reading[2].scale is not Scale.BRIX, reading[0]),
    )
    return path, last


@dataclass(frozen=True)
class Fermentation:
    """What is known of a fermentation: the wort's gravity and the beer's; the log's SG by stretches of time.

    `pitched`: None where it isn't stated; `log` has days since pitching in its first row and SG in its second.
    """

    pitched: datetime | None
    wort: Any
    gravities: tuple[BeerGravity, ...]
    log: Any = field(default=None, repr=False)

    @cached_property
    def course(self) -> Logistic | None:
        """The course fitted to it, as `fit_course` has it."""
        return fit_course(self)

    def days(self, at: datetime) -> float:
        """Days since pitching, or since the first gravity where pitching isn't stated."""
        return (at - (self.pitched or self.gravities[0].at)) / _DAY

    def readings(self) -> list[GravityAt]:
        """Days, SG and its uncertainty beside the others: by hand where there are two or more, else the log's days."""
        by_hand = [(self.days(reading.at), reading.value, reading.sd) for reading in self.gravities]
        return by_hand if len(by_hand) > 1 or self.log is None else _daily(self.log)

    def by_calendar(self) -> list[GravityAt]:
        """As `readings`, for counting days as a calendar does: without an hour, one of the last day stands at its end."""
        last = max((reading.at.date() for reading in self.gravities), default=date.min)
        dated, end = datetime.combine(last, time.min), datetime.combine(last, _LAST_MINUTE)
        at_end = (replace(reading, at=end) if reading.at == dated else reading for reading in self.gravities)
        return replace(self, gravities=tuple(at_end)).readings()


def _daily(log: Any) -> list[GravityAt]:
    whole = np.floor(log[0])
    days = [log[:, whole == day] for day in np.unique(whole)]
    return [(float(np.mean(day[0])), float(np.median(day[1])), LOG_DAY) for day in days]


def thin(days: Any, values: Any) -> Any:
    """Rows of days and medians of values over MOST_STRETCHES equal stretches of time at most; nan is passed over."""
    known = np.isfinite(values)
    days, values = days[known], values[known]
    if len(days) > MOST_STRETCHES:
        edges = np.searchsorted(days, np.linspace(days[0], days[-1], MOST_STRETCHES + 1)[1:-1])
        parts = [part for part in np.split(np.arange(len(days)), edges) if len(part)]
        days = np.array([np.mean(days[part]) for part in parts])
        values = np.array([np.median(values[part]) for part in parts])
    return np.stack([days, values])


def thin_log(log: Log | None, pitched: datetime | None) -> Any:
    """The log's gravities from pitching on, thinned; None where it has none. Elapsed time counts from pitching."""
    if log is None or log.gravity is None or pitched is None:
        return None
    start = 0.0 if log.start is None else (log.start - pitched) / _DAY
    days = start + log.minutes / 1440.0
    found = thin(days[days >= 0.0], log.gravity[days >= 0.0])
    return found if found.shape[1] >= FEWEST_GRAVITIES else None


def beer_gravity(reading: GravityReading, wort_pitched: Any = None) -> Any:
    """SG of beer with its uncertainty, by light with the SG of its wort; None where that is not known or the mathematics ends."""
    try:
        if reading.scale != Scale.BRIX.value:
            return propagate(gravity, {"reading": reading})
        if wort_pitched is None:
            return None
        original = propagate(wort.plato_from_gravity, {"gravity": wort_pitched})
        return propagate(fermented_gravity, {"reading": reading, "original_extract": original})
    except (ArithmeticError, ValueError):
        return None


def _of_wort(reading: GravityReading) -> Any:
    """SG with its uncertainty; None where the mathematics ends, for no liquid reads like that."""
    try:
        return propagate(gravity, {"reading": reading})
    except (ArithmeticError, ValueError):
        return None


def fermentation_of(
    batch: Batch, observed: Iterable[tuple[str, datetime, GravityReading]], wort_pitched: Observed
) -> Fermentation:
    """What is known of a fermentation from its gravities, each with its path and time, and the wort's gravity as read.

    A refractometer's reading without the wort's strength, or too early to be understood, is passed over.
    """
    original = None if wort_pitched.wanting else _of_wort(wort_pitched.value)
    extract = None if original is None else propagate(wort.plato_from_gravity, {"gravity": original})
    gravities = []
    for path, at, reading in observed:
        by_light = reading.scale == Scale.BRIX.value
        if by_light and extract is None:
            continue
        found = beer_gravity(reading, original)
        if found is None:
            continue
        if by_light and wort.plato_from_gravity(nominal(found)) > (1.0 - UNDERSTOOD_FROM) * nominal(extract):
            continue
        gravities.append(BeerGravity(path, at, found, by_light))
    pitched = batch.fermenter.pitched
    return Fermentation(pitched, original, tuple(gravities), thin_log(batch.fermentation_log, pitched))


def fit_course(fermentation: Fermentation) -> Logistic | None:
    """The logistic course, each of its numbers with its uncertainty; None where none can be fitted.

    Readings by hand serve where there are enough, else the log.
    """
    if fermentation.pitched is None:
        return None
    by_hand = [reading for reading in fermentation.gravities if reading.at >= fermentation.pitched]
    if len(by_hand) >= FEWEST_GRAVITIES:
        return _fit_by_hand(fermentation, by_hand)
    return None if fermentation.log is None else _fit_to_log(fermentation, by_hand)


def _fit_by_hand(fermentation: Fermentation, by_hand: Sequence[BeerGravity]) -> Logistic | None:
    points = [(fermentation.days(reading.at), reading.gravity) for reading in by_hand]
    if fermentation.wort is not None:
        points.insert(0, (0.0, fermentation.wort))
    strengths = [propagate(wort.plato_from_gravity, {"gravity": gravity}) for _, gravity in points]
    values = np.array([nominal(strength) for strength in strengths])
    # a reading that is known exactly is none, but a test's
    sds = np.array([max(getattr(strength, "sd", 0.0), 1e-3) for strength in strengths])
    found = fit_logistic(np.array([days for days, _ in points]), values, sds)
    if found is None:
        return None
    known = [(index, strength) for index, strength in enumerate(strengths) if isinstance(strength, Uncertain)]

    def number(row: int) -> Any:
        moved = [(strength, float(found.gain[row, index]) * found.birge_ratio) for index, strength in known]
        return combine(found.at[row], [*moved, *_expected(found, row)])

    return Logistic._make(number(row) for row in range(4))


def _expected(found: LogisticFit, row: int) -> list[tuple[Uncertain, float]]:
    # what any course is expected to be like belongs to the figures it decides
    decided = (ErrorSource(name, ErrorKind.MODEL) for name in ("peak_rate", "days_to_final"))
    return [(source(0.0, 1.0, of), float(part)) for of, part in zip(decided, found.expected[row], strict=True)]


def _fit_to_log(fermentation: Fermentation, by_hand: Sequence[BeerGravity]) -> Logistic | None:
    """As by hand, but that the log's points scatter together and all of them may lie too high or too low alike."""
    shift, shifted_by = _offset(fermentation, by_hand)
    days, gravities = fermentation.log[0], fermentation.log[1] + shift
    strengths = np.array([wort.plato_from_gravity(value) for value in gravities.tolist()])
    spread = max(1.4826 * float(np.median(np.abs(np.diff(strengths)))), 0.02)
    found = fit_logistic(days, strengths, np.full(len(days), spread))
    if found is None:
        return None
    # neighbours that err together say less than so many would that don't
    lagged = float(np.corrcoef(found.residuals[1:], found.residuals[:-1])[0, 1]) if np.std(found.residuals) > 0 else 0.0
    together = min(max(lagged, 0.0), 0.95)
    swell = found.birge_ratio * spread * ((1.0 + together) / (1.0 - together)) ** 0.5
    root = np.linalg.cholesky(swell**2 * found.gain @ found.gain.T + 1e-12 * np.eye(4))
    ways = [source(0.0, 1.0, ErrorSource(f"readings_log.{name}")) for name in Logistic._fields]
    end = wort.gravity_from_plato(found.at.end)
    slope = wort.plato_slope(end)

    def number(row: int) -> Any:
        moved = [(way, float(part)) for way, part in zip(ways, root[row], strict=True)]
        alike = [(part, share * slope) for part, share in shifted_by] if row == 0 else []
        return combine(found.at[row], [*moved, *alike, *_expected(found, row)])

    return Logistic._make(number(row) for row in range(4))


def _offset(fermentation: Fermentation, by_hand: Sequence[BeerGravity]) -> tuple[float, list[tuple[Uncertain, float]]]:
    """What to add to the log, SG, by a hydrometer's readings of its time, and what that is uncertain by."""
    days = fermentation.log[0]
    beside = [
        reading
        for reading in by_hand
        if not reading.refractometer and days[0] <= fermentation.days(reading.at) <= days[-1]
    ]
    if not beside:
        return 0.0, [(source(0.0, LOG_OFFSET, ErrorSource("readings_log")), 1.0)]
    apart = [reading.value - float(np.interp(fermentation.days(reading.at), *fermentation.log)) for reading in beside]
    parts = [(reading.gravity, 1.0 / len(beside)) for reading in beside if isinstance(reading.gravity, Uncertain)]
    return float(np.mean(apart)), parts


def course_within(course: Logistic, days: Sequence[float]) -> list[tuple[float, float]]:
    """SG of a fitted course so many days after pitching, each with its standard uncertainty.

    `course`: its four numbers with theirs (`fit_course`).
    """
    at = Logistic._make(nominal(number) for number in course)
    slopes = curve(np.array([at.end, np.log(at.drop), np.log(at.rate), at.middle]), np.array(days))[1]
    brought: list[dict[ErrorSource, float]] = [getattr(number, "parts", {}) for number in course]
    sources = sorted({of for parts in brought for of in parts})
    parts = np.array([[parts.get(of, 0.0) for of in sources] for parts in brought])
    # the curve's slopes are by the logarithms of the fall and of its rate
    sds = np.linalg.norm((slopes / [1.0, at.drop, at.rate, 1.0]) @ parts, axis=1)
    gravities = [wort.gravity_from_plato(strength(at, day)) for day in days]
    return [(sg, sd / wort.plato_slope(sg)) for sg, sd in zip(gravities, sds.tolist(), strict=True)]


def attenuation_at(original: float, now: float) -> float:
    """Apparent attenuation, fraction, of a beer at one moment; both SG."""
    return beer.apparent_attenuation(wort.plato_from_gravity(original), wort.plato_from_gravity(now))

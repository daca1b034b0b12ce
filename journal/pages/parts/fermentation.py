"""From pitching to the glass: the course of gravity and temperature, what the mash had to do with it, and what was tasted."""

from __future__ import annotations

import math
from datetime import datetime, timedelta

import numpy as np

from journal.figures.beer_gravities import BeerGravity, Fermentation, attenuation_at, course_within
from journal.figures.poured import why_not_primed
from journal.figures.propagate import nominal
from journal.figures.uncertain import Uncertain
from journal.frozen import dataclass
from journal.measures.wording import plain, show, unit_for
from journal.pages.counted import how_many
from journal.pages.model import UNBROKEN
from journal.pages.numbers import of_result, quantity
from journal.pages.parts.course import (
    GAP,
    LEFT,
    PANEL,
    RIGHT,
    TOP,
    AxisScale,
    CoursePicture,
    Mark,
    Panel,
    Plane,
    round_step,
    spread,
)
from journal.pages.parts.fermenting import days_count_from
from journal.pages.parts.primed import primed_sentence
from journal.pages.view import BatchView
from journal.pages.words import figure_words
from journal.problems import capital, in_words
from journal.reading import Batch
from journal.reading.logs import thin
from journal.reading.table import is_blank


@dataclass(frozen=True)
class FermentationPart:
    """The course of the fermentation, how it went in sentences, attenuation beside the mash, and cautions."""

    picture: CoursePicture | None
    sentences: tuple[str, ...]
    beside: CoursePicture | None
    cautions: tuple[str, ...]


_DAY = timedelta(days=1)
#: Earlier batches that one is set among, the latest.
_LATEST = 60
#: Points that a logger's course is drawn by.
_POINTS = 240
#: Steps that a fitted course is drawn by.
_STEPS = 60
#: A second panel, for temperatures, is lower.
_LOW = 0.55
#: Lines of the grid of gravities, about; and the room before the first and after the last point, as a share of the time.
_GRID, _ROOM = 5, 0.02
#: Pictures of fewer points than this say nothing that the table does not.
_FEWEST = 2
_BOTTLES = (
    "Bottles burst where beer goes on fermenting in them. Prime only when two readings three days apart agree, and know that a "
    "fermentation that is stuck looks level too; use bottles made "
    "for pressure, never more sugar than the sum says, and keep the first ones in a closed box."
)
_KEG = (
    "A keg has a relief valve and a rated pressure: both count before anything here. Prime or close it only when two readings three days "
    "apart agree, or at a gravity whose rest of the way is known."
)


@dataclass(frozen=True)
class _Fermenting:
    """One batch's fermentation, ready to be drawn."""

    view: BatchView
    known: Fermentation

    @property
    def batch(self) -> Batch:
        """The batch."""
        return self.view.batch

    @property
    def start(self) -> datetime | None:
        """From when days are counted."""
        return days_count_from(self.batch, self.known)

    @property
    def counted(self) -> str:
        """What days are counted."""
        if self.known.pitched is not None:
            return "days since pitching"
        return "days since the first reading" if self.known.wort is None else "days since the day of the brew"

    def days(self, at: datetime) -> float:
        """Days since then."""
        return (at - (self.start or at)) / _DAY


def fermentation_part(view: BatchView) -> FermentationPart | None:
    """Everything that a batch's page says from pitching on; None where nothing is known of it."""
    batch = view.batch
    at = _Fermenting(view, view.fermentation)
    picture = _picture(at)
    beside = _beside(view)
    primed = primed_sentence(view)
    sentences = (*_sentences(at), primed) if primed else _sentences(at)
    if not (picture or sentences) and is_blank(batch.package):
        return None
    return FermentationPart(picture, sentences, beside, _cautions(view))


def _sentences(at: _Fermenting) -> tuple[str, ...]:
    """How it went, in words."""
    figures, system = at.view.best, at.view.system
    said = []
    days = figures.get("days_to_final")
    if days:
        said.append(f"Within a point of its end after {of_result(days, system).text}.")
    end, final = figures.get("final_gravity_fitted"), figures.get("final_gravity")
    if end and final:
        tends, was = of_result(end, system).text, of_result(final, system).text
        said.append(f"The whole course tends to {tends}; the last reading was {was}.")
    level = figures.get("gravity_level_for")
    if level and level.value > 0:
        said.append(f"The last readings have been level for {plain(level.value, 1)} days.")
    elif level and not at.batch.package.on:
        said.append("The last two readings differ by more than their uncertainty: it may not be done.")
    balance = at.view.index.balance(at.batch)
    foreseen = balance.foreseen.get("apparent_attenuation") if balance else None
    got = figures.get("apparent_attenuation")
    if foreseen and got:
        low, high = (plain(100 * value, 0) for value in (foreseen.low, foreseen.high))
        rests = f"from {how_many(foreseen.batches)} of your own batches" if foreseen.batches else "by common practice"
        said.append(
            f"{figure_words('apparent_attenuation').capitalize()}: {low} to {high}{UNBROKEN}% was to be expected, {rests}; "
            f"it came to {of_result(got, system).text}."
        )
    return tuple(said)


def _cautions(view: BatchView) -> tuple[str, ...]:
    """What is said wherever beer is packaged to gain pressure."""
    package = view.batch.package
    if is_blank(package):
        return ()
    priming = not is_blank(package.priming) or package.carbonation is not None
    why = why_not_primed(view.batch, view.index.record.journal.brewery) if priming else None
    refused = f"No priming sugar is worked out: {why}." if why else ""
    pressed = {"bottles": (_BOTTLES,), "heavy bottles": (_BOTTLES,), "keg": (_KEG,)}.get(
        package.container or "", (_BOTTLES, _KEG)
    )
    return tuple(words for words in (refused, *pressed) if words)


def _picture(at: _Fermenting) -> CoursePicture | None:
    log, start = at.batch.fermentation_log, at.start
    if start is None:
        return None
    gravities = [(at.days(reading.at), reading) for reading in at.known.gravities]
    offset = 0.0 if log is None or log.start is None else (log.start - start) / _DAY
    lined = [] if log is None or log.gravity is None else _thinned(offset + log.minutes / 1440.0, log.gravity)
    warm = [] if log is None or log.temperature is None else _thinned(offset + log.minutes / 1440.0, log.temperature)
    by_hand = [
        (at.days(reading.at), reading.temperature.value)
        for reading in at.batch.readings
        if reading.at and reading.temperature
    ]
    if len(gravities) + len(lined) < _FEWEST:
        return None
    times = [day for day, _ in gravities] + [day for day, _ in lined + warm] + [day for day, _ in by_hand]
    first, last = min(0.0, *times), max(times) or 1.0
    room = _ROOM * (last - first)
    across = AxisScale(first - room, last + room, LEFT, RIGHT)
    panels = [_gravity_panel(at, across, gravities, lined)]
    if warm or len(by_hand) >= _FEWEST:
        panels.append(_temperature_panel(at, across, warm, by_hand, panels[0].bottom + GAP))
    return CoursePicture(
        name="fermentation",
        title="The fermentation, by days",
        summary=_summary(at, panels[0], last, logged=bool(lined or warm)),
        panels=tuple(panels),
        scale=across,
        across=at.counted,
    )


def _summary(at: _Fermenting, panel: Panel, days: float, *, logged: bool) -> str:
    """What is drawn, and by what signs."""
    packaged = any(reading.path == "package.gravity" for reading in at.known.gravities)
    count = len(at.known.gravities) - packaged
    named = [how_many(count) + (" reading" if count == 1 else " readings")] if count else []
    named += ["the gravity at packaging"] if packaged else []
    named += ["a logger’s course"] if logged else []
    signs = ["points are read by hand, each bar right about two times in three"]
    signs += ["a line is a logger’s"] if logged else []
    signs += ["dashes are the course fitted to them"] if panel.fitted else []
    return f"{capital(in_words(named))} over {plain(days, 0)} days. {capital('; '.join(signs))}."


def _thinned(days: np.ndarray, values: np.ndarray) -> list[tuple[float, float]]:
    kept = thin(days, values, _POINTS)
    return list(zip(days[kept].tolist(), values[kept].tolist(), strict=True))


def _gravity_panel(
    at: _Fermenting, across: AxisScale, gravities: list[tuple[float, BeerGravity]], lined: list[tuple[float, float]]
) -> Panel:
    wort = nominal(at.known.wort) if at.known.wort is not None else None
    values = [reading.value for _, reading in gravities] + [value for _, value in lined] + ([wort] if wort else [])
    low, high = spread(values, 0.06, 0.004)
    # down to a line of the grid, since the end of the course is what one reads off
    step = round_step(low, high, _GRID)
    up = AxisScale(math.floor(low / step) * step, high, TOP + PANEL, TOP)
    plane = Plane(across, up)
    marks = [_gravity_mark(at, plane, days, reading) for days, reading in gravities]
    if wort is not None:
        marks.insert(0, plane.mark(0.0, wort, 0.0, f"at pitching: {plain(wort, 4)}"))
    curve, band = _fitted(at, plane)
    return Panel(
        TOP,
        TOP + PANEL,
        "",
        up.ticks(_GRID + 1, lambda value, _: plain(value, 3)),
        tuple(marks),
        (),
        plane.path(lined),
        curve,
        band,
    )


def _fitted(at: _Fermenting, plane: Plane) -> tuple[str, str]:
    """The fitted course and the band of one standard uncertainty about it, as paths; empty where none can be fitted."""
    course = at.known.course
    if course is None:
        return "", ""
    steps = np.linspace(max(plane.across.low, 0.0), plane.across.high, _STEPS).tolist()
    points = [(days, *seen) for days, seen in zip(steps, course_within(course, steps), strict=True)]
    edge = [(days, sg + sd) for days, sg, sd in points] + [(days, sg - sd) for days, sg, sd in reversed(points)]
    return plane.path([(days, sg) for days, sg, _ in points]), plane.path(edge) + "z"


def _gravity_mark(at: _Fermenting, plane: Plane, days: float, reading: BeerGravity) -> Mark:
    value = reading.value
    sd = reading.gravity.sd if isinstance(reading.gravity, Uncertain) else 0.0
    words = f"day {plain(days, 1)}: {show(value, sd, 'SG', at.view.system)}"
    if at.known.wort is not None:
        words += f", {plain(100 * attenuation_at(nominal(at.known.wort), value), 0)} % attenuated"
    return plane.mark(days, value, sd, words)


def _temperature_panel(
    at: _Fermenting, across: AxisScale, warm: list[tuple[float, float]], by_hand: list[tuple[float, float]], top: float
) -> Panel:
    how = unit_for("°C", at.view.system)
    shown = [(days, how.convert(value)) for days, value in warm]
    points = [(days, how.convert(value)) for days, value in by_hand]
    low, high = spread([value for _, value in shown + points], 0.1, 3.0)
    up = AxisScale(low, high, top + PANEL * _LOW, top)
    plane = Plane(across, up)
    marks = tuple(
        plane.mark(days, value, 0.0, f"day {plain(days, 1)}: {plain(value, 1)} {how.sign}") for days, value in points
    )
    return Panel(top, top + PANEL * _LOW, how.sign, up.ticks(4), marks, line=plane.path(shown))


def _beside(view: BatchView) -> CoursePicture | None:
    """Attenuation beside the mash's temperature, of this batch and the earlier ones of its brewhouse."""
    index, batch = view.index, view.batch
    known = []
    for other in [*index.earlier(batch, _LATEST), batch]:
        if index.record.counts(other):
            pair = [index.figures(other).get(name) for name in ("mash_temperature", "apparent_attenuation")]
            if pair[0] and pair[1]:
                known.append((other, pair[0].value, pair[1]))
    if len(known) < 3 or known[-1][0] is not batch:
        return None
    how = unit_for("°C", view.system)
    across = AxisScale(*spread([how.convert(warmth) for _, warmth, _ in known], 0.08, 2.0), LEFT, RIGHT)
    low, high = spread([100 * (got.value + sign * got.sd) for _, _, got in known for sign in (-1, 1)], 0.06, 4.0)
    up = AxisScale(low, high, TOP + PANEL, TOP)
    plane = Plane(across, up)
    marks = tuple(
        plane.mark(
            how.convert(warmth),
            100 * got.value,
            100 * got.sd,
            f"{other.id} {other.title}: {quantity(got.value, got.sd, '1', view.system).text} at {plain(how.convert(warmth), 1)} {how.sign}",
            "" if other is batch else index.paths[other.file],
            here=other is batch,
        )
        for other, warmth, got in known
    )
    return CoursePicture(
        name="attenuation-by-mash",
        title="Apparent attenuation beside the mash’s temperature",
        summary=f"This batch, filled and larger, among {len(known) - 1} earlier ones of its brewhouse. "
        "It is not adjusted for what else differed.",
        panels=(Panel(TOP, TOP + PANEL, "%", up.ticks(5), marks),),
        scale=across,
        across=f"mean temperature of the mash, {how.sign}",
    )

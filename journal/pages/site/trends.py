"""Trends: what became of a brewhouse's efficiency, and how sure that is.

One sentence, the control chart of what grist and volumes don't explain, and the other figures in small multiples under it; a brewhouse
with few batches has a row of strips. The values as they are stand on pages behind (`numbers`, and those of the years).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from journal.frozen import dataclass
from journal.figures import CATALOGUE
from journal.history.story import PROVISIONAL, VERDICT_FROM, HitRate
from journal.measures.wording import plain, unit_for
from journal.pages.brewhouses import BrewhouseView, brewhouse_views
from journal.pages.charts.axis import Axis
from journal.pages.charts.control import ControlPicture
from journal.pages.charts.drawn import NamedChart
from journal.pages.charts.over_time import TimePicture
from journal.pages.charts.strip import StripAxis, StripPicture
from journal.pages.index import Index
from journal.pages.model import UNBROKEN, Link, Model
from journal.pages.numbers import of_result
from journal.pages.parts.courses import FIGURES, CourseView, course_view, courses_of, small_courses
from journal.pages.parts.moved import MoveTold, tell_moves
from journal.pages.paths import NUMBERS_PAGE
from journal.pages.verdict import JUDGED, change_words, known_in, left_out, verdict
from journal.pages.words import figure_words, sentence
from journal.reading import Batch, Journal

#: Batches out of the ordinary, and batches left out, that are listed here; all of them stand on the page of numbers.
LISTED = 8
#: How often an interval is meant to hold what comes.
MEANT = 0.9
_TICKS = 4


@dataclass(frozen=True)
class SignalWords:
    """A run that scatter seldom makes: the batch that completed it, and what is odd."""

    batch: Link
    words: str


@dataclass(frozen=True)
class NamedStrip:
    """A figure of few batches: what it is, its values on an axis of its own, and its latest value."""

    figure: Link
    strip: StripPicture
    axis: StripAxis
    latest: str


@dataclass(frozen=True)
class TrendSection:
    """One brewhouse; `name` is empty where there is only one.

    `control` is None, as are `others`, below the batches that a verdict takes; `strips` are then there instead. `limits` tells what the
    lines are. `moved` is what explains changes of level; `changed` are sentences on other figures than the one judged; `earlier` counts the signals not listed.
    """

    name: str
    anchor: str
    sentence: str
    moved: tuple[MoveTold, ...]
    control: ControlPicture | None
    limits: str
    others: TimePicture | None
    strips: tuple[NamedStrip, ...]
    changed: tuple[str, ...]
    signals: tuple[SignalWords, ...]
    earlier: int
    left_out: tuple[Link, ...]
    foreseen: str


@dataclass(frozen=True, kw_only=True)
class TrendsModel(Model):
    """Each brewhouse, the one with most batches first; `numbers` leads to the values themselves."""

    sections: tuple[TrendSection, ...]
    numbers: Link


def signals_of(view: CourseView) -> Iterator[SignalWords]:
    """Single batches and runs out of the ordinary in a course, in order of brewing."""
    figure = figure_words(view.course.figure)
    for signal in view.course.signals:
        batch = view.batch(signal.index)
        side = "above" if view.parts[signal.index] > _centre(view, signal.index) else "below"
        link = Link(f"batch {batch.id}", view.index.paths[batch.file])
        yield SignalWords(link, f"{figure} {side} what was expected for the grist, {signal.text}")


def _centre(view: CourseView, place: int) -> float:
    """The level of the stretch between steps that a batch lies in."""
    starts = [0, *(step.first for step in view.course.steps), len(view.parts)]
    start = max(start for start in starts[:-1] if start <= place)
    end = min(end for end in starts[1:] if end > place)
    return sum(view.parts[start:end]) / (end - start)


def batches_left_out(index: Index, house: BrewhouseView) -> list[Batch]:
    """The batches that are left out of what is said of any figure, the latest first."""
    out = {
        batch.id: batch
        for figure in FIGURES
        for batch, result in known_in(index, house, figure)
        if left_out(index, house, batch, result)
    }
    return sorted(out.values(), key=lambda batch: -index.order[batch.id])


def _limits(view: CourseView) -> str:
    """What the lines and the band are, and how far they are to be trusted."""
    count = len(view.course.points)
    anew = ", anew after each change of level" if view.course.steps else ""
    firm = f" They are provisional, and may move, until there are {PROVISIONAL}." if view.course.provisional else ""
    return (
        f"Zero is what was to be expected of this grist and these volumes. As long as nothing changes nearly every batch lies between "
        f"the limits, three standard deviations either side of the mean, from {count} batches{anew}.{firm}"
    )


def hits_sentence(hits: Sequence[HitRate]) -> str:
    """How right the expectations were; empty where nothing was foreseen."""
    right, of = sum(each.right for each in hits), sum(each.of for each in hits)
    meant = f"{plain(100 * MEANT, 0)}{UNBROKEN}%"
    return f"Of {of} values {right} came out within the range expected beforehand; {meant} should." if of else ""


def _strip(index: Index, house: BrewhouseView, figure: str) -> NamedStrip | None:
    known = known_in(index, house, figure)
    if not known:
        return None
    how = unit_for(CATALOGUE[figure].unit, index.system)
    out = [(batch, result) for batch, result in known if left_out(index, house, batch, result)]
    sound = [each for each in known if each not in out]
    values = [how.convert(result.value) for _, result in sound]
    axis = Axis.around(values or [how.convert(result.value) for _, result in out], room=0.2, least=4 if how.sign == "%" else 1)
    ticks = axis.ticks(_TICKS)
    words = ", ".join(f"batch {batch.id}: {of_result(result, index.system).text}" for batch, result in known)
    return NamedStrip(
        Link(figure_words(figure), f"figures.html#{figure}"),
        StripPicture(
            axis,
            words,
            latest=tuple(values[-1:]),
            earlier=tuple(values[:-1]),
            left_out=tuple(how.convert(result.value) for _, result in out),
            ticks=ticks,
        ),
        StripAxis(axis, ticks, how.sign),
        f"batch {sound[-1][0].id}: {of_result(sound[-1][1], index.system).text}" if sound else "",
    )


def _changed(index: Index, view: CourseView) -> str:
    """What changed of another figure than the one judged; empty for nothing."""
    words = change_words(index, view.course)
    return sentence(f"{figure_words(view.course.figure)}: {words}") if words else ""


def _section(index: Index, house: BrewhouseView) -> TrendSection:
    views = courses_of(index, house)
    first = next((view for view in views if view.course.figure == JUDGED), None)
    rest = [view for view in views if view is not first]
    signals = [signal for view in views for signal in signals_of(view)]
    strips = () if views else tuple(strip for figure in FIGURES if (strip := _strip(index, house, figure)))
    return TrendSection(
        name=house.name,
        anchor=house.anchor,
        sentence=verdict(index, house),
        moved=tell_moves(index, house),
        control=first.control() if first else None,
        limits=_limits(first) if first else "",
        others=small_courses(rest, "The other figures over time, each less what grist and volumes explain of it"),
        strips=strips,
        changed=tuple(words for view in rest if (words := _changed(index, view))),
        signals=tuple(signals[-LISTED:]),
        earlier=max(len(signals) - LISTED, 0),
        left_out=tuple(Link(batch.id, index.paths[batch.file]) for batch in batches_left_out(index, house)[:LISTED]),
        foreseen=hits_sentence(house.story.hits) if house.story else "",
    )


def may_have_charts(journal: Journal) -> bool:
    """Whether a brewhouse has batches enough for a control chart, as far as can be told before its history is known."""
    return any(len(batches) >= VERDICT_FROM for batches in journal.by_brewhouse.values())


def control_charts(index: Index) -> Iterator[NamedChart]:
    """The page's control charts as the page has them: each takes as long to draw as all else on it."""
    for house in brewhouse_views(index):
        view = course_view(index, house, JUDGED)
        if view:
            yield NamedChart(view.control(), f"{house.anchor}-control")


def trends_model(index: Index) -> TrendsModel:
    """Everything on the page of trends."""
    return TrendsModel(
        frame=index.frame("Trends", "trends", "What became of the efficiency over time, and how sure that is."),
        sections=tuple(_section(index, house) for house in brewhouse_views(index)),
        numbers=Link("All values, by figure and by year", NUMBERS_PAGE),
    )

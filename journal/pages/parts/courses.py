"""The courses of a brewhouse's figures as pictures: the control chart, and small multiples of all on one axis of time."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import cached_property
from itertools import pairwise

from journal.figures import CATALOGUE, Result
from journal.frozen import dataclass
from journal.history import FigureCourse
from journal.history.change import individuals_chart
from journal.history.story import VERDICT_FROM
from journal.measures.wording import Unit, plain, show, show_difference, signed, unit_for
from journal.pages.brewhouses import BrewhouseView
from journal.pages.charts.control import LINKED, ControlDot, ControlPicture, LevelChange
from journal.pages.charts.over_time import DayLink, LeftOut, LevelBand, TimeDot, TimePanel, TimePicture
from journal.pages.index import Index
from journal.pages.model import UNBROKEN
from journal.pages.verdict import course_in, known_in, left_out, step_words
from journal.pages.words import day, figure_words
from journal.reading import Batch

#: All that is shown over time, the whole before its parts.
FIGURES = (
    "brewhouse_efficiency",
    "mash_efficiency",
    "conversion_efficiency",
    "lauter_efficiency",
    "transfer_efficiency",
    "boil_off",
)
#: What is left by grist and volumes is the same picture as the values, where these take the same from all within this.
_SAME = 1e-9
#: Batches out of the ordinary that bear their number, the latest ones.
_MARKED = 6


@dataclass(frozen=True)
class CourseView:
    """A course with what it takes to show it: look-ups, the batches by id, the unit.

    `parts` of it are shown: what grist and volumes leave, in points; or the values as they are, where these take the same from all.
    """

    index: Index
    house: BrewhouseView
    course: FigureCourse

    @cached_property
    def explains(self) -> bool:
        """Whether grist and volumes explain different parts of different batches' values."""
        explained = [point.value - point.residual for point in self.course.points]
        return max(explained) - min(explained) > _SAME

    @property
    def _unit(self) -> Unit:
        return unit_for(CATALOGUE[self.course.figure].unit, self.index.system)

    @property
    def unit(self) -> str:
        """The sign of what is shown."""
        return self._unit.of_difference if self.explains else self._unit.sign

    @property
    def _shown(self) -> Callable[[float], float]:
        return self._unit.convert_difference if self.explains else self._unit.convert

    @cached_property
    def parts(self) -> list[float]:
        """What is shown of each batch, in the unit that the record keeps."""
        return [point.residual if self.explains else point.value for point in self.course.points]

    def batch(self, place: int) -> Batch:
        """The batch at a place of the course."""
        return self.house.by_id[self.course.points[place].batch]

    def day(self, place: int) -> int:
        """The number of its day."""
        return self.batch(place).day.toordinal()

    def words(self, place: int) -> str:
        """What is shown of the batch at a place, `+2.3 ± 1.2 points`; and as it is written, where it stands corrected."""
        point, unit, part = self.course.points[place], CATALOGUE[self.course.figure].unit, self.parts[place]
        told = show_difference if self.explains else show
        words = str(told(part, point.sd, unit, self.index.system)).replace(" ", UNBROKEN)
        if point.written is None:
            return words
        written = str(told(part + point.written - point.value, 0.0, unit, self.index.system)).replace(" ", UNBROKEN)
        return f"{words}, corrected; {written} as written"

    def dots(self) -> tuple[TimeDot, ...]:
        """Every batch's part with its uncertainty."""
        shown, how = self._shown, self._unit
        return tuple(
            TimeDot(self.day(place), shown(part), abs(how.convert_difference(self.course.points[place].sd)))
            for place, part in enumerate(self.parts)
        )

    def bands(self) -> tuple[LevelBand, ...]:
        """Mean and limits of each stretch between steps that is long enough."""
        if self.course.limits is None:
            return ()
        shown, parts, made = self._shown, self.parts, []
        for start, end in pairwise([0, *(step.first for step in self.course.steps), len(parts)]):
            if end - start >= VERDICT_FROM:
                limits = individuals_chart(parts[start:end])
                levels = (shown(level) for level in (limits.lower, limits.centre, limits.upper))
                made.append(LevelBand(self.day(start), self.day(end - 1), *levels))
        return tuple(made)

    def kept_out(self) -> tuple[LeftOut, ...]:
        """The batches that are left out, on the side where their values lie."""
        level = sum(point.value for point in self.course.points) / len(self.course.points)
        return edge_marks(self.index, self.house, self.course.figure, level)

    def control(self) -> ControlPicture:
        """The large control chart."""
        dots, last = self.dots(), len(self.course.points) - 1
        marked = {signal.index for signal in self.course.signals[-_MARKED:]} | {last}
        figure = figure_words(self.course.figure)
        return ControlPicture(
            title=f"{figure.capitalize()}, what grist and volumes don’t explain, batch by batch",
            summary=self._summary(last),
            unit=self.unit,
            dots=tuple(
                ControlDot(
                    dot.day,
                    dot.value,
                    dot.sd,
                    self.batch(place).id,
                    f"{self.batch(place).id} {self.batch(place).title}, {day(self.batch(place).day).text}: {self.words(place)}"
                    if place > last - LINKED
                    else "",
                    self.index.paths[self.batch(place).file] if place > last - LINKED else "",
                    place in marked,
                )
                for place, dot in enumerate(dots)
            ),
            bands=self.bands(),
            left_out=self.kept_out(),
            changes=tuple(
                LevelChange(self.day(step.first), step_words(self.index, self.course, step).split("(")[0].strip())
                for step in self.course.steps
            ),
        )

    def _summary(self, last: int) -> str:
        out = [each.name for each in self.kept_out()]
        aside = f" Left out, at the edge: {', '.join(out)}." if out else ""
        return f"{last + 1} batches; {self._level()}the latest, batch {self.batch(last).id}, {self.words(last)}.{aside}"

    def _level(self) -> str:
        """Mean, limits and changes of level in words, as the lines of the chart show them."""
        told = [
            f"mean {_signed(band.centre)}, limits {_signed(band.low)} and {_signed(band.high)} {self.unit}"
            for band in self.bands()[-1:]
        ]
        told += [
            f"from batch {self.batch(step.first).id} on {step_words(self.index, self.course, step)}"
            for step in self.course.steps
        ]
        return "".join(f"{each}; " for each in told)

    def panel(self) -> TimePanel:
        """The same as one of several small ones."""
        last = len(self.course.points) - 1
        return TimePanel(
            words=f"{figure_words(self.course.figure)}, {self.unit}",
            latest=f"batch {self.batch(last).id}: {self.words(last)}",
            dots=self.dots(),
            bands=self.bands(),
            left_out=self.kept_out(),
            changes=tuple(self.day(step.first) for step in self.course.steps),
            sign=self.explains,
        )


def _signed(level: float) -> str:
    """As the chart says it beside its lines."""
    return signed(plain(level, 1))


def edge_marks(index: Index, house: BrewhouseView, figure: str, level: float) -> tuple[LeftOut, ...]:
    """The batches that have a figure and are left out, each on its side of a level."""
    return tuple(
        LeftOut(batch.day.toordinal(), result.value > level, batch.id)
        for batch, result in known_in(index, house, figure)
        if left_out(index, house, batch, result)
    )


def course_view(index: Index, house: BrewhouseView, figure: str) -> CourseView | None:
    """A figure's course, None where it is too short for a verdict."""
    course = course_in(house, figure)
    return CourseView(index, house, course) if course and course.limits else None


def courses_of(index: Index, house: BrewhouseView) -> list[CourseView]:
    """All courses that are long enough, the whole before its parts."""
    return [view for figure in FIGURES if (view := course_view(index, house, figure))]


def small_courses(views: Sequence[CourseView], title: str) -> TimePicture | None:
    """Courses one below the other on one axis of time; None of none."""
    if not views:
        return None
    panels = tuple(view.panel() for view in views)
    summary = "; ".join(f"{panel.words}, {panel.latest}" for panel in panels)
    return TimePicture(title, f"{summary}.", panels, tuple(_links(views)))


def _links(views: Sequence[CourseView]) -> Iterator[DayLink]:
    """The newest batches, each with what all courses have of it."""
    said: dict[str, list[str]] = {}
    for view in views:
        for place, point in list(enumerate(view.course.points))[-LINKED:]:
            said.setdefault(point.batch, []).append(f"{figure_words(view.course.figure)} {view.words(place)}")
    index, house = views[0].index, views[0].house
    newest = sorted((house.by_id[batch] for batch in said), key=lambda batch: index.order[batch.id])[-LINKED:]
    for batch in newest:
        words = f"{batch.id} {batch.title}: {', '.join(said[batch.id])}"
        yield DayLink(batch.day.toordinal(), words, index.paths[batch.file])


def figures_as_got(index: Index, house: BrewhouseView, figures: Sequence[str], title: str) -> TimePicture | None:
    """Figures as they are shown first, not allowing for anything, one below the other; None where no batch has one."""
    panels = tuple(panel for figure in figures if (panel := _as_got(index, house, figure)))
    summary = "; ".join(f"{panel.words}, {panel.latest}" for panel in panels)
    return TimePicture(title, f"{summary}.", panels) if panels else None


def _as_got(index: Index, house: BrewhouseView, figure: str) -> TimePanel | None:
    known = known_in(index, house, figure)
    sound = [(batch, result) for batch, result in known if not left_out(index, house, batch, result)]
    if not sound:
        return None
    how, (last, latest) = unit_for(CATALOGUE[figure].unit, index.system), sound[-1]
    level = sum(result.value for _, result in sound) / len(sound)
    course = course_in(house, figure)
    written = ", as written" if course and any(point.written is not None for point in course.points) else ""
    return TimePanel(
        words=f"{figure_words(figure)}, {how.sign}{written}",
        latest=f"batch {last.id}: {_shown(latest, index.system)}",
        dots=tuple(
            TimeDot(batch.day.toordinal(), how.convert(result.value), abs(how.convert_difference(result.sd)))
            for batch, result in sound
        ),
        left_out=edge_marks(index, house, figure, level),
    )


def _shown(result: Result, system: str) -> str:
    return str(show(result.value, result.sd, result.unit, system)).replace(" ", UNBROKEN)

"""A figure's course in pictures and words: limits, steps, a drift, and runs that scatter seldom makes."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from journal.figures import CATALOGUE
from journal.history import FigureCourse
from journal.history.change import Step, individuals_chart
from journal.history.story import PROVISIONAL, VERDICT_FROM
from journal.measures.wording import Unit, unit_for
from journal.pages.differences import change
from journal.pages.index import Index
from journal.pages.model import Link
from journal.pages.models.trends import Band, Chart, Point, SignalWords, StepMark
from journal.pages.words import day, figure_words, how_many
from journal.reading import Batch

#: Parts left by grist and volumes that differ by less than this from the values less a constant are the same picture.
_SAME = 1e-9


@dataclass(frozen=True)
class CourseView:
    """A course with what telling it takes: the journal's look-ups and the batches by id."""

    index: Index
    course: FigureCourse
    batches: dict[str, Batch]

    @property
    def unit(self) -> str:
        """The kept unit of the figure."""
        return CATALOGUE[self.course.figure].unit

    @property
    def has_limits(self) -> bool:
        """Whether there are batches enough for a verdict."""
        return self.course.limits is not None

    def batch(self, place: int) -> Batch:
        """The batch at a place of the course."""
        return self.batches[self.course.points[place].batch]

    def bands(self) -> tuple[Band, ...]:
        """Limits of the values, in the chart's unit."""
        how = unit_for(self.unit, self.index.system)
        return self._bands([point.value for point in self.course.points], how.convert)

    def steps(self) -> tuple[StepMark, ...]:
        """Where the level changed, as the chart marks it."""
        return tuple(StepMark(self.batch(step.first).day.isoformat(), self._change(step)) for step in self.course.steps)

    def left(self) -> Chart | None:
        """What grist and volumes leave of the figure; None where that is the same picture, or too short for a verdict."""
        explained = [point.value - point.residual for point in self.course.points]
        if not self.has_limits or max(explained) - min(explained) < _SAME:
            return None
        how = unit_for(self.unit, self.index.system)
        words = f"{figure_words(self.course.figure)}, got less expected for the grist"
        return Chart(
            figure=f"{self.course.figure}-left",
            words=words,
            unit=how.of_difference,
            summary="What was got less what this grist and these volumes would give at what the brewhouse does on the whole.",
            points=tuple(self._left(place, how) for place in range(len(self.course.points))),
            bands=self._bands([point.residual for point in self.course.points], how.convert_difference),
            steps=self.steps(),
            small=True,
        )

    def limits(self) -> str:
        """What the band is, or why there is none."""
        count = len(self.course.points)
        if not self.has_limits:
            return (
                f"No limits yet: {how_many(count)} of {how_many(VERDICT_FROM)} batches that it takes to tell change from "
                "chance. Until then the points stand for themselves."
            )
        spans = (
            "The line is the mean, the band three standard deviations of the scatter from batch to batch to either side"
        )
        anew = ", reckoned anew after each change of level" if self.course.steps else ""
        firm = f"; it is provisional, and may move, until there are {PROVISIONAL}" if self.course.provisional else ""
        return f"{spans}, from {count} batches{anew}{firm}."

    def sentences(self) -> tuple[str, ...]:
        """Steps and drift; where nothing was found, that."""
        if not self.has_limits:
            return ()
        said = [self._stepped(step) for step in self.course.steps]
        drift = self.course.drift
        if drift is not None:
            over = len(self.course.points) - 1
            moved = change(drift.per_batch * over, drift.low * over, drift.high * over, self.unit, self.index.system)
            said.append(
                f"A slow drift, not a step: {moved} from batch {self.batch(0).id} to batch {self.batch(over).id}, "
                "grist and volumes allowed for."
            )
        return tuple(said) or ("No lasting change that scatter would not make too, grist and volumes allowed for.",)

    def signals(self) -> tuple[SignalWords, ...]:
        """Single batches and runs out of the ordinary."""
        made = []
        for signal in self.course.signals:
            batch = self.batch(signal.index)
            above = self.course.points[signal.index].residual > self._centre(signal.index)
            side = "above" if above else "below"
            made.append(SignalWords(self._link(batch), f"{signal.text}, {side} what was expected for the grist"))
        return tuple(made)

    def _change(self, step: Step) -> str:
        return change(step.change, step.low, step.high, self.unit, self.index.system)

    def _stepped(self, step: Step) -> str:
        return f"From batch {self.batch(step.first).id} on {self._change(step)}, grist and volumes allowed for."

    def _link(self, batch: Batch) -> Link:
        return Link(f"batch {batch.id}", self.index.paths[batch.file])

    def _bounds(self) -> list[int]:
        return [0, *(step.first for step in self.course.steps), len(self.course.points)]

    def _centre(self, place: int) -> float:
        """The level of the stretch that a batch lies in."""
        start, end = next((start, end) for start, end in pairwise(self._bounds()) if start <= place < end)
        residuals = [point.residual for point in self.course.points[start:end]]
        return sum(residuals) / len(residuals)

    def _bands(self, values: Sequence[float], shown: Callable[[float], float]) -> tuple[Band, ...]:
        if not self.has_limits:
            return ()
        made = []
        for start, end in pairwise(self._bounds()):
            if end - start >= VERDICT_FROM:
                limits = individuals_chart(values[start:end])
                first, last = (self.batch(place).day.isoformat() for place in (start, end - 1))
                made.append(Band(first, last, shown(limits.lower), shown(limits.centre), shown(limits.upper)))
        return tuple(made)

    def _left(self, place: int, how: Unit) -> Point:
        point, batch = self.course.points[place], self.batch(place)
        return Point(
            day=batch.day.isoformat(),
            value=how.convert_difference(point.residual),
            sd=abs(how.convert_difference(point.sd)),
            batch=batch.id,
            href=self.index.paths[batch.file],
            words=f"{batch.id} {batch.title}, {day(batch.day).text}",
            flagged=False,
        )

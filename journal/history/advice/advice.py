"""What a note is, and what its rule may look at."""

from __future__ import annotations

from functools import cached_property

from journal.figures import BatchFigures
from journal.figures.logged_mash import MashCourse, course_of, cut, longest_rest, mash_part, mean, minutes_between
from journal.figures.mashing import aim_of
from journal.frozen import dataclass
from journal.measures.wording import METRIC, show, whole_degrees
from journal.reading import Batch, Journal
from journal.science.mash import minutes_in_range

#: The source of what every brewer is told and nobody measured first.
COMMON = "common practice"


@dataclass(frozen=True)
class Advice:
    """One note: what it is about in a sentence, why, where that comes from, and the reading that it is about."""

    code: str
    text: str
    reason: str
    source: str
    path: str


@dataclass(frozen=True)
class MainRest:
    """The longest rest: its mean temperature, degC, how long, min, and where it stands."""

    temperature: float
    minutes: float
    path: str


@dataclass(frozen=True)
class AdvisedBatch:
    """One batch, its figures, and the journal with the batches brewed before it."""

    batch: Batch
    figures: BatchFigures
    journal: Journal
    earlier: tuple[Batch, ...]

    def value(self, figure: str) -> float | None:
        """A figure's number, None where it is wanting."""
        found = self.figures.get(figure)
        return None if found is None else found.value

    def shown(self, number: float, unit: str) -> str:
        """A number as the brewery sees it."""
        return str(show(number, 0.0, unit, self.journal.brewery.units or METRIC))

    def about(self, temperature: float) -> str:
        """A temperature, degC, that is only meant roughly, as the brewery sees it."""
        return whole_degrees(temperature, self.journal.brewery.units or METRIC)

    @cached_property
    def _logged(self) -> tuple[MashCourse, MashCourse] | None:
        course = course_of(self.batch.mash_log)
        return None if course is None else mash_part(course, aim_of(self.batch.mash))

    @cached_property
    def _rests(self) -> list[tuple[float, float, int]]:
        steps = enumerate(self.batch.mash.rests)
        return [(r.temperature.value, r.time.value, index) for index, r in steps if r.temperature and r.time]

    def stay(self, low: float, high: float) -> tuple[float, str]:
        """Minutes that the mash stood from `low` to `high`, degC, and where they are written down; the log counts first."""
        if self._logged:
            return minutes_between(self._logged[0], low, high), "mash.log"
        inside = [index for temperature, _, index in self._rests if low <= temperature <= high]
        path = f"mash.rests[{inside[0]}]" if inside else "mash.rests"
        return minutes_in_range([(temperature, time) for temperature, time, _ in self._rests], low, high), path

    @cached_property
    def main_rest(self) -> MainRest | None:
        """The longest rest, by the log where there is one; None where nothing rested."""
        if self._logged:
            mash = self._logged[1]
            found = longest_rest(mash)
            return MainRest(mean(cut(mash, *found)), found[1] - found[0], "mash.log") if found else None
        if not self._rests:
            return None
        temperature, time, index = max(self._rests, key=lambda rest: rest[1])
        return MainRest(temperature, time, f"mash.rests[{index}]")

"""The record as a whole: for each brewhouse the course of its efficiencies, what changed, which practice goes with it, and
what a change was worth.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import cached_property
from itertools import pairwise

from journal.balance import BROKEN, Balance
from journal.balance.own import OWN_FIGURES
from journal.figures import BatchFigures
from journal.frozen import dataclass
from journal.history.attenuation import FIGURE as ATTENUATION
from journal.history.attenuation import has_ended
from journal.history.brewhouse import BrewhouseRecord, brewhouse_records
from journal.history.change import (
    ControlLimits,
    Drift,
    LevelStep,
    Signal,
    describe_change,
    find_drift,
    individuals_chart,
    run_signals,
)
from journal.history.fold import digests_before
from journal.history.levers import (
    LeverResult,
    MatchedPair,
    Prepared,
    Row,
    Settling,
    count_looked_at,
    judge,
    matched_pairs,
    measure,
    prepare,
    settle_each,
    spread_between,
)
from journal.history.lot_steps import steps_beyond_lots
from journal.history.moved.lots import LotEffect
from journal.history.moved.move import Move
from journal.history.moved.record import NEAR_A_STEP, NOTHING_MOVED, MovedRecord, moved_of
from journal.history.observations import Observation, observations
from journal.history.pays import Pays, StudiedRecord, what_pays
from journal.history.settings import LEVERS, settings_for
from journal.history.usual import sheet_sd
from journal.history.worth import Worth, worth_of
from journal.memory import FORGETFUL, Memory, digest_of
from journal.reading import Batch, Journal

#: Figures that levers are studied on.
STUDIED = ("brewhouse_efficiency", "conversion_efficiency", "lauter_efficiency", ATTENUATION)
#: Fewer batches than this get no verdict; fewer than PROVISIONAL only provisional limits.
VERDICT_FROM, PROVISIONAL = 5, 12


@dataclass(frozen=True)
class OwnPoint:
    """One batch's own value of a figure, what is left of it after grist and volumes, and its own uncertainty.

    `written`: the value by the readings as they stand in the entry, where they are surely wrong and were corrected.
    """

    batch: str
    value: float
    residual: float
    sd: float
    written: float | None = None


@dataclass(frozen=True)
class FigureCourse:
    """A figure over the batches of a brewhouse.

    `limits` are those of the values as they are; signals, steps and drift are found in what grist and volumes leave of
    them, and name batches by their place in `points`. A drift beside steps fits better than they do. All empty below
    VERDICT_FROM batches. `moves` are those of the brewhouse, of which some explain the steps.
    """

    figure: str
    points: tuple[OwnPoint, ...]
    limits: ControlLimits | None
    signals: tuple[Signal, ...]
    steps: tuple[LevelStep, ...]
    drift: Drift | None
    provisional: bool
    moves: tuple[Move, ...] = ()

    def move_at(self, step: LevelStep) -> Move | None:
        """What explains a step, where anything does."""
        places = {point.batch: place for place, point in enumerate(self.points)}
        near = [
            move for move in self.moves if abs(places.get(move.first_batch, -len(places)) - step.first) <= NEAR_A_STEP
        ]
        return min(near, key=lambda move: abs(places[move.first_batch] - step.first), default=None)

    @cached_property
    def by_batch(self) -> dict[str, OwnPoint]:
        """The points by batch id."""
        return {point.batch: point for point in self.points}


@dataclass(frozen=True)
class LeverStudy:
    """What the record says of the levers on one figure; `settlings` would tell most of each that isn't clear, the best first."""

    figure: str
    results: tuple[LeverResult, ...]
    pairs: tuple[MatchedPair, ...]
    settlings: tuple[Settling, ...]

    @property
    def settling(self) -> Settling | None:
        """The change that would tell most of all, None where nothing would."""
        return next(iter(self.settlings), None)


@dataclass(frozen=True)
class HitRate:
    """How often what was foreseen of a figure came about: `right` of `of` batches, at the level of the intervals."""

    figure: str
    right: int
    of: int


@dataclass(frozen=True)
class BrewhouseStory:
    """All that the record of one brewhouse says.

    `moved`: which instrument, lot or habit explains what changed in it; `pays`: where its extract goes and what to change first, None
    where no batch counts.
    """

    record: BrewhouseRecord
    courses: tuple[FigureCourse, ...]
    studies: tuple[LeverStudy, ...]
    lots: tuple[LotEffect, ...]
    hits: tuple[HitRate, ...]
    worth: Worth | None
    moved: MovedRecord
    pays: Pays | None

    def course(self, figure: str) -> FigureCourse | None:
        """The course of one figure, None where there is none."""
        return next((course for course in self.courses if course.figure == figure), None)


@dataclass(frozen=True)
class History:
    """The record of every brewhouse, the one with most batches first."""

    brewhouses: tuple[BrewhouseStory, ...]


def _signals(residuals: Sequence[float], steps: Sequence[LevelStep]) -> tuple[Signal, ...]:
    """Runs within each stretch between steps, judged by that stretch's own limits."""
    bounds = [0, *(step.first for step in steps), len(residuals)]
    found = []
    for start, end in pairwise(bounds):
        stretch = residuals[start:end]
        if len(stretch) >= VERDICT_FROM:
            chart = individuals_chart(stretch)
            found += [
                Signal(signal.index + start, signal.rule, signal.text)
                for signal in run_signals(stretch, chart.centre, chart.sigma)
            ]
    return tuple(found)


def course_of(
    figure: str, seen: Sequence[Observation], lot_sd: float, moved: MovedRecord = NOTHING_MOVED
) -> FigureCourse:
    """The course of one figure over the batches that have it."""
    points = tuple(
        OwnPoint(
            o.batch,
            o.values[figure].value,
            o.residuals[figure].value,
            o.values[figure].sd,
            o.written[figure].value if figure in o.written else None,
        )
        for o in seen
        if figure in o.values
    )
    if len(points) < VERDICT_FROM:
        return FigureCourse(figure, points, None, (), (), None, True)
    residuals = [p.residual for p in points]
    sds = [p.sd for p in points]
    # a sheet's error says nothing of how much a boil drives off, nor of how the bed drains
    shared = 0.0 if figure in {"boil_off", "lauter_efficiency"} else lot_sd
    steps = steps_beyond_lots(residuals, sds, [o.lots for o in seen if figure in o.values], shared)
    # a level that moved is no slow drift
    still = moved.settled([p.batch for p in points])
    drift = None if not still else describe_change(residuals, sds).drift if steps else find_drift(residuals, sds)
    return FigureCourse(
        figure,
        points,
        individuals_chart([p.value for p in points]),
        _signals(residuals, steps),
        steps,
        drift,
        len(points) < PROVISIONAL,
        moved.moves,
    )


def _prepare(figure: str, seen: Sequence[Observation], lot_sd: float, moved: MovedRecord) -> Prepared:
    """The batches that have a figure, with the levers that have a way to it."""
    # what an instrument or a lot may have made is no practice's doing: only batches of one side of it are held together
    rows = [
        Row(
            o.batch,
            o.residuals[figure].value,
            o.residuals[figure].sd,
            {**o.lots, **moved.sides(o.batch)},
            settings_for(figure, o.settings),
            o.method,
            o.most,
        )
        for o in seen
        if figure in o.residuals
    ]
    # a sheet's error says nothing of how far a beer ferments
    return prepare(rows, 0.0 if figure == ATTENUATION else lot_sd)


def _studies(seen: Sequence[Observation], lot_sd: float, moved: MovedRecord) -> tuple[LeverStudy, ...]:
    """What the record says of the levers on each figure, judged for all that was looked at in any of them."""
    ready = [_prepare(figure, seen, lot_sd, moved) for figure in STUDIED]
    units = {name: LEVERS[name].effect_unit if name in LEVERS else "1" for o in seen for name in o.settings}
    judged = judge([measure(each, units) for each in ready])
    looked_at = count_looked_at(judged)
    return tuple(
        LeverStudy(
            figure,
            tuple(results),
            tuple(matched_pairs(each.rows, each.lot_sd, spread_between(each, results))),
            settle_each(each, results, looked_at),
        )
        for figure, each, results in zip(STUDIED, ready, judged, strict=True)
    )


def _hits(
    batches: Sequence[Batch], balances: Mapping[str, Balance], figures: Mapping[str, BatchFigures]
) -> tuple[HitRate, ...]:
    counts: dict[str, list[bool]] = {}
    for batch in batches:
        balance = balances[batch.id]
        for name, foreseen in balance.foreseen.items():
            got = balance.figures.get(name) or figures[batch.id].get(name)
            if name == ATTENUATION and not has_ended(batch, figures[batch.id]):
                continue
            if got is not None and foreseen.batches > 0 and balance.verdict.status != BROKEN:
                counts.setdefault(name, []).append(foreseen.low <= got.value <= foreseen.high)
    return tuple(HitRate(name, sum(right), len(right)) for name, right in counts.items())


def worth_since_step(
    course: FigureCourse,
    batches: Sequence[Batch],
    figures: Mapping[str, BatchFigures],
    journal: Journal,
    seen: Sequence[Observation],
    lot_sd: float,
    moved: MovedRecord,
) -> Worth | None:
    """What the latest brews saved, claimed where the brewing itself changed and nothing else may have."""
    found = worth_of(
        course.points,
        course.steps,
        {batch.id: batch for batch in batches},
        figures,
        journal.malts,
        {o.batch: o.lots for o in seen},
        lot_sd,
    )
    if found is None:
        return None
    named = [point.batch for point in course.points]
    begins = named.index(found.since)
    earlier = course.steps[-2].first if len(course.steps) > 1 else 0
    return replace(found, by_brewing=moved.by_brewing(named[earlier:begins], named[begins:], found.change))


def _story(
    record: BrewhouseRecord,
    batches: Sequence[Batch],
    journal: Journal,
    figures: Mapping[str, BatchFigures],
    balances: Mapping[str, Balance],
    memory: Memory,
) -> BrewhouseStory:
    moved = moved_of(batches, balances, figures, journal, memory)
    seen = observations(list(batches), balances, figures, journal, moved)
    lot_sd = sheet_sd(batches, figures)
    courses = tuple(course_of(figure, seen, lot_sd, moved) for figure in OWN_FIGURES)
    studies = _studies(seen, lot_sd, moved)
    brewhouse_course = next(course for course in courses if course.figure == "brewhouse_efficiency")
    return BrewhouseStory(
        record,
        courses,
        studies,
        moved.lots,
        _hits(batches, balances, figures),
        worth_since_step(brewhouse_course, batches, figures, journal, seen, lot_sd, moved),
        moved,
        what_pays(
            record.key,
            batches,
            journal,
            figures,
            balances,
            StudiedRecord(
                moved,
                {study.figure: study.results for study in studies},
                {study.figure: study.settlings for study in studies},
                [each.settings for each in seen],
                lot_sd,
            ),
        ),
    )


def history_key(journal: Journal) -> str:
    """What the history hangs on, as a digest."""
    return digest_of("history", digests_before(journal.batches)[-1])


def history_of(
    journal: Journal,
    figures: Mapping[str, BatchFigures],
    balances: Mapping[str, Balance],
    memory: Memory = FORGETFUL,
) -> History:
    """The record of every brewhouse; planned batches are left out of all of it, and broken ones of all but what a brewer
    who trusts one all the same (`trust: {balance: yes}`) lets it teach of the brewhouse.
    """
    by_id = {batch.id: batch for batch in journal.batches}

    def story_of(record: BrewhouseRecord) -> BrewhouseStory:
        batches = [by_id[batch_id] for batch_id in record.batches]
        key = digest_of("story", *(part for batch in batches for part in (batch.id, batch.facts_digest)))
        return memory.recall(key, lambda: _story(record, batches, journal, figures, balances, memory))

    def all_stories() -> History:
        stories = [story_of(record) for record in brewhouse_records(journal, balances)]
        return History(tuple(sorted(stories, key=lambda story: -len(story.record.batches))))

    return memory.recall(history_key(journal), all_stories)

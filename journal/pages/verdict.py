"""What became of a brewhouse's efficiency, in one sentence: the one place that every page has it from.

No page claims a change, or what one was worth, that does not stand here.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from journal.figures import CATALOGUE, Result
from journal.history import FigureCourse
from journal.history.change import LevelStep
from journal.history.moved.words import by_what, consequence, move_sentence, of_what
from journal.history.story import VERDICT_FROM
from journal.history.worth import Worth
from journal.measures.wording import plain, show, show_range
from journal.pages.brewhouses import BrewhouseView
from journal.pages.counted import how_many
from journal.pages.differences import HALF_WIDTH, between, join, show_change
from journal.pages.grist import lot_name
from journal.pages.index import Index
from journal.pages.model import UNBROKEN
from journal.pages.numbers import of_result
from journal.pages.words import sentence
from journal.problems import in_words
from journal.reading import Batch

#: The figure that a brewhouse is judged by.
JUDGED = "brewhouse_efficiency"
#: Figures whose step is the very change that the brewing's own cause made, by that cause.
_SAME_CHANGE = {"conversion": "conversion_efficiency", "boil-off": "boil_off"}


def course_in(house: BrewhouseView, figure: str) -> FigureCourse | None:
    """The course of a figure, None where the record has none."""
    return house.story.course(figure) if house.story else None


def left_out(index: Index, house: BrewhouseView, batch: Batch, result: Result) -> bool:
    """Whether a batch is kept out of what is said of a figure; what the record's course counts, counts."""
    course = course_in(house, result.name)
    counted = course is not None and batch.id in course.by_batch
    return not counted and index.flagged(batch, result)


def known_in(index: Index, house: BrewhouseView, figure: str) -> list[tuple[Batch, Result]]:
    """The batches of a brewhouse that have a figure, in order of brewing, those left out among them."""
    return [(batch, result) for batch in house.batches if (result := index.result(batch, figure)) is not None]


def verdict(index: Index, house: BrewhouseView) -> str:
    """What the latest batch gave, and whether the level has changed; what that takes, where the batches are too few."""
    known = known_in(index, house, JUDGED)
    sound = [(batch, result) for batch, result in known if not left_out(index, house, batch, result)]
    if not known:
        return (
            "No batch yet has the readings for an efficiency: the grist, and the volume and gravity in the fermenter."
        )
    if not sound:
        return "Every batch with an efficiency is flagged, so nothing is said of it here."
    batch, result = sound[-1]
    latest = "latest batch" if batch is known[-1][0] is house.batches[-1] else "latest batch that counts here"
    got = f"{of_result(result, index.system).text} of the malt’s extract went into the fermenter{_corrected(index, house, batch)}"
    if len(sound) == 1 == len(known):
        return f"In the first batch, {batch.id}, {got}."
    level = _of_level(index, house, [result.value for _, result in sound])
    return sentence(f"In the {latest}, {batch.id}, {got}; {level}")


def _corrected(index: Index, house: BrewhouseView, batch: Batch) -> str:
    """What a batch gave once what surely moved is taken out of its readings, in a clause; empty where they stand."""
    course = course_in(house, JUDGED)
    point = course.by_batch.get(batch.id) if course else None
    if point is None or point.written is None:
        return ""
    shown = str(show(point.value, point.sd, "1", index.system)).replace(" ", UNBROKEN)
    return f" by the readings as written, {shown} once they are corrected"


def _of_level(index: Index, house: BrewhouseView, values: Sequence[float]) -> str:
    course, count = course_in(house, JUDGED), how_many(len(values))
    if len(values) < VERDICT_FROM:
        there = f"there {'is' if len(values) == 1 else 'are'} {count}"
        return f"{how_many(VERDICT_FROM)} batches are needed to tell change from chance, and {there}"
    if course is None or course.limits is None:
        # too few readings of the kettle to adjust for grist and volumes
        return f"over {count} batches it was {show_range(min(values), max(values), '1', index.system)}"
    batches = f"{len(course.points)} batches, adjusted for grist and volumes"
    if not course.steps and course.drift is None:
        return _unstepped(index, house, len(course.points))
    return f"in {batches}, {change_words(index, course)}{_worth(index, house, course)}"


def _unstepped(index: Index, house: BrewhouseView, batches: int) -> str:
    """What is said where no figure stepped by itself: all readings together may have moved all the same."""
    moves = house.story.moved.moves if house.story else ()
    still = [move for move in moves if not move.corrects and move.last_batch is None]
    if still:
        latest, named = still[-1], partial(lot_name, index)
        since = f"the level changed at batch {latest.first_batch}: {of_what(latest, named)}"
        return f"the readings of all {batches} batches together say that {since} (adjusted for grist and volumes)"
    corrected = " besides what is corrected for" if any(move.corrects for move in moves) else ""
    return f"no lasting change{corrected} in {batches} batches, adjusted for grist and volumes"


def what_moved(index: Index, house: BrewhouseView) -> str:
    """What became of a brewhouse's level, as a sentence; empty where it has not changed for all that can be told."""
    course = course_in(house, JUDGED)
    words = change_words(index, course) if course and course.limits else ""
    said = [f"The brewhouse efficiency: {words}{_worth(index, house, course)}."] if course and words else []
    named = partial(lot_name, index)
    moves = house.story.moved.moves if house.story else ()
    said += [f"{move_sentence(move, index.system, named)}. {consequence(move)}" for move in moves]
    return " ".join(said)


def change_words(index: Index, course: FigureCourse) -> str:
    """Steps and drift of a course in a clause, `it changed from batch 20 on by +4.0 points (3.1 to 4.9)`; empty for none."""
    drift = course.drift
    if drift is not None:
        over = len(course.points) - 1
        moved = show_change(drift.per_batch * over, drift.low * over, drift.high * over, _unit(course), index.system)
        return f"it drifted slowly by {moved} from batch {course.points[0].batch} to batch {course.points[over].batch}"
    if not course.steps:
        return ""
    steps = [
        f"from batch {course.points[s.first].batch} on by {step_words(index, course, s)}{_explained_by(index, course, s)}"
        for s in course.steps
    ]
    return f"it changed {in_words(steps)}"


def _explained_by(index: Index, course: FigureCourse, step: LevelStep) -> str:
    move = course.move_at(step)
    return f", {by_what(move, partial(lot_name, index))}" if move else ", cause not known yet"


def step_words(index: Index, course: FigureCourse, step: LevelStep) -> str:
    """A step's size with its interval, `+4.0 points (3.1 to 4.9)`: where all readings together tell of the same change, theirs."""
    move = course.move_at(step)
    same = move is not None and _SAME_CHANGE.get(move.likeliest.cause) == course.figure
    size, low, high = (
        (move.likeliest.size, move.likeliest.low, move.likeliest.high)
        if move and same
        else (step.change, step.low, step.high)
    )
    return show_change(size, low, high, _unit(course), index.system)


def _unit(course: FigureCourse) -> str:
    return CATALOGUE[course.figure].unit


def _worth(index: Index, house: BrewhouseView, course: FigureCourse) -> str:
    """What the last step saved or spent; nothing where no step is found, or where it may have been nothing."""
    worth = house.story.worth if house.story else None
    if (
        not course.steps
        or worth is None
        or not worth.sure
        or worth.since != course.points[course.steps[-1].first].batch
    ):
        return ""
    return f", which has {'saved' if worth.change >= 0 else 'cost'} {_amount(index, worth)} since"


def _amount(index: Index, worth: Worth) -> str:
    """`2.8 kg of grain (1.0 to 4.5), 4.10 (1.50 to 6.60) at the prices in malts.yaml`."""
    side = 1 if worth.change >= 0 else -1
    least, most = sorted(side * end.grain for end in (worth.least, worth.most))
    size = show(abs(worth.saved.grain), (most - least) / 2 / HALF_WIDTH, "kg", index.system)
    told = f"{join(size.value, size.unit)} of grain ({between(least, most, 'kg', index.system)})"
    if worth.saved.money is None or worth.least.money is None or worth.most.money is None:
        return told
    ends = sorted(side * end for end in (worth.least.money, worth.most.money))
    money = join(plain(abs(worth.saved.money), 2), f"({plain(ends[0], 2)} to {plain(ends[1], 2)})")
    return f"{told}, {money} at the prices in malts.yaml,"

"""What the record tells: from how many batches on, of which batches, and that it names the right ones."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

import numpy as np
import pytest
from balance.simulated_brewery import Habits
from history.told import TWO_HOUSES, Told, planned, tell_of, texts, with_fields

from journal.balance import BROKEN
from journal.balance.own import OWN_FIGURES
from journal.history import FigureCourse, history_of
from journal.history.observations import Observation
from journal.history.story import course_of
from journal.numerics import Estimate

HABITS = Habits(boil_off=4.2)
SPOILT = 4


def spoil(text: str, more: str = "") -> str:
    """A gravity after the boil that lies by twelve points."""
    head, after, rest = text.partition("  after: ")
    gravity = rest.split("gravity: ")[1].split("}")[0]
    return head.replace("grains:", f"{more}grains:") + after + rest.replace(gravity, f"{float(gravity) - 0.012:.4f}", 1)


@pytest.fixture(scope="module")
def entries() -> list[str]:
    return texts(14, HABITS)


@pytest.fixture(scope="module")
def whole(entries: list[str], tmp_path_factory: pytest.TempPathFactory) -> Told:
    return tell_of(tmp_path_factory.mktemp("whole"), entries)


def courses(told: Told) -> tuple[FigureCourse, ...]:
    return told.history.brewhouses[0].courses


def test_under_five_batches_there_are_points_and_no_verdict(entries: list[str], tmp_path: Path) -> None:
    told = tell_of(tmp_path, entries[:4])
    assert [course.figure for course in courses(told)] == list(OWN_FIGURES)
    for course in courses(told):
        assert len(course.points) == 4
        assert (course.limits, course.drift) == (None, None)
        assert (course.signals, course.steps, course.provisional) == ((), (), True)
    story = told.history.brewhouses[0]
    assert story.worth is None
    verdicts = {result.verdict for study in story.studies for result in study.results}
    assert verdicts <= {"too few batches", "too little variation"}


def test_from_five_on_there_are_limits_about_the_values(entries: list[str], tmp_path: Path) -> None:
    for course in courses(tell_of(tmp_path, entries[:5])):
        assert course.limits is not None
        assert course.limits.lower < course.limits.centre < course.limits.upper
        # no batch departs from the mean of all
        assert course.limits.centre == pytest.approx(np.mean([point.value for point in course.points]))


@pytest.mark.parametrize(("count", "provisional"), [(11, True), (12, False)])
def test_limits_are_provisional_under_twelve(entries: list[str], count: int, provisional: bool, tmp_path: Path) -> None:
    told = tell_of(tmp_path, entries[:count])
    assert {course.provisional for course in courses(told)} == {provisional}


def with_spoilt(entries: list[str], more: str = "") -> list[str]:
    return [*entries[: SPOILT - 1], spoil(entries[SPOILT - 1], more), *entries[SPOILT:9], planned(15)]


def test_broken_and_planned_batches_are_in_no_course_and_no_study(entries: list[str], tmp_path: Path) -> None:
    told = tell_of(tmp_path, with_spoilt(entries))
    assert told.balances[str(SPOILT)].verdict.status == BROKEN
    story = told.history.brewhouses[0]
    sound = [str(number) for number in range(1, 10) if number != SPOILT]
    for course in story.courses:
        assert [point.batch for point in course.points] == sound
    assert {batch for study in story.studies for pair in study.pairs for batch in (pair.first, pair.second)} <= set(
        sound
    )
    assert "15" not in story.record.batches
    for learnt in story.record.learnt:
        assert {batch for batch, _ in learnt.course} <= set(sound)


def test_a_broken_batch_leaves_what_the_others_taught_as_it_was(entries: list[str], tmp_path: Path) -> None:
    with_it = tell_of(tmp_path / "with", with_spoilt(entries)).history.brewhouses[0]
    without = tell_of(tmp_path / "without", [*entries[: SPOILT - 1], *entries[SPOILT:9]]).history.brewhouses[0]
    assert with_it.record.learnt == without.record.learnt
    assert with_it.courses == without.courses


@pytest.fixture(autouse=True)
def folders(tmp_path: Path) -> None:
    for name in ("with", "without"):
        (tmp_path / name).mkdir()


def test_a_broken_batch_its_brewer_vouches_for_is_among_what_is_learnt(entries: list[str], tmp_path: Path) -> None:
    told = tell_of(tmp_path, with_spoilt(entries, "trust: {balance: yes}\n"))
    assert told.balances[str(SPOILT)].verdict.status == BROKEN
    learnt = {found.name: found for found in told.history.brewhouses[0].record.learnt}
    assert str(SPOILT) in [batch for batch, _ in learnt["boil_off"].course]


def test_two_brewhouses_are_told_apart_the_busier_one_first(tmp_path: Path) -> None:
    shed = [with_fields(text, "brewhouse: shed") for text in texts(6, Habits(boil_off=2.0))]
    barn = [with_fields(text, "brewhouse: barn") for text in texts(14, Habits(boil_off=5.0), seed=4)[6:]]
    told = tell_of(tmp_path, [*shed, *barn], TWO_HOUSES)
    first, second = told.history.brewhouses
    assert (first.record.key, second.record.key) == ("barn", "shed")
    for story, numbers, boil_off in ((first, range(7, 15), 5.0), (second, range(1, 7), 2.0)):
        assert story.record.batches == tuple(str(number) for number in numbers)
        course = story.course("boil_off")
        assert course is not None
        assert [point.batch for point in course.points] == [str(number) for number in numbers]
        # each boil's own word is good to 0.4 L/h: two volumes of 0.25 L, one hour, and a spread of 0.2
        assert np.mean([point.value for point in course.points]) == pytest.approx(boil_off, abs=3 * 0.41 / 6**0.5)


def seen(residuals: list[float | None]) -> list[Observation]:
    """Batches b0, b1, and so on, of which some have no conversion."""
    figure = "conversion_efficiency"
    return [
        Observation(
            f"b{index}",
            date(2024, 1, 1) + timedelta(days=index),
            "",
            {} if value is None else {figure: Estimate(0.9 + value, 0.004)},
            {} if value is None else {figure: Estimate(value, 0.004)},
            {"lot": 1.0},
            {},
        )
        for index, value in enumerate(residuals)
    ]


def scatter(count: int) -> list[float]:
    """Ups and downs of half a point about no change of level at all."""
    return [(0.004, -0.005, 0.001, -0.002, 0.005, -0.003)[index % 6] for index in range(count)]


def test_a_signal_names_the_batch_that_stood_out_though_others_have_no_value() -> None:
    values: list[float | None] = list(scatter(18))
    values[2] = values[5] = None
    values[11] = 0.06
    course = course_of("conversion_efficiency", seen(values), 0.0)
    assert ("b11", "nelson-1") in {(course.points[s.index].batch, s.rule) for s in course.signals}
    assert {course.points[s.index].batch for s in course.signals if s.rule == "nelson-1"} == {"b11"}
    assert course.steps == ()


def test_a_step_and_a_signal_after_it_name_their_batches() -> None:
    values: list[float | None] = list(scatter(30))
    values = [value + 0.08 if index >= 12 else value for index, value in enumerate(values) if value is not None]
    values[3] = None
    values[24] = 0.0
    course = course_of("conversion_efficiency", seen(values), 0.0)
    assert [course.points[step.first].batch for step in course.steps] == ["b12"]
    # against the level before the step b24 would be ordinary; against its own stretch's it is not
    assert "b24" in {course.points[s.index].batch for s in course.signals if s.rule == "nelson-1"}


def test_hits_are_the_shown_values_inside_their_intervals(whole: Told) -> None:
    hits = {hit.figure: hit for hit in whole.history.brewhouses[0].hits}
    for name in ("mash_efficiency", "original_gravity", "boil_off"):
        inside = []
        for batch in whole.journal.batches:
            balance = whole.balances[batch.id]
            foreseen = balance.foreseen[name]
            shown = balance.figures.get(name) or whole.figures[batch.id][name]
            if foreseen.batches:
                inside.append(foreseen.low <= shown.value <= foreseen.high)
        # nothing was learnt before the fourth batch
        assert len(inside) == len(whole.journal.batches) - 3
        assert (hits[name].right, hits[name].of) == (sum(inside), len(inside))


def test_the_same_journal_tells_the_same_story_in_whatever_order_its_files_lie(
    whole: Told, entries: list[str], tmp_path: Path
) -> None:
    assert history_of(whole.journal, whole.figures, whole.balances) == whole.history
    assert tell_of(tmp_path, entries[::-1]).history == whole.history

"""What became of a level: one change has one size, wherever it stands."""

from __future__ import annotations

from types import SimpleNamespace
from typing import cast

import pytest

from journal.history import FigureCourse
from journal.history.change import LevelStep
from journal.history.moved.move import Move, PossibleCause
from journal.history.moved.words import move_sentence
from journal.history.story import OwnPoint
from journal.pages.index import Index
from journal.pages.verdict import step_words

INDEX = cast("Index", SimpleNamespace(system="metric"))


def _course(figure: str, cause: str) -> FigureCourse:
    """Eight batches whose own values step by 2.4 points at the fifth, where all readings together say 2.0."""
    points = tuple(OwnPoint(str(n), 0.9, 0.024 * (n > 4), 0.01) for n in range(1, 9))
    step = LevelStep(first=4, change=0.024, low=0.013, high=0.035, p_value=0.001)
    told = PossibleCause(cause, "", 0.020, 0.006, 0.035, "1", 0.99, "5", None)
    return FigureCourse(figure, points, None, (), (step,), None, False, (Move((told,)),))


@pytest.mark.parametrize(
    ("figure", "cause", "size"),
    [
        ("conversion_efficiency", "conversion", "2.0"),
        # what conversion's change did to another figure is another change
        ("mash_efficiency", "conversion", "2.4"),
        ("conversion_efficiency", "kettle marks", "2.4"),
    ],
)
def test_a_step_is_as_large_as_the_move_that_it_is(figure: str, cause: str, size: str) -> None:
    course = _course(figure, cause)
    assert step_words(INDEX, course, course.steps[0]).startswith(f"+{size}")
    if size == "2.0":
        words = step_words(INDEX, course, course.steps[0]).replace("\N{NO-BREAK SPACE}", " ")
        assert words.removeprefix("+").replace(" (", " higher (") in move_sentence(course.moves[0])

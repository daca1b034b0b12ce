"""Problems: their severity comes from the rule, their order from the text."""

import re

import pytest

from journal.problems import RULES, Place, Problem, Severity, Source, Span, in_order, worst

SOURCE = Source("entries/b.md", "one\ntwo\nthree")


def at(offset: int, code: str = "unknown-field", source: Source = SOURCE) -> Problem:
    return Problem(code, f"message {offset}", place=Place(source, Span(offset, offset + 1)))


def test_a_code_that_no_rule_has_is_a_bug() -> None:
    with pytest.raises(KeyError, match="no-such-rule"):
        Problem("no-such-rule", "x")


@pytest.mark.parametrize("code", RULES)
def test_every_rule_is_named_for_its_fault_and_says_why(code: str) -> None:
    rule = RULES[code]
    assert rule.code == code
    assert re.fullmatch(r"[a-z]+(-[a-z]+)*", code)
    assert rule.why[0].isupper()
    assert rule.why.endswith(".")
    assert "!" not in rule.why


@pytest.mark.parametrize("code", ["reading-impossible", "volume-impossible", "sample-hot"])
def test_a_value_that_cannot_be_true_is_a_warning(code: str) -> None:
    """`error` is kept for what can't be read or contradicts the format."""
    assert RULES[code].severity is Severity.WARNING


def test_order_is_by_file_and_place_and_each_is_said_once() -> None:
    other = Source("entries/a.md", "x")
    late, early, elsewhere = at(8), at(4), at(0, source=other)
    assert in_order([late, early, elsewhere, late]) == [elsewhere, early, late]


def test_at_one_place_the_gravest_comes_first() -> None:
    note, warning, error = at(4, "picture-without-words"), at(4, "picture-elsewhere"), at(4, "picture-missing")
    assert in_order([note, warning, error]) == [error, warning, note]


def test_the_worst_of_several() -> None:
    assert worst([]) is None
    assert worst([at(0, "picture-without-words"), at(0, "sample-hot")]) is Severity.WARNING
    assert worst([at(0, "sample-hot"), at(0), at(0, "picture-without-words")]) is Severity.ERROR


def test_a_problem_of_a_whole_file_stands_at_its_top() -> None:
    problem = Problem("file-empty", "it is empty", file="entries/x.md")
    assert (problem.file_name, problem.line, problem.column, problem.path) == ("entries/x.md", 1, 1, "")

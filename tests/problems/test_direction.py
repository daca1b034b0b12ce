"""Signs of Unicode Standard Annex 9 that turn the direction of writing: which stand alone, and that no message carries one."""

import pytest

from journal.problems import Problem
from journal.problems.direction import find_unpaired
from journal.problems.problem import LONGEST
from journal.problems.show import as_json, as_lines


@pytest.mark.parametrize(
    ("text", "alone"),
    [
        ("plain", []),
        ("بيرة and בירה", []),
        ("\u202babc\u202c d", []),
        ("\u2067a\u2068b\u2069\u2069", []),
        ("a\u202eb", [1]),
        ("a\u202cb", [1]),
        ("\u2069", [0]),
        ("\u202aa\u2067b\u202c", [0, 2, 4]),
        ("\u2067a\u202eb\u2069c", []),
        ("\u202da\u2066b\u2069", [0]),
        ("\u202a" * 3 + "\u202c", [0, 1]),
    ],
)
def test_what_has_no_counterpart(text: str, alone: list[int]) -> None:
    assert find_unpaired(text) == alone


def test_no_message_turns_what_stands_beside_it() -> None:
    problem = Problem("link-broken", "there is no file a\u202egnp.exe", "Look for \u2067it.", file="entries/1.md")
    assert (problem.message, problem.hint) == ("there is no file a\ufffdgnp.exe", "Look for \ufffdit.")
    assert "\u202e" not in as_json([problem])


def test_a_line_obeys_no_sign_of_a_terminal() -> None:
    problem = Problem("link-broken", "there is no file \x1b[31mred\x07", "", file="entries/\x1b[2J.md")
    assert "\x1b" not in as_lines([problem])
    assert "\x07" not in as_lines([problem])
    assert len(as_lines([problem]).splitlines()) == 1


def test_a_message_does_not_repeat_a_megabyte() -> None:
    problem = Problem("number-unreadable", f"“{'x' * 10**6}” is no number")
    assert len(problem.message) == LONGEST
    assert problem.message.startswith("“xxx")
    assert problem.message.endswith("xxx” is no number")

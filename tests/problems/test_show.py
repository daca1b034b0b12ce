"""Problems as text for people, lines for editors, JSON for programs."""

import json
import re
import unicodedata

import pytest

from journal.problems import Place, Problem, Source, Span
from journal.problems.show import as_json, as_lines, as_text, count_in_words

TEXT = "---\nbatch: 31\nboil:\n  before: {volume: 25 kg, gravity: 1.044}\n---\n"
SOURCE = Source("entries/31.md", TEXT)


def marked(text: str, what: str, code: str = "unit-wrong-kind", hint: str = "Write litres.") -> Problem:
    start = text.index(what)
    source = Source("entries/31.md", text)
    return Problem(code, "the unit is wrong", hint, Place(source, Span(start, start + len(what)), "boil.before.volume"))


def test_text_has_headline_place_line_carets_and_advice() -> None:
    shown = as_text([marked(TEXT, "kg")]).split("\n")
    assert shown[0] == "error[unit-wrong-kind]: the unit is wrong"
    assert "entries/31.md:4:23" in shown[1]
    line = next(row for row in shown if "25 kg" in row)
    carets = next(row for row in shown if "^" in row)
    assert carets.index("^") == line.index("kg")
    assert carets.count("^") == len("kg")
    assert shown[-1].endswith("Write litres.")


def test_the_second_place_says_where_the_expectation_comes_from() -> None:
    first = Place(SOURCE, Span(TEXT.index("batch"), TEXT.index("batch") + 5))
    problem = Problem("repeated-field", "given twice", "Keep one.", Place(SOURCE, Span(20, 24)), expected_by=first)
    shown = as_text([problem])
    assert "entries/31.md:2:1" in shown
    assert "batch: 31" in shown


@pytest.mark.parametrize("lead", ["", "ab ", "\t", "日本 ", "e\N{COMBINING ACUTE ACCENT}", "°", "\N{ZERO WIDTH SPACE}"])
def test_carets_stand_under_their_text_on_a_terminal(lead: str) -> None:
    text = f"{lead}WRONG after\n"
    shown = as_text([marked(text, "WRONG")]).split("\n")
    line = next(row for row in shown if "WRONG" in row)
    carets = next(row for row in shown if "^" in row)

    def columns(part: str) -> int:
        # Unicode Standard Annex 11: wide and full-width characters take two columns; combining ones none
        return sum(0 if unicodedata.combining(c) else 2 if unicodedata.east_asian_width(c) in "WF" else 1 for c in part)

    assert columns(carets[: carets.index("^")]) == columns(line[: line.index("WRONG")])
    assert carets.count("^") == len("WRONG")


def test_a_long_line_is_cut_around_its_place() -> None:
    text = "x" * 5000 + " WRONG " + "y" * 5000
    shown = as_text([marked(text, "WRONG")]).split("\n")
    line = next(row for row in shown if "WRONG" in row)
    carets = next(row for row in shown if "^" in row)
    assert len(line) < 120
    assert carets.index("^") == line.index("WRONG")


def test_a_span_over_several_lines_is_marked_on_its_first() -> None:
    text = "mash:\n  liquor: 3\n  strike: 4\n"
    shown = as_text([marked(text, "liquor: 3\n  strike: 4")])
    assert "liquor: 3" in shown
    assert max(row.count("^") for row in shown.split("\n")) == len("liquor: 3")


@pytest.mark.parametrize("sign", ["\x1b[31m", "\N{RIGHT-TO-LEFT OVERRIDE}", "\x07", "\r", "\N{LINE SEPARATOR}", "\x00"])
def test_nothing_in_an_entry_can_steer_the_terminal(sign: str) -> None:
    text = f"title: {sign}WRONG\n"
    problem = Problem("unknown-field", f"no field {sign}", f"hint {sign}", marked(text, "WRONG").place)
    assert not set(as_text([problem])) & set(sign.strip("[31m"))


def test_without_a_place_there_is_the_file() -> None:
    shown = as_text([Problem("file-empty", "it is empty", "Write the entry.", file="entries/x.md")])
    assert "entries/x.md" in shown
    assert "^" not in shown


def test_lines_are_what_editors_read() -> None:
    """`file:line:column: severity: message`, the form of GNU Coding Standards, "Formatting Error Messages"."""
    problems = [marked(TEXT, "kg"), Problem("sample-hot", "two\nlines", place=Place(SOURCE, Span(4, 9)))]
    lines = as_lines(problems).split("\n")
    assert len(lines) == 2
    found = re.fullmatch(r"(?P<file>[^:]+):(?P<line>\d+):(?P<column>\d+): (?P<severity>\w+): (?P<rest>.*)", lines[0])
    assert found
    assert (found["file"], found["line"], found["column"], found["severity"]) == ("entries/31.md", "4", "23", "error")
    assert "unit-wrong-kind" in found["rest"]
    assert "Write litres." in found["rest"]
    assert lines[1].startswith("entries/31.md:2:1: warning: two lines")


def test_json_has_every_part_under_its_own_key() -> None:
    record = json.loads(as_json([marked(TEXT, "kg")]))
    assert record["format"] == 1
    assert record["problems"] == [
        {
            "code": "unit-wrong-kind",
            "severity": "error",
            "file": "entries/31.md",
            "path": "boil.before.volume",
            "line": 4,
            "column": 23,
            "message": "the unit is wrong",
            "hint": "Write litres.",
        }
    ]
    assert json.loads(as_json([])) == {"format": 1, "problems": []}


def test_counts_in_words() -> None:
    error, warning = marked(TEXT, "kg"), marked(TEXT, "kg", "sample-hot")
    note = marked(TEXT, "kg", "picture-without-words")
    assert count_in_words([]) == "no problems"
    assert count_in_words([error]) == "1 error"
    assert count_in_words([error, warning, error, note, note]) == "2 errors, 1 warning, 2 notes"

"""Problems as text for people, lines for editors, JSON for programs."""

import json
import re
from collections.abc import Callable

import pytest

from journal.problems import Place, Problem, Source, Span
from journal.problems.show import as_annotations, as_json, as_lines, as_sarif, as_text, count_in_words

TEXT = "---\nbatch: 31\nboil:\n  before: {volume: 25 kg, gravity: 1.044}\n---\n"
SOURCE = Source("entries/31.md", TEXT)


def marked(text: str, what: str, code: str = "unit-wrong-kind", hint: str = "Write litres.") -> Problem:
    start = text.index(what)
    source = Source("entries/31.md", text)
    return Problem(code, "the unit is wrong", hint, Place(source, Span(start, start + len(what)), "boil.before.volume"))


def rows(shown: str) -> dict[str, str]:
    """The rows of one problem by the word at their left; the place under ""."""
    place, *others = shown.split("\n")
    return {"": place} | {row[:11].strip(): row[11:] for row in others}


def test_text_says_where_what_is_written_what_is_wrong_and_what_to_write_instead() -> None:
    shown = rows(as_text([marked(TEXT, "kg")]))
    assert shown[""] == "entries/31.md:4:23  (unit-wrong-kind)"
    assert shown["written"] == "before: {volume: 25 »kg«, gravity: 1.044}"
    assert shown["error"] == "the unit is wrong."
    assert shown["instead"] == "Write litres."


def test_the_second_place_says_where_the_expectation_comes_from() -> None:
    first = Place(SOURCE, Span(TEXT.index("batch"), TEXT.index("batch") + 5))
    problem = Problem("repeated-field", "given twice", "Keep one.", Place(SOURCE, Span(20, 24)), expected_by=first)
    assert rows(as_text([problem]))["because"] == "»batch«: 31  (entries/31.md:2:1)"


@pytest.mark.parametrize("lead", ["", "ab ", "日本 ", "e\N{COMBINING ACUTE ACCENT}", "°"])
def test_what_is_meant_stands_between_guillemets_whatever_is_before_it(lead: str) -> None:
    shown = as_text([marked(f"{lead}WRONG after\n", "WRONG")])
    assert f"written  {lead}»WRONG« after" in shown


def test_a_long_line_is_cut_around_its_place() -> None:
    text = "x" * 5000 + " WRONG " + "y" * 5000
    written = rows(as_text([marked(text, "WRONG")]))["written"]
    assert len(written) < 120
    assert "x »WRONG« y" in written
    assert written.startswith("…x")
    assert written.endswith("y…")


def test_a_span_over_several_lines_is_marked_on_its_first() -> None:
    text = "mash:\n  liquor: 3\n  strike: 4\n"
    assert rows(as_text([marked(text, "liquor: 3\n  strike: 4")]))["written"] == "»liquor: 3«"


def test_rows_fit_a_terminal_and_what_was_written_is_not_broken() -> None:
    hint = "Write litres, as the dipstick shows them, and the temperature that the wort had when they were read."
    shown = as_text([marked(TEXT, "kg", hint=hint)], width=60).split("\n")
    assert all(len(row) <= 60 for row in shown if "»" not in row)
    assert " ".join(row[11:] for row in shown[3:]) == hint
    assert any("before: {volume: 25 »kg«, gravity: 1.044}" in row for row in shown)


def test_colours_are_round_words_that_say_the_same() -> None:
    def paint(text: str, what: str) -> str:
        return f"<{what}>{text}</{what}>"

    plain, painted = as_text([marked(TEXT, "kg")]), as_text([marked(TEXT, "kg")], paint)
    assert re.sub(r"</?\w+>", "", painted) == plain
    assert "<error>error</error>" in painted
    assert "»<mark>kg</mark>«" in painted


@pytest.mark.parametrize("sign", ["\x1b[31m", "\N{RIGHT-TO-LEFT OVERRIDE}", "\x07", "\r", "\N{LINE SEPARATOR}", "\x00"])
def test_nothing_in_an_entry_can_steer_the_terminal(sign: str) -> None:
    text = f"title: {sign}WRONG\n"
    problem = Problem("unknown-field", f"no field {sign}", f"hint {sign}", marked(text, "WRONG").place)
    assert not set(as_text([problem])) & set(sign.strip("[31m"))


@pytest.mark.parametrize(
    "sign", ["\x1b[31m", "\N{RIGHT-TO-LEFT OVERRIDE}", "\x9b", "\r", "\x00", "\U000e0041", "\udcff"]
)
@pytest.mark.parametrize("form", [as_text, as_lines, as_json, as_sarif, as_annotations])
def test_in_no_form_a_sign_reaches_the_terminal(form: Callable[[list[Problem]], str], sign: str) -> None:
    text = f"title: {sign}WRONG\n"
    place = marked(text, "WRONG").place
    named = Place(Source(f"entries/{sign}.md", place.source.text), place.span)
    told = form([Problem("unknown-field", f"no field {sign}", f"hint {sign}", named)])
    assert not set(told) & set(sign.replace("[31m", ""))
    told.encode("utf-8")
    if form is as_json:
        (back,) = json.loads(told)["problems"]
        assert (back["file"], back["hint"]) == (f"entries/{sign}.md", f"hint {sign}".replace("\u202e", "\ufffd"))


def test_without_a_place_there_is_the_file() -> None:
    shown = as_text([Problem("file-empty", "it is empty", "Write the entry.", file="entries/x.md")])
    assert "entries/x.md" in shown
    assert "»" not in shown


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

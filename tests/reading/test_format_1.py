"""Entries of format 1 stay valid, and mean what they meant: the journals in `format_1/` are never edited."""

from __future__ import annotations

import json
import re
from typing import Any

import pytest
from reading.kept_format import FORMAT_1, KEPT, fields_written, journals, once, what_is_read

from journal.measures.units import KINDS
from journal.problems import Severity
from journal.problems.show import as_text
from journal.reading.schema import TABLES, field_lines

READ = json.loads(KEPT.read_text("utf-8"))
#: Sheets of malts that are there although they say nothing.
BLANK_LOTS = {"blank-lot"}


def _without_blank_groups(read: Any) -> Any:
    """What was read without groups in which nothing is written: one that stands there empty says what one that isn't there says."""
    if isinstance(read, list):
        return [_without_blank_groups(each) for each in read]
    if not isinstance(read, dict):
        return read
    held = {name: _without_blank_groups(each) for name, each in read.items()}
    return {name: each for name, each in held.items() if each != {} or name in BLANK_LOTS}


def test_all_of_them_are_read_without_an_error() -> None:
    for name, (journal, problems) in journals().items():
        wrong = [problem for problem in problems if problem.severity is not Severity.NOTE]
        assert not wrong, as_text(wrong)
        assert len(journal.batches) == len(journal.entries) >= 1, name
    assert len(journals()["harbour"][0].batches) >= 12


def test_nothing_was_added_or_taken_away_unnoticed() -> None:
    assert set(what_is_read()) == set(READ)


@pytest.mark.parametrize("file", READ)
def test_a_file_says_what_it_said(file: str) -> None:
    assert _without_blank_groups(what_is_read()[file]) == _without_blank_groups(READ[file])


@pytest.mark.parametrize("table", TABLES)
def test_every_field_of_the_format_stands_in_one_of_them(table: str) -> None:
    missing = {once(line.path) for line in field_lines(table)} - fields_written()[table]
    assert not missing, "new fields want a new file in format_1/, see its README"


def test_every_unit_of_the_format_stands_in_one_of_them() -> None:
    text = "\n".join(path.read_text("utf-8") for path in FORMAT_1.rglob("*") if path.suffix in {".md", ".yaml"})
    spellings = {spelling for kind in KINDS for spelling in kind.written if spelling}
    missing = {each for each in spellings if not re.search(rf"\d {re.escape(each)}(?![\w°/])", text)}
    assert not missing, "new units want a new entry in format_1/, see its README"

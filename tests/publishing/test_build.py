"""What a build writes, what it leaves alone, and that it never half-publishes."""

from __future__ import annotations

import csv
import json
from pathlib import Path

import pytest

from journal.publishing import Broken, build
from journal.publishing.output import MANIFEST

ENTRY = """---
batch: {number}
title: Batch {number}
brewed: 2026-0{number}-03
grains: [{{malt: pale malt, weight: 4.20 kg}}]
mash: {{liquor: 13.5 L, first_wort: 1.074}}
lauter: {{method: batch sparge, liquor: 15.0 L}}
boil: {{before: {{volume: 24.5 L at 68 degC, gravity: 1.039}}, after: {{volume: 21.5 L at 95 degC, gravity: 1.045}}, time: 60 min}}
fermenter: {{volume: 18.5 L, gravity: 1.045}}
---

Prose of {number}.
"""


@pytest.fixture
def journal(tmp_path: Path) -> Path:
    (tmp_path / "entries").mkdir()
    for number in (1, 2):
        (tmp_path / "entries" / f"0{number}.md").write_text(ENTRY.format(number=number), "utf-8")
    return tmp_path


def files(folder: Path) -> dict[str, bytes]:
    return {
        str(path.relative_to(folder)): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file() and path.name != MANIFEST
    }


def break_one(journal: Path) -> None:
    path = journal / "entries" / "02.md"
    path.write_text(path.read_text("utf-8").replace("title:", "titel:"), "utf-8")


def test_a_site_has_its_pages_and_data(journal: Path) -> None:
    outcome = build(journal, journal / "site")
    assert outcome.published
    built = files(journal / "site")
    pages = {"index.html", "batches.html", "trends.html", "malts.html", "figures.html", "cautions.html"}
    assert pages | {"batches/1.html", "batches/2.html", "data/journal.json", "data/batches.csv"} <= set(built)


def test_the_data_file_keeps_the_contract(journal: Path) -> None:
    build(journal, journal / "site")
    data = json.loads((journal / "site" / "data" / "journal.json").read_text("utf-8"))
    assert data["format"] == 1
    batch = data["batches"][0]
    assert batch["batch"] == "1"
    assert (batch["brewed"], batch["file"], batch["planned"]) == ("2026-01-03", "entries/01.md", False)
    assert set(batch["figures"]["mash_efficiency"]) == {"value", "sd", "unit"}
    assert batch["figures"]["kettle_gravity"]["unit"] == "1"
    assert batch["balance"]["status"] in {"closes", "strained", "broken", "too few readings"}
    assert {"path", "recorded", "balanced", "sd", "strain"} <= set(batch["balance"]["readings"][0])


def test_the_table_has_a_row_a_batch_and_units_in_the_header(journal: Path) -> None:
    build(journal, journal / "site")
    rows = list(csv.reader((journal / "site" / "data" / "batches.csv").read_text("utf-8").splitlines()))
    assert [row[0] for row in rows[1:]] == ["1", "2"]
    assert "mash_efficiency [1]" in rows[0]
    assert "kettle_volume [L]" in rows[0]


def test_two_builds_have_the_same_bytes(journal: Path) -> None:
    build(journal, journal / "one")
    build(journal, journal / "two")
    assert files(journal / "one") == files(journal / "two")


def test_a_second_build_writes_nothing_anew(journal: Path) -> None:
    build(journal, journal / "site")
    assert build(journal, journal / "site").changed == frozenset()


def test_an_error_leaves_the_old_site_untouched(journal: Path) -> None:
    build(journal, journal / "site")
    before = files(journal / "site")
    break_one(journal)
    outcome = build(journal, journal / "site")
    assert not outcome.published
    assert files(journal / "site") == before


def test_keep_going_builds_the_rest_and_shows_the_broken_entry(journal: Path) -> None:
    break_one(journal)
    outcome = build(journal, journal / "site", broken=Broken.SHOWN)
    assert outcome.published
    page = (journal / "site" / "batches" / "2.html").read_text("utf-8")
    assert "titel" in page
    assert "Did you mean" in page


def test_a_batch_that_is_gone_takes_its_page_along_and_nothing_else(journal: Path) -> None:
    build(journal, journal / "site")
    (journal / "site" / "batches" / "mine.txt").write_text("kept", "utf-8")
    (journal / "entries" / "02.md").unlink()
    build(journal, journal / "site")
    assert not (journal / "site" / "batches" / "2.html").exists()
    assert (journal / "site" / "batches" / "mine.txt").read_text("utf-8") == "kept"


def test_entries_are_only_read(journal: Path) -> None:
    before = {path: (path.read_bytes(), path.stat().st_mtime_ns) for path in (journal / "entries").iterdir()}
    build(journal, journal / "site")
    assert {path: (path.read_bytes(), path.stat().st_mtime_ns) for path in (journal / "entries").iterdir()} == before


def test_a_folder_that_is_not_ours_is_refused_and_kept(journal: Path) -> None:
    (journal / "site").mkdir()
    (journal / "site" / "thesis.txt").write_text("years of work", "utf-8")
    outcome = build(journal, journal / "site")
    assert [p.code for p in outcome.problems] == ["output-not-ours"]
    assert files(journal / "site") == {"thesis.txt": b"years of work"}


def test_a_folder_with_only_what_version_control_puts_there_is_taken(journal: Path) -> None:
    (journal / "site").mkdir()
    (journal / "site" / ".gitignore").write_text("*\n", "utf-8")
    assert build(journal, journal / "site").published
    assert (journal / "site" / ".gitignore").read_text("utf-8") == "*\n"


@pytest.mark.parametrize("out", ["entries", ".", "entries/01.md"])
def test_the_journal_itself_is_no_output_folder(journal: Path, out: str) -> None:
    outcome = build(journal, journal / out)
    assert [p.code for p in outcome.problems] == ["output-not-ours"]
    assert (journal / "entries" / "01.md").read_text("utf-8").startswith("---")


def test_a_folder_that_cant_be_written_is_a_problem(journal: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_: object, **__: object) -> None:
        raise OSError(28, "No space left on device")

    build(journal, journal / "site")
    before = files(journal / "site")
    (journal / "entries" / "01.md").write_text(ENTRY.format(number=1).replace("Prose", "Other prose"), "utf-8")
    monkeypatch.setattr(Path, "write_bytes", full)
    outcome = build(journal, journal / "site")
    monkeypatch.undo()
    assert [p.code for p in outcome.problems] == ["output-unwritable"]
    assert "No space left" in outcome.problems[0].message
    assert files(journal / "site") == before


def test_a_folder_that_cant_be_made_is_a_problem(journal: Path) -> None:
    (journal / "notes.txt").write_text("a file", "utf-8")
    outcome = build(journal, journal / "notes.txt" / "site")
    assert [p.code for p in outcome.problems] == ["output-unwritable"]
    assert (journal / "notes.txt").read_text("utf-8") == "a file"


def test_a_link_out_of_the_site_is_not_followed(journal: Path, tmp_path: Path) -> None:
    build(journal, journal / "site")
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    for path in (journal / "site" / "batches").iterdir():
        path.unlink()
    (journal / "site" / "batches").rmdir()
    (journal / "site" / "batches").symlink_to(elsewhere)
    outcome = build(journal, journal / "site")
    assert [p.code for p in outcome.problems] == ["output-unwritable"]
    assert list(elsewhere.iterdir()) == []


def test_a_log_that_cant_be_read_keeps_no_batch_back(journal: Path) -> None:
    entry = journal / "entries" / "02.md"
    entry.write_text(entry.read_text("utf-8").replace("mash: {", "mash: {log: mash.csv, "), "utf-8")
    (journal / "entries" / "mash.csv").write_text("time (min),temperature (degC)\n0,66\n1,warm\n", "utf-8")
    outcome = build(journal, journal / "site")
    assert outcome.published
    (problem,) = [problem for problem in outcome.problems if problem.file_name == "entries/mash.csv"]
    assert (problem.code, problem.line) == ("number-unreadable", 3)
    page = (journal / "site" / "batches" / "2.html").read_text("utf-8")
    assert "warm" in page
    assert "mash.csv" in page

"""A diary's diff: which results a change of the journal changed, with real version control."""

from __future__ import annotations

import subprocess
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from journal.cli import main

ENTRY = """---
batch: {number}
title: Batch {number}
brewed: 2026-01-{number:02d}
grains: [{{malt: pale malt, weight: 4.20 kg}}]
fermenter: {{volume: 18.5 L, gravity: 1.045}}
---
"""


def git(root: Path, *arguments: str) -> None:
    who = ["-c", "user.name=A Brewer", "-c", "user.email=brewer@example.org"]
    subprocess.run(["git", "-C", str(root), *who, *arguments], check=True, capture_output=True)


@pytest.fixture
def journal(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    (tmp_path / "entries").mkdir()
    for number in (1, 2):
        (tmp_path / "entries" / f"0{number}.md").write_text(ENTRY.format(number=number), "utf-8")
    git(tmp_path, "init")
    git(tmp_path, "add", "entries")
    git(tmp_path, "commit", "-m", "two batches")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def run(*arguments: str) -> Result:
    result = CliRunner().invoke(main, list(arguments))
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    return result


def test_nothing_changed_is_said(journal: Path) -> None:
    assert "Since HEAD no result has changed." in run("build", "--since", "HEAD").output


def test_a_corrected_reading_shows_which_figures_it_moved_and_by_how_much(journal: Path) -> None:
    entry = journal / "entries" / "02.md"
    entry.write_text(entry.read_text("utf-8").replace("18.5 L", "19.5 L"), "utf-8")
    told = run("build", "--since", "HEAD").output.split("Since HEAD:")[1]
    assert "batch 2 Batch 2" in told
    assert "batch 1" not in told
    (volume,) = [line for line in told.splitlines() if "fermenter volume" in line]
    assert volume.split() == [
        "fermenter",
        "volume",
        "18.5",
        "±",
        "0.4",
        "L",
        "→",
        "19.5",
        "±",
        "0.4",
        "L",
        "(+1.0",
        "L)",
    ]
    (efficiency,) = [line for line in told.splitlines() if "brewhouse efficiency" in line]
    assert "points)" in efficiency


def test_new_and_gone_batches_are_named(journal: Path) -> None:
    (journal / "entries" / "01.md").unlink()
    (journal / "entries" / "03.md").write_text(ENTRY.format(number=3), "utf-8")
    told = run("build", "--since", "HEAD").output
    assert "batch 3 Batch 3: new" in told
    assert "batch 1 Batch 1: gone" in told


def test_what_rounds_to_nothing_is_no_difference_and_what_is_shown_is_one(journal: Path) -> None:
    """0.27 → 0.26 by 0.00 kg tells nobody anything; a number shown as it was, better known, does."""
    entry = journal / "entries" / "02.md"
    text = entry.read_text("utf-8")
    entry.write_text(text.replace("18.5 L", "18.5001 L"), "utf-8")
    assert "Since HEAD no result has changed." in run("build", "--since", "HEAD").output
    entry.write_text(text.replace("18.5 L", "18.5 ± 0.2 L"), "utf-8")
    assert "18.5 ± 0.4 L → 18.5 ± 0.2 L" in run("build", "--since", "HEAD").output


@pytest.mark.parametrize("revision", ["nowhere", "--output=x", ""])
def test_a_revision_that_is_none_is_refused_before_anything_is_built(revision: str, journal: Path) -> None:
    result = run("build", f"--since={revision}")
    assert result.exit_code == 2
    assert result.output == (
        f"Error: git knows no revision “{revision}” here. Write HEAD for the last commit, HEAD~1 for the one before, "
        "or a commit, tag or branch that `git log` shows.\n"
    )
    assert not (journal / "x").exists()
    assert not (journal / "site").exists()


def test_a_revision_before_the_journal_is_refused(journal: Path) -> None:
    git(journal, "rm", "-r", "--cached", "entries")
    git(journal, "commit", "--allow-empty", "-m", "none")
    result = run("build", "--since=HEAD")
    assert result.exit_code == 2
    assert "git has no entries/ at “HEAD”" in result.output


def test_without_version_control_that_is_said(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "entries").mkdir()
    (tmp_path / "entries" / "01.md").write_text(ENTRY.format(number=1), "utf-8")
    monkeypatch.chdir(tmp_path)
    result = run("build", "--since", "HEAD")
    assert result.exit_code == 1
    assert "is not under git" in result.output

"""A diary's diff: which results a change of the journal changed, with real version control."""

from __future__ import annotations

import os
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


def told_since_head() -> str:
    return run("build", "--since", "HEAD").output.split("Since HEAD", 1)[1]


def test_nothing_of_the_folders_own_git_settings_is_run(journal: Path) -> None:
    """A folder that was unpacked may bring a .git of its own: filters, hooks, a pager, a monitor."""
    (journal / ".gitattributes").write_text("*.md filter=trap diff=trap working-tree-encoding=UTF-16\n", "utf-8")
    git(journal, "add", ".gitattributes")
    git(journal, "commit", "-m", "attributes")
    trap = f"touch {journal / 'sprung'}; cat"
    settings = ("filter.trap.smudge", "filter.trap.clean", "filter.trap.process", "diff.trap.textconv", "core.pager")
    for name in (*settings, "core.fsmonitor", "core.sshCommand", "core.askPass", "alias.cat-file", "alias.ls-tree"):
        git(journal, "config", name, f"!{trap}" if name.startswith("alias") else trap)
    git(journal, "config", "filter.trap.required", "true")
    git(journal, "config", "core.hooksPath", str(journal / "hooks"))
    (journal / "hooks").mkdir()
    for hook in ("post-checkout", "post-index-change", "reference-transaction", "fsmonitor-watchman"):
        (journal / "hooks" / hook).write_text(f"#!/bin/sh\n{trap}\n", "utf-8")
        (journal / "hooks" / hook).chmod(0o755)
    (journal / "sprung").unlink(missing_ok=True)  # git may have run some of it in this test's own commands
    assert "no result has changed" in told_since_head()
    assert not (journal / "sprung").exists()


def test_what_an_archive_would_leave_out_was_there(journal: Path) -> None:
    (journal / ".gitattributes").write_text("entries/02.md export-ignore\n*.md export-subst\n", "utf-8")
    git(journal, "add", ".gitattributes")
    git(journal, "commit", "-m", "attributes")
    assert "no result has changed" in told_since_head()


def test_an_entry_that_was_a_link_was_what_it_led_to(journal: Path) -> None:
    (journal / "entries" / "kept").mkdir()
    (journal / "entries" / "02.md").rename(journal / "entries" / "kept" / "two.text")
    (journal / "entries" / "02.md").symlink_to("kept/two.text")
    (journal / "entries" / "_out").symlink_to("/etc/hostname")
    git(journal, "add", "entries")
    git(journal, "commit", "-m", "a link")
    assert "no result has changed" in told_since_head()
    (journal / "entries" / "02.md").unlink()
    (journal / "entries" / "02.md").write_text(ENTRY.format(number=2), "utf-8")
    assert "no result has changed" in told_since_head()


def test_another_owners_checkout_is_told_in_gits_own_words(journal: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    # git's own switch for testing this
    monkeypatch.setenv("GIT_TEST_ASSUME_DIFFERENT_OWNER", "1")
    result = run("build", "--since", "HEAD")
    assert result.exit_code == 1
    assert "dubious ownership" in result.output
    assert "not under git" not in result.output


@pytest.mark.parametrize("revision", ["--output=x", "-h", "HEAD --not", "HEAD:entries", "\x1b[31mHEAD", "HEAD\nHEAD"])
def test_odd_revisions_are_refused_in_a_line(revision: str, journal: Path) -> None:
    result = run("build", f"--since={revision}")
    assert result.exit_code == 2
    assert "\x1b" not in result.output
    assert {path.name for path in journal.iterdir()} <= {".git", "entries"}


def test_names_that_are_no_utf_8_and_folders_below_are_read(journal: Path) -> None:
    below = journal / "entries" / "2026 ü"
    below.mkdir()
    (below / "a\tb.md").write_text(ENTRY.format(number=3), "utf-8")
    Path(os.fsdecode(os.fsencode(below) + b"/\xff.md")).write_text(ENTRY.format(number=4), "utf-8")
    git(journal, "add", "entries")
    git(journal, "commit", "-m", "odd names")
    assert "no result has changed" in told_since_head()

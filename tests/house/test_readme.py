"""What the README and the pages of help show is what happens: entry, runs, commands, workflow."""

from __future__ import annotations

import re
import shutil
import subprocess
from pathlib import Path

import pytest
import yaml
from house.shown import HELP, README, ROOT, run, shown
from pages.seen import see

from journal.cli import COMMANDS

#: Batches of the demo that commands name; the others are asked of a journal with the README's entry alone, which is quicker.
DEMO = re.compile(r"\b(15|16|28|29|34)\b")


def commands(text: str) -> list[str]:
    """Every command of the blocks that are for a shell."""
    return [line for block in shown(text, "sh") for line in block.splitlines() if line.startswith("wortbook ")]


def with_git(folder: Path) -> None:
    who = ["-c", "user.name=A Brewer", "-c", "user.email=brewer@example.org"]
    for arguments in (["init"], ["add", "entries"], [*who, "commit", "-m", "the journal"]):
        subprocess.run(["git", *arguments], cwd=folder, check=True, capture_output=True)


@pytest.fixture
def journal(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A journal of the README's entry, under git, beside an old table."""
    (entry,) = shown(README, "markdown")
    (tmp_path / "entries").mkdir()
    (tmp_path / "entries" / "01-first.md").write_text(entry, "utf-8")
    (heads,) = shown(HELP["tables"], "text")
    (tmp_path / "old.csv").write_text("Date;Vol. preboil\n3.10.2019;6,6\n", "utf-8")
    (tmp_path / "heads.txt").write_text(heads, "utf-8")
    monkeypatch.chdir(tmp_path)
    with_git(tmp_path)
    return tmp_path


@pytest.fixture
def demo(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The demo's entries, beside what a sheet gave."""
    shutil.copytree(ROOT / "entries", tmp_path / "entries")
    (tmp_path / "sheet.md").write_text("---\nbatch: 34\nmash: {first_wort: 1.075}\n---\n", "utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_its_entry_comes_to_what_it_says(journal: Path) -> None:
    assert run("wortbook check --strict") == "1 entry read, no problems.\n"
    run("wortbook build")
    page = " ".join(see((journal / "site" / "batches" / "1.html").read_text("utf-8")).text.split())
    said = re.findall(r"^> (.+)$", README, re.MULTILINE)
    assert len(said) == 2
    assert [each for each in said if each not in page] == []
    left = re.findall(r"the (0\.\d\d) kg", README)
    assert len(left) == 3
    assert [each for each in left if f"{each} ±" not in page] == []


def test_every_command_is_shown_in_the_help() -> None:
    assert {line.split()[1] for text in HELP.values() for line in commands(text)} == set(COMMANDS)


def test_each_command_of_the_help_that_needs_no_record_runs(journal: Path) -> None:
    asked = [line for text in HELP.values() for line in commands(text) if not DEMO.search(line)]
    assert {"wortbook check", "wortbook build", "wortbook build --since HEAD"} <= set(asked)
    for command in asked:
        # watch goes on until it is stopped; it has tests of its own
        run(command + " --help" if command == "wortbook watch" else command)


@pytest.mark.long
def test_each_command_of_the_help_about_the_demo_runs(demo: Path) -> None:
    asked = [line for text in HELP.values() for line in commands(text) if DEMO.search(line)]
    assert "wortbook explain 29" in asked
    for command in asked:
        run(command)


def test_the_workflow_checks_builds_and_publishes_what_was_built(journal: Path) -> None:
    (text,) = (block for block in shown(HELP["build-and-publish"], "yaml") if "jobs:" in block)
    (job,) = yaml.safe_load(text)["jobs"].values()
    steps = [step["run"] for step in job["steps"] if "run" in step]
    assert steps[0].startswith("pip install")
    for command in steps[1:]:
        run(command)
    (published,) = (step["with"]["path"] for step in job["steps"] if "path" in step.get("with", {}))
    assert (journal / published / "index.html").is_file()
    assert (journal / published / "search.html").is_file()


def test_its_links_lead_to_files_that_are_there() -> None:
    links = re.findall(r"\]\(([^)]+)\)", README)
    assert [link for link in links if not (ROOT / link).is_file()] == []
    assert {Path(link).stem for link in links if "how_to" in link} == set(HELP)

"""What the README shows is what happens: its entry, its commands, its pipeline."""

from __future__ import annotations

import re
import shlex
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
import yaml
from click.testing import CliRunner, Result

from journal.cli import main

ROOT = Path(__file__).parents[2]
README = (ROOT / "README.md").read_text("utf-8")


def run(*arguments: str) -> Result:
    result = CliRunner().invoke(main, list(arguments))
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    return result


def shown(language: str) -> list[str]:
    """The code blocks in a language."""
    return re.findall(rf"^```{language}\n(.*?)^```", README, re.DOTALL | re.MULTILINE)


@pytest.fixture
def demo(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The demo's entries, under git, beside an old table and what a sheet gave."""
    shutil.copytree(ROOT / "entries", tmp_path / "entries")
    (tmp_path / "old.csv").write_text("Date;Vol. preboil\n3.10.2019;6,6\n", "utf-8")
    (tmp_path / "heads.txt").write_text(
        "Date = brewed, DD.MM.YYYY\nVol. preboil = boil.before.volume, gal, decimal comma\n", "utf-8"
    )
    (tmp_path / "sheet.md").write_text("---\nbatch: 34\nmash: {first_wort: 1.075}\n---\n", "utf-8")
    monkeypatch.chdir(tmp_path)
    who = ["-c", "user.name=A Brewer", "-c", "user.email=brewer@example.org"]
    for arguments in (["init"], ["add", "entries"], [*who, "commit", "-m", "the demo"]):
        subprocess.run(["git", *arguments], check=True, capture_output=True)
    return tmp_path


def test_its_first_entry_has_no_problem(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "entries").mkdir()
    monkeypatch.chdir(tmp_path)
    (entry,) = shown("markdown")
    (tmp_path / "entries" / "01.md").write_text(entry, "utf-8")
    assert run("check", "--strict").output == "1 entry read, no problems.\n"


def test_each_of_its_commands_runs(demo: Path) -> None:
    commands = re.findall(r"^\| `wortbook ([^`]+)`", README, re.MULTILINE)
    assert {"check", "build", "explain 29"} <= set(commands)
    for command in commands:
        # watch goes on until it is stopped; it has tests of its own
        result = run(*shlex.split(command), *(["--help"] if command == "watch" else []))
        assert result.exit_code == 0, f"{command}: {result.output}"


def test_its_pipeline_checks_builds_and_publishes_what_was_built(tmp_path: Path) -> None:
    (tmp_path / "entries").mkdir()
    (tmp_path / "entries" / "01.md").write_text(shown("markdown")[0], "utf-8")
    (text,) = (block for block in shown("yaml") if "jobs:" in block)
    (job,) = yaml.safe_load(text)["jobs"].values()
    commands = [step["run"] for step in job["steps"] if "run" in step]
    install = [command for command in commands if command.startswith("pip install")]
    assert len(install) == 1
    here = Path(sys.executable).parent
    for command in commands:
        if command not in install:
            subprocess.run(
                command,
                shell=True,
                check=True,
                cwd=tmp_path,
                env={"PATH": f"{here}:/usr/bin:/bin", "HOME": str(tmp_path)},
            )
    (published,) = (step["with"]["path"] for step in job["steps"] if "path" in step.get("with", {}))
    assert (tmp_path / published / "index.html").is_file()
    assert (tmp_path / published / "search.html").is_file()

"""What stands at the top of the project, and that its README and guide keep to the truth."""

from __future__ import annotations

import subprocess
from pathlib import Path

ROOT = Path(__file__).parents[2]
AGREED = {"README.md", "DEVELOPERS.md", "pyproject.toml", "journal", "entries", "themes", "site", "tests"}


def test_the_top_level_holds_what_was_agreed_and_nothing_else() -> None:
    listed = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=True).stdout
    top = {line.split("/")[0] for line in listed.splitlines()}
    assert {name for name in top if not name.startswith(".")} == AGREED


def test_what_a_build_writes_stays_out_of_git() -> None:
    ignored = subprocess.run(["git", "check-ignore", "site/index.html"], cwd=ROOT, capture_output=True, check=False)
    assert ignored.returncode == 0


def test_ci_calls_the_readme_test_line() -> None:
    lines = [line for line in (ROOT / "README.md").read_text("utf-8").splitlines() if line.endswith("-m pytest")]
    assert len(lines) == 1
    assert "grep -- '-m pytest$' README.md" in (ROOT / ".ci" / "run").read_text("utf-8")

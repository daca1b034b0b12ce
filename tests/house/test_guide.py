"""DEVELOPERS.md, and the pages of what was measured, speak of the code as it is: its paths, its folders, and its diffs, which are whole."""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
FOLDERS = ("journal", "themes", "entries", "tests")
GUIDE = (ROOT / "DEVELOPERS.md").read_text("utf-8")
#: Where a path without its first folders may begin.
ROOTS = (ROOT, ROOT / "journal")
SAID = "\n".join([GUIDE, *(page.read_text("utf-8") for page in sorted((ROOT / "tests" / "measured").glob("*.md")))])
PATHS = sorted(set(re.findall(r"`((?:[\w.-]+/)+[\w.-]*)`", SAID)))
NAMES = sorted(set(re.findall(r"`([\w-]+(?:\.\w+)*\.(?:py|md|yaml|toml|css|js|json|j2|csv|txt))`", SAID)))
#: What stands in the guide, each with what the tests want of the same thing.
DIFFS = [
    (shown, asked.read_text("utf-8"))
    for shown, asked in zip(
        re.findall(r"^```diff\n(.*?)^```", GUIDE, re.DOTALL | re.MULTILINE),
        sorted((ROOT / "tests" / "house" / "adding").glob("*.diff")),
        strict=True,
    )
]
#: What a diff does to one file: `---` or, where it makes it, `+++`, the path, and the lines.
CHANGE = re.compile(r"^(---|\+\+\+) (\S+)\n((?:(?!--- |\+\+\+ ).*\n)*)", re.MULTILINE)
#: The tests of what the diffs touch, and of the lists that a new thing has to stand in.
TOUCHED = """
    tests/reading/test_cases.py tests/reading/test_complete.py tests/reading/test_format_1.py tests/reading/test_guesses.py
    tests/reading/test_schema.py tests/figures/test_catalogue.py tests/figures/test_full_entry.py tests/figures/test_readings.py
    tests/figures/test_looked_at.py tests/pages/test_own_theme.py::test_the_help_lists_every_block
    tests/pages/test_fields.py tests/pages/test_recorded.py tests/pages/test_site.py tests/history/test_settings.py
    tests/pages/test_sheet.py::test_a_box_follows_everything_that_is_read tests/cli/test_commands.py::test_the_demo_has_no_error
    tests/house/test_directions.py tests/house/test_names.py tests/publishing/test_data.py
"""
#: What the guide says to run, and what has to hold after that.
RUNS = (
    "tests/reading/kept_format.py",
    "-m ruff format --check .",
    "-m ruff check .",
    "-m mypy",
    f"-m pytest --quiet --numprocesses 0 {TOUCHED}",
)


@pytest.mark.parametrize("path", PATHS)
def test_every_path_it_names_is_there(path: str) -> None:
    built = path.startswith("site/")
    assert built or any((root / path).exists() for root in ROOTS)


@pytest.mark.parametrize("name", NAMES)
def test_a_file_it_names_without_its_folder_is_there(name: str) -> None:
    found = [*ROOT.glob(name), *(path for folder in FOLDERS for path in (ROOT / folder).rglob(name))]
    assert found
    assert len(found) == 1 or not name.endswith(".py"), "there are several, so say the folder"


@pytest.mark.parametrize(("name", "most"), [("README.md", 8_000), ("DEVELOPERS.md", 24_000)])
def test_it_is_read_in_one_sitting(name: str, most: int) -> None:
    """Why a folder is as it is stands in its docstring, what was measured in `tests/measured/`, what a brewer asks in the help."""
    assert len((ROOT / name).read_text("utf-8")) <= most


def test_its_table_lists_the_folders_of_the_package() -> None:
    folders = {path.name for path in (ROOT / "journal").iterdir() if (path / "__init__.py").is_file()}
    assert set(re.findall(r"^\| `journal/(\w+)/`", GUIDE, re.MULTILINE)) == folders


def places_of(lines: list[str], text: list[str], start: int = 0) -> list[int]:
    """Where these lines stand in the text, one after the other."""
    last = len(text) - len(lines)
    return [at for at in range(start, last + 1) if text[at : at + len(lines)] == lines]


def apply(piece: list[str], text: list[str], start: int) -> int:
    """Put one piece of a diff into the text, after line `start`; where it ends there. A piece without context goes to the end."""
    before = [line[1:] for line in piece if not line.startswith("+")]
    after = [line[1:] for line in piece if not line.startswith("-")]
    assert not places_of(after, text), f"is there already: {after}"
    places = places_of(before, text, start) if before else [len(text)]
    assert len(places) == 1, (
        f"stands in {len(places)} places after line {start}: {before}; where code moved on, mend the diff"
    )
    text[places[0] : places[0] + len(before)] = after
    return places[0] + len(after)


def with_its_diffs() -> dict[str, str]:
    """Every file that the diffs touch, by its path, as it is once they are applied in order."""
    texts: dict[str, list[str]] = {}
    for sign, path, body in (change for pair in DIFFS for diff in pair for change in CHANGE.findall(diff)):
        new = sign == "+++"
        assert (ROOT / path).exists() != new, path
        text = texts.setdefault(path, [] if new else (ROOT / path).read_text("utf-8").splitlines())
        end = 0
        for piece in body.split("@@\n"):
            try:
                end = apply(piece.splitlines(), text, end)
            except AssertionError as error:
                raise AssertionError(
                    f"a diff of DEVELOPERS.md or tests/house/adding/ no longer fits {path}: {error}"
                ) from None
    return {path: "\n".join([*text, ""]) for path, text in texts.items()}


def test_its_diffs_say_where_they_go() -> None:
    assert len(with_its_diffs()) > len(DIFFS) >= 5


@pytest.mark.long
def test_its_diffs_leave_the_tree_green(tmp_path: Path) -> None:
    # with what was compiled and looked through of it before: both tell by the source whether it still holds
    for folder in (*FOLDERS, *([".mypy_cache"] if (ROOT / ".mypy_cache").is_dir() else [])):
        shutil.copytree(ROOT / folder, tmp_path / folder)
    for name in ("README.md", "DEVELOPERS.md", "pyproject.toml"):
        shutil.copy(ROOT / name, tmp_path)
    for path, text in with_its_diffs().items():
        (tmp_path / path).write_text(text, "utf-8")
    around = {"PATH": "/usr/bin:/bin", "HOME": str(tmp_path), "PYTHONPATH": str(tmp_path)}
    for words in RUNS:
        command = [sys.executable, *words.split()]
        run = subprocess.run(command, cwd=tmp_path, env=around, capture_output=True, text=True, check=False)
        assert run.returncode == 0, f"{words}\n{run.stdout}\n{run.stderr}"

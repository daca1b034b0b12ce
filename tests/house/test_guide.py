"""DEVELOPERS.md speaks of the code as it is: its paths, its folders, and the lines that its diffs stand among."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
GUIDE = (ROOT / "DEVELOPERS.md").read_text("utf-8")
#: Where a path without its first folders may begin.
ROOTS = (ROOT, ROOT / "journal")
PATHS = sorted(set(re.findall(r"`((?:[\w.-]+/)+[\w.-]*)`", GUIDE)))
DIFFS = re.findall(r"^```diff\n(.*?)^```", GUIDE, re.DOTALL | re.MULTILINE)


@pytest.mark.parametrize("path", PATHS)
def test_every_path_it_names_is_there(path: str) -> None:
    built = path.startswith("site/")
    assert built or any((root / path).exists() for root in ROOTS)


def test_its_table_lists_the_folders_of_the_package() -> None:
    folders = {path.name for path in (ROOT / "journal").iterdir() if (path / "__init__.py").is_file()}
    assert set(re.findall(r"^\| `journal/(\w+)/`", GUIDE, re.MULTILINE)) == folders


def test_its_diffs_stand_among_lines_of_the_code() -> None:
    looked_at = 0
    for diff in DIFFS:
        lines: list[str] = []
        for line in diff.splitlines():
            if line.startswith("--- "):
                lines = (ROOT / line[4:]).read_text("utf-8").splitlines()
            elif line[0] in " -":
                assert line[1:] in lines, line
                looked_at += 1
            else:
                assert line[0] == "+", line
                assert line[1:] not in lines or not line[1:].strip(), f"is there already: {line}"
    assert looked_at >= len(DIFFS)

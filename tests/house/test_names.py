"""One word, one thing: no two classes have one name; a reading is named where it is stated, and hardly anywhere else."""

from __future__ import annotations

import re
from collections import defaultdict
from pathlib import Path

import pytest

from journal.reading.known_readings import BY_PATH

PACKAGE = Path(__file__).parents[2] / "journal"


def test_no_two_classes_have_one_name() -> None:
    homes: dict[str, list[str]] = defaultdict(list)
    for file in sorted(PACKAGE.rglob("*.py")):
        for name in re.findall(r"^\s*class (\w+)(?=[(:\[])", file.read_text("utf-8"), re.MULTILINE):
            homes[name].append(str(file.relative_to(PACKAGE)))
    assert "Batch" in homes
    assert {name: files for name, files in homes.items() if len(files) > 1} == {}


@pytest.mark.parametrize("path", ["boil.before.volume", "boil.before.gravity", "boil.after.gravity", "mash.first_wort"])
def test_a_reading_is_named_in_few_modules(path: str) -> None:
    """By its path, by the name that figures take it by, or by the figure it becomes: whatever lists readings is a view of their table."""
    reading = BY_PATH[path]
    names = (reading.path, reading.parameter, reading.figure)
    naming = [file for file in PACKAGE.rglob("*.py") if any(name in file.read_text("utf-8") for name in names)]
    assert len(naming) <= 8, naming

"""One word, one thing: no two classes of the package have one name."""

from __future__ import annotations

import ast
from collections import defaultdict
from pathlib import Path

PACKAGE = Path(__file__).parents[2] / "journal"


def test_no_two_classes_have_one_name() -> None:
    homes: dict[str, list[str]] = defaultdict(list)
    for file in sorted(PACKAGE.rglob("*.py")):
        for node in ast.walk(ast.parse(file.read_text("utf-8"))):
            if isinstance(node, ast.ClassDef):
                homes[node.name].append(str(file.relative_to(PACKAGE)))
    assert {name: files for name, files in homes.items() if len(files) > 1} == {}

"""The package imports nothing but the standard library and itself."""

import ast
import sys
from pathlib import Path

import pytest

import journal.science

FILES = sorted(Path(journal.science.__path__[0]).glob("*.py"))


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.name)
def test_imports(path: Path) -> None:
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.ImportFrom):
            assert node.level == 0
            names = [node.module or ""]
        elif isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        else:
            continue
        for name in names:
            assert name.split(".")[0] in sys.stdlib_module_names or name.startswith("journal.science"), name

"""The direction of imports: the route of the data is seen in the folders, and no folder reaches back."""

from __future__ import annotations

import ast
from importlib import import_module
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parents[2] / "journal"

#: What each part may import, besides itself.
ALLOWED = {
    "frozen": set(),
    "lazy": set(),
    "memory": set(),
    "problems": set(),
    "measures": {"frozen", "problems"},
    "science": set(),
    "numerics": set(),
    "reading": {"frozen", "lazy", "problems", "measures", "memory", "science"},
    "figures": {"problems", "measures", "reading", "science", "numerics"},
    "balance": {"problems", "measures", "reading", "figures", "science", "numerics"},
    "history": {"frozen", "memory", "problems", "measures", "reading", "figures", "balance", "science", "numerics"},
    "pages": {"frozen", "lazy", "memory", "problems", "measures", "reading", "figures", "balance", "history"},
    "publishing": {
        "frozen",
        "lazy",
        "memory",
        "problems",
        "measures",
        "reading",
        "figures",
        "balance",
        "history",
        "pages",
    },
    "cli": {"problems", "measures", "reading", "figures", "balance", "history", "pages", "publishing"},
}


def imported_parts(file: Path) -> set[str]:
    found = set()
    for node in ast.walk(ast.parse(file.read_text("utf-8"))):
        names = []
        if isinstance(node, ast.ImportFrom) and node.module and node.level == 0:
            names = [node.module]
        elif isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        found |= {name.split(".")[1] for name in names if name.startswith("journal.")}
    return found


def part_of(file: Path) -> str:
    inside = file.relative_to(PACKAGE)
    return inside.parts[0] if len(inside.parts) > 1 else inside.stem


@pytest.mark.parametrize("file", sorted(PACKAGE.rglob("*.py")), ids=lambda file: str(file.relative_to(PACKAGE)))
def test_a_file_imports_only_what_its_part_may(file: Path) -> None:
    part = part_of(file)
    if part in {"__init__", "__main__"}:
        return
    reached = imported_parts(file) - {part}
    assert reached <= ALLOWED[part], f"{part} may not import {', '.join(sorted(reached - ALLOWED[part]))}"


def test_every_part_is_in_the_table() -> None:
    parts = {part_of(file) for file in PACKAGE.rglob("*.py")} - {"__init__", "__main__"}
    assert parts == set(ALLOWED)


@pytest.mark.parametrize(
    "package", sorted(file.parent for file in PACKAGE.rglob("__init__.py")), ids=lambda file: file.name
)
def test_a_package_has_every_name_that_it_offers(package: Path) -> None:
    module = import_module(".".join(package.relative_to(PACKAGE.parent).parts))
    assert [name for name in getattr(module, "__all__", ()) if not hasattr(module, name)] == []


@pytest.mark.parametrize("file", sorted(PACKAGE.rglob("*.py")), ids=lambda file: str(file.relative_to(PACKAGE)))
def test_only_publishing_writes(file: Path) -> None:
    if part_of(file) == "publishing":
        return
    writes = {"write_text", "write_bytes", "mkdir", "unlink", "rmdir", "rmtree", "rename", "touch"}
    called = {
        node.func.attr
        for node in ast.walk(ast.parse(file.read_text("utf-8")))
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute)
    }
    assert not called & writes

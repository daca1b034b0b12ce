"""The direction of imports: the route of the data is seen in the folders, and no folder reaches back."""

from __future__ import annotations

import re
from importlib import import_module
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parents[2] / "journal"

FILES = sorted(PACKAGE.rglob("*.py"))

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
    return set(re.findall(r"^\s*(?:from|import) journal\.(\w+)", file.read_text("utf-8"), re.MULTILINE))


def part_of(file: Path) -> str:
    inside = file.relative_to(PACKAGE)
    return inside.parts[0] if len(inside.parts) > 1 else inside.stem


def files_of(part: str) -> list[Path]:
    found = [file for file in FILES if part_of(file) == part]
    assert found
    return found


@pytest.mark.parametrize("part", ALLOWED)
def test_a_file_imports_only_what_its_part_may(part: str) -> None:
    reached = {str(file.relative_to(PACKAGE)): imported_parts(file) - {part} for file in files_of(part)}
    assert {name: parts - ALLOWED[part] for name, parts in reached.items() if parts - ALLOWED[part]} == {}


def test_every_part_is_in_the_table() -> None:
    parts = {part_of(file) for file in FILES} - {"__init__", "__main__"}
    assert parts == set(ALLOWED)


@pytest.mark.parametrize(
    "package", sorted(file.parent for file in PACKAGE.rglob("__init__.py")), ids=lambda file: file.name
)
def test_a_package_has_every_name_that_it_offers(package: Path) -> None:
    module = import_module(".".join(package.relative_to(PACKAGE.parent).parts))
    assert [name for name in getattr(module, "__all__", ()) if not hasattr(module, name)] == []


def test_only_publishing_writes() -> None:
    writes = re.compile(r"\.(?:write_text|write_bytes|mkdir|unlink|rmdir|rmtree|rename|touch)\(")
    writing = [file for file in FILES if writes.search(file.read_text("utf-8"))]
    assert {part_of(file) for file in writing} == {"publishing"}, writing

"""What judges the package from outside brews, reckons and generates without it: no import leads to it, and no coefficient is common."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
TESTS = ROOT / "tests"
#: Simulated breweries and their notebooks, by their place in the tests.
SIMULATORS = (
    "balance/simulated_brewery.py",
    "history/moved_brewery.py",
    "history/plan/planned_brewery.py",
    "history/rinsing_brewery.py",
    "bench/brewday.py",
    "bench/generate.py",
    "bench/notebook.py",
)
#: What reckons a batch once more, by published formulas; where only one is published, its coefficients are the package's too.
RECKONERS = ("brew.py", "handbook.py", "reckoning.py")
#: Litres in a gallon, kilograms in a pound: definitions.
DEFINED = {3.785411784, 0.45359237}


def imported(file: Path) -> Iterator[str]:
    """Every module that a file names, with the names that may be modules of it."""
    for node in ast.walk(ast.parse(file.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module:
            yield node.module
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def reached(file: Path, seen: set[Path]) -> Iterator[str]:
    """Every module that a file leads to, by way of other files of the tests."""
    for name in imported(file):
        yield name
        other = TESTS / f"{name.replace('.', '/')}.py"
        if other.is_file() and other not in seen:
            seen.add(other)
            yield from reached(other, seen)


def coefficients(file: Path) -> set[float]:
    """Numbers of four digits and more."""
    nodes = ast.walk(ast.parse(file.read_text("utf-8")))
    numbers = {abs(node.value) for node in nodes if isinstance(node, ast.Constant) and isinstance(node.value, float)}
    return {number for number in numbers if len(repr(number).partition("e")[0].replace(".", "").strip("0")) >= 4}


@pytest.mark.parametrize("name", [*SIMULATORS, *RECKONERS])
def test_what_judges_the_package_does_not_lead_to_it(name: str) -> None:
    assert [module for module in reached(TESTS / name, set()) if module.split(".")[0] == "journal"] == []


def test_no_simulator_brews_by_the_packages_coefficients() -> None:
    of_the_package = {number for file in (ROOT / "journal").rglob("*.py") for number in coefficients(file)}
    shared = {name: coefficients(TESTS / name) & of_the_package - DEFINED for name in SIMULATORS}
    assert {name: numbers for name, numbers in shared.items() if numbers} == {}
    assert 258.6 in of_the_package


def test_every_simulated_brewery_is_listed() -> None:
    assert {file.relative_to(TESTS).as_posix() for file in TESTS.rglob("*_brewery.py")} <= set(SIMULATORS)

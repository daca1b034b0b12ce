"""Faults put into formulas, quantities, the balance and what is said of a change: how many of them a folder's quick tests notice.

Each fault is tried in a process of its own, forked from one that has imported what is not ours. A fault counts as noticed, too, if
it makes the tests use more than their time on the processor.
"""

from __future__ import annotations

import importlib.abc
import importlib.util
import os
import random
import resource
import signal
import sys
from collections import Counter
from collections.abc import Iterator
from contextlib import redirect_stderr, redirect_stdout
from dataclasses import dataclass
from pathlib import Path
from types import ModuleType

import pytest
from hypothesis import settings
from long.mutate import Mutant, mutants

DEFAULT = 0  # all there are
#: What is spoilt, and the tests that should notice, folders or files: those nearest, then, where these see nothing, others that lean on it.
#: Whole simulated breweries are left out (`OPTIONS`).
FOLDERS = {
    "science": (("science",), ()),
    "measures": (("measures",), ()),
    "balance": (
        ("balance",),
        (
            "history/test_fold.py",
            "history/test_learn.py",
            "history/test_brewhouse.py",
            "history/test_shared_mash.py",
            "history/test_story.py",
            "history/test_advice.py",
            "history/test_pays.py",
            "history/plan",
            "pages/test_account.py",
            "pages/test_agreement.py",
            "pages/test_told.py",
            "pages/test_weight.py",
        ),
    ),
    "history/change": (
        ("history/test_change_by_hand.py", "history/test_change.py", "history/test_lot_steps.py"),
        ("history/test_story.py", "history/test_attenuation.py", "pages/test_charts.py", "pages/test_told.py"),
    ),
}
#: Of what isn't spoilt, this is imported once for all: no part of it imports a folder above.
BELOW = ("problems", "memory", "measures", "science", "numerics", "reading", "figures")
ROOT = Path(__file__).parents[2]
#: Seconds on the processor, many times what the tests of a folder take.
LIMIT = 60
#: A property's examples, fewer than in the test line.
EXAMPLES = 10
#: What was imported before the fork, hypothesis among it, is no longer rewritten, and pytest warns of that.
OPTIONS = [
    "-qx",
    "-n0",
    f"--ignore={ROOT / 'tests' / 'balance' / 'test_simulated.py'}",
    "--tb=no",
    "-p",
    "no:cacheprovider",
    "-p",
    "no:faulthandler",
    "-W",
    "ignore::pytest.PytestAssertRewriteWarning",
]
UNNOTICED = 0


@dataclass(frozen=True)
class Fault:
    """A mutant and the file it is of."""

    folder: str
    file: Path
    mutant: Mutant

    @property
    def module(self) -> str:
        """The name it is imported by."""
        return f"journal.{self.folder}.{self.file.stem}".replace("/", ".")

    def __str__(self) -> str:
        return f"{self.folder}/{self.file.name}:{self.mutant.line}: {self.mutant.what}"


def faults(folder: str) -> list[Fault]:
    """Every fault of a folder's modules."""
    files = sorted((ROOT / "journal" / folder).glob("*.py"))
    return [Fault(folder, file, mutant) for file in files for mutant in mutants(file.read_text("utf-8"))]


class _Faulty(importlib.abc.MetaPathFinder, importlib.abc.Loader):
    """Finds the one module with the fault in it."""

    def __init__(self, fault: Fault) -> None:
        self.fault = fault

    def find_spec(self, name: str, _path: object, _target: object = None) -> object:
        if name != self.fault.module:
            return None
        return importlib.util.spec_from_file_location(name, self.fault.file, loader=self)

    def create_module(self, _spec: object) -> None:
        return None

    def exec_module(self, module: ModuleType) -> None:
        exec(compile(self.fault.mutant.tree(), str(self.fault.file), "exec"), module.__dict__)


def _tests(names: tuple[str, ...], module: str) -> list[str]:
    """The test files of folders and files, those that name the module first."""
    places = [ROOT / "tests" / name for name in names]
    files = [file for place in places for file in (sorted(place.glob("test_*.py")) if place.is_dir() else [place])]
    files.sort(
        key=lambda file: (
            file.stem == "test_properties",
            module not in file.stem,
            module not in file.read_text("utf-8"),
        )
    )
    return [str(file) for file in files]


class _FewExamples:
    """Lets a property be tried with few examples, the same ones for every fault."""

    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        for item in items:
            tried = getattr(getattr(item, "obj", None), "_hypothesis_internal_use_settings", None)
            if tried:
                item.obj._hypothesis_internal_use_settings = settings(
                    tried, max_examples=min(EXAMPLES, tried.max_examples), derandomize=True, database=None
                )


def _try(folder: str, module: str) -> int:
    """Run the tests up to the first that fails; pytest's word on it."""
    lower = BELOW[: BELOW.index(folder)] if folder in BELOW else BELOW
    kept = ("journal", *(f"journal.{part}" for part in lower))
    for name in [name for name in sys.modules if name.startswith("journal.")]:
        if not name.startswith(tuple(f"{part}." for part in kept[1:])) and name not in kept:
            del sys.modules[name]
    word = UNNOTICED
    with Path(os.devnull).open("w") as nowhere, redirect_stdout(nowhere), redirect_stderr(nowhere):
        for names in FOLDERS[folder]:
            if names and word == UNNOTICED:
                word = pytest.main([*OPTIONS, *_tests(names, module)], [_FewExamples()])
    return word


def _alone(fault: Fault | None, folder: str) -> int:
    """Start a process that tries a fault; its number."""
    if child := os.fork():
        return child
    word = 1
    try:
        resource.setrlimit(resource.RLIMIT_CPU, (LIMIT, LIMIT + 5))
        if fault:
            sys.meta_path.insert(0, _Faulty(fault))
        word = _try(folder, fault.file.stem if fault else "")
    finally:
        os._exit(word)


def _outcomes(folder: str, chosen: list[Fault]) -> Iterator[tuple[Fault, int]]:
    """Each fault and what came of it: an exit code, or less than 0 for a signal."""
    waiting, running = list(reversed(chosen)), {}
    while waiting or running:
        while waiting and len(running) < len(os.sched_getaffinity(0)):
            fault = waiting.pop()
            running[_alone(fault, folder)] = fault
        child, status = os.wait()
        yield running.pop(child), os.waitstatus_to_exitcode(status)


def _prepare() -> None:
    """Have in this process, before it is forked, what takes long to import and is not ours."""
    for name in (
        "iapws",
        "pint",
        "scipy.optimize",
        "scipy.stats",
        "numpy",
        "hypothesis.strategies",
        "statsmodels.datasets",
    ):
        importlib.import_module(name)
    for part in BELOW:
        importlib.import_module(f"journal.{part}")
    sys.path.insert(0, str(ROOT / "tests"))


def run(many: int, seed: int) -> Iterator[str]:
    """The faults that no test noticed, and each folder's share of noticed ones."""
    _prepare()
    for folder in FOLDERS:
        every = faults(folder)
        chosen = random.Random(seed).sample(every, min(many, len(every))) if many else every
        _, status = os.waitpid(_alone(None, folder), 0)
        if status:
            raise RuntimeError(f"the tests of {folder} fail without a fault in it")
        counted: Counter[str] = Counter()
        for fault, word in _outcomes(folder, chosen):
            counted["all"] += 1
            if word == UNNOTICED:
                yield f"unnoticed: {fault}"
            else:
                counted["noticed"] += 1
                counted["out of time"] += word in (-signal.SIGXCPU, -signal.SIGKILL)
        if counted["all"]:
            share = counted["noticed"] / counted["all"]
            late = counted["out of time"]
            yield f"{folder}: {counted['noticed']} of {counted['all']} noticed, {share:.1%}; {late} of them out of time"

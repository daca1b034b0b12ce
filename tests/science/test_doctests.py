"""Every docstring's worked example runs, and every public function has one."""

import doctest
import importlib
import inspect
import pkgutil

import pytest

import journal.science

MODULES = sorted(module.name for module in pkgutil.iter_modules(journal.science.__path__))


@pytest.mark.parametrize("name", MODULES)
def test_examples_run(name: str) -> None:
    module = importlib.import_module(f"journal.science.{name}")
    outcome = doctest.testmod(module)
    assert outcome.attempted > 0
    assert outcome.failed == 0


@pytest.mark.parametrize("name", MODULES)
def test_every_function_has_example_and_source(name: str) -> None:
    module = importlib.import_module(f"journal.science.{name}")
    for title, function in inspect.getmembers(module, inspect.isfunction):
        if function.__module__ != module.__name__ or title.startswith("_"):
            continue
        text = inspect.getdoc(function) or ""
        assert ">>> " in text, f"{name}.{title} shows no example"
        assert "Source: " in text or name.startswith("_"), f"{name}.{title} names no source"

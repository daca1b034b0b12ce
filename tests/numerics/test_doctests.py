"""The worked examples in the docstrings run."""

from __future__ import annotations

import doctest
import importlib
import pkgutil

import pytest

import journal.numerics

MODULES = sorted(module.name for module in pkgutil.iter_modules(journal.numerics.__path__))


@pytest.mark.parametrize("name", MODULES)
def test_examples_run(name: str) -> None:
    assert doctest.testmod(importlib.import_module(f"journal.numerics.{name}")).failed == 0

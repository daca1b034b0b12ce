"""The names that a folder offers, each loaded when it is first asked for. Imports nothing of ours."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from importlib import import_module


def load_when_asked(package: str, homes: Mapping[str, str]) -> Callable[[str], object]:
    """A package's `__getattr__`: `homes` says by name in which of its modules it is; AttributeError for any other name.

    A command to which nothing is new, or that sets no page, loads nothing for the sake of what it doesn't ask for.
    """

    def find(name: str) -> object:
        if name not in homes:
            raise AttributeError(f"module {package!r} has no attribute {name!r}")
        return getattr(import_module(f"{package}.{homes[name]}"), name)

    return find

"""Templates read once for all builds of one process: reading them takes three quarters of a small build.

What is kept goes by the text, so a template that a test changes is read anew.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from types import CodeType
from unittest.mock import patch

from jinja2 import Environment


@contextmanager
def read_once() -> Iterator[None]:
    """The code of each template is made by the first build that wants it."""
    compiled, known = Environment.compile, dict[tuple[object, ...], CodeType]()

    def once(self: Environment, *of: str) -> CodeType:
        # a sandbox's code differs from plain code
        key = (type(self), *of)
        return known.get(key) or known.setdefault(key, compiled(self, *of))

    with patch.object(Environment, "compile", once):
        yield

"""Templates read once for all builds of a long run: reading them takes a half of a small build, and no trial changes one."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from types import CodeType
from unittest.mock import patch

from jinja2 import Environment


@contextmanager
def read_once() -> Iterator[None]:
    """The code of each template is made by the first build that wants it."""
    compiled, known = Environment.compile, dict[tuple[str, ...], CodeType]()

    def once(self: Environment, *of: str) -> CodeType:
        return known.get(of) or known.setdefault(of, compiled(self, *of))

    with patch.object(Environment, "compile", once):
        yield

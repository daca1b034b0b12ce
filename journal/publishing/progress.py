"""How far a build has come, for somebody who looks on."""

from __future__ import annotations

from collections.abc import Callable

#: Called with what is being done, how many are done and how many there are.
Progress = Callable[[str, int, int], None]


def show_no_progress(_what: str, _done: int, _total: int) -> None:
    """No progress shown."""

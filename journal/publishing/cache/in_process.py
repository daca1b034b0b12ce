"""Values kept for as long as a process lives."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

from journal.memory import Memory

T = TypeVar("T")


class InProcessCache(Memory):
    """Keeps values for as long as it lives, and forgets what the last round did not ask for."""

    def __init__(self) -> None:
        self._last: dict[str, object] = {}
        self._now: dict[str, object] = {}

    def recall(self, key: str, make: Callable[[], T]) -> T:
        """The value of a key, made where neither this round nor the last one has it."""
        if key not in self._now:
            self._now[key] = self._last[key] if key in self._last else make()
        return self._now[key]  # type: ignore[return-value]

    def has(self, key: str) -> bool:
        """Whether this round or the last one has a value."""
        return key in self._now or key in self._last

    def keep(self, key: str) -> None:
        """Hold a value for one more round, if the last one had it."""
        if key in self._last:
            self._now[key] = self._last[key]

    def next_round(self) -> None:
        """Begin anew: what was asked for since the last time is kept, the rest is not."""
        self._last, self._now = self._now, {}

"""What was worked out once need not be again: a value by the digest of everything it depends on.

A leaf: reading, history and pages take a `Memory` and ask it; what keeps values from one run to the next is `publishing`'s.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Generic, TypeVar

T = TypeVar("T")


class Memory:
    """Remembers nothing: every value is made anew."""

    def recall(self, key: str, make: Callable[[], T]) -> T:
        """The value of a key, made where it is not remembered. Equal keys must mean equal values."""
        del key
        return make()

    def has(self, key: str) -> bool:
        """Whether a value is remembered."""
        del key
        return False

    def keep(self, key: str) -> None:
        """Say that a value is still of use, though nobody asks for it today."""

    def get_ready(self, load: Callable[[], object]) -> None:
        """Say that something will be made soon, as by `when_ready`, that nothing can be made of before `load` was called: a process may
        call it meanwhile. It is a function of a module.
        """

    def make_ahead(self, values: Iterable[tuple[str, Callable[[], object]]], *, when_ready: bool = False) -> None:
        """Say what will be recalled next, and in which order: it may be made by several processes meanwhile.

        `when_ready`: by the process that was told to `get_ready`, which the values' makers are sent to.
        """


FORGETFUL = Memory()


class LazyMapping(Mapping[str, T], Generic[T]):
    """Values by name, each made or recalled when it is first asked for: what nobody asks for costs nothing."""

    def __init__(self) -> None:
        self._how: dict[str, Callable[[], T]] = {}
        self._known: dict[str, T] = {}

    def add(self, name: str, how: Callable[[], T]) -> None:
        """One more value, by how it is come by."""
        self._how[name] = how

    def __getitem__(self, name: str) -> T:
        if name not in self._known:
            self._known[name] = self._how[name]()
        return self._known[name]

    def __contains__(self, name: object) -> bool:
        return name in self._how

    def __iter__(self) -> Iterator[str]:
        return iter(self._how)

    def __len__(self) -> int:
        return len(self._how)


def digest_of(*parts: str) -> str:
    """A digest of texts in order; no two lists of texts run together to the same one."""
    encoded = [part.encode("utf-8", "surrogatepass") for part in parts]
    return hashlib.sha256(b"".join([piece for text in encoded for piece in (len(text).to_bytes(8), text)])).hexdigest()

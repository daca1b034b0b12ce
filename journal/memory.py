"""What was worked out once need not be again: a value by the digest of everything it depends on.

A leaf: reading, history and pages take a `Memory` and ask it; what keeps values from one run to the next is `build`'s.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from typing import TypeVar

T = TypeVar("T")


class Memory:
    """Remembers nothing: every value is made anew."""

    def recall(self, key: str, make: Callable[[], T]) -> T:
        """The value of a key, made where it is not remembered. Equal keys must mean equal values."""
        del key
        return make()


FORGETFUL = Memory()


def digest_of(*parts: str) -> str:
    """A digest of texts in order; no two lists of texts run together to the same one."""
    digest = hashlib.sha256()
    for part in parts:
        encoded = part.encode("utf-8", "surrogatepass")
        digest.update(len(encoded).to_bytes(8, "big"))
        digest.update(encoded)
    return digest.hexdigest()

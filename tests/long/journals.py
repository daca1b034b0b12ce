"""Spoilt journals as a brewer would try them: every one through `check`, one in four through `build` besides."""

from __future__ import annotations

from collections.abc import Iterator

from long import mutants

DEFAULT = 20_000
_BUILT = 4


def run(many: int, seed: int) -> Iterator[str]:
    """What came of them, the slowest, and what failed: raised, took long, or was told as a fault of the program."""
    yield from mutants.run(many, seed, lambda number: "check" if number % _BUILT else "site")

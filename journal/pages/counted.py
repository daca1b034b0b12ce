"""How many, in words: needed where nothing of a page is."""

from __future__ import annotations

_NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")


def how_many(count: int) -> str:
    """`two` for 2; from ten on in figures."""
    return _NUMBERS[count] if count < len(_NUMBERS) else str(count)


def count_batches(count: int) -> str:
    """`1 batch`, `36 batches`."""
    return f"{count} {'batch' if count == 1 else 'batches'}"

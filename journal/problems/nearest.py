"""What a misspelt word may have been meant for."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import get_close_matches

#: Letters that make a beginning, at least.
_BEGINNING = 4


def nearest(word: str, known: Iterable[str]) -> str | None:
    """The known word nearest to a misspelt one, None if none is near.

    One that differs in capitals only, or has `-` for `_`, is nearer than any other; then one that it is the beginning of.
    """
    words, plain = list(known), word.lower().replace("-", "_")
    same = [each for each in words if each.lower() == plain]
    begun = [each for each in words if each.lower().startswith(plain)] if len(plain) >= _BEGINNING else []
    alike = [*same, *sorted(begun, key=len)]
    found = alike or get_close_matches(word, words, n=1, cutoff=0.6) or get_close_matches(plain, words, n=1, cutoff=0.6)
    return found[0] if found else None


def did_you_mean(word: str, known: Iterable[str], otherwise: str = "") -> str:
    """The nearest known word as a question, such as `Did you mean mash?`; `otherwise` where none is near."""
    near = nearest(word, known)
    return f"Did you mean {near}?" if near else otherwise

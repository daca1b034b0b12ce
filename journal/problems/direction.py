"""Invisible signs that turn the direction of writing: one that is never closed turns whatever follows it on a page."""

from __future__ import annotations

import re

#: The explicit directional embeddings, overrides and isolates, and what closes them (Unicode Standard Annex 9, 2.1 to 2.5).
TURNING = re.compile("[\u202a-\u202e\u2066-\u2069]")
_EMBEDDING, _END_OF_EMBEDDING = frozenset("\u202a\u202b\u202d\u202e"), "\u202c"
_ISOLATE, _END_OF_ISOLATE = frozenset("\u2066\u2067\u2068"), "\u2069"


def find_unpaired(text: str) -> list[int]:
    """Offsets of the signs that the text opens and does not close again, or closes without having opened them."""
    if text.isascii():
        return []
    opened: list[int] = []
    alone: list[int] = []
    for found in TURNING.finditer(text):
        at, sign = found.start(), found[0]
        if sign in _EMBEDDING or sign in _ISOLATE:
            opened.append(at)
        elif sign == _END_OF_EMBEDDING:
            opened.pop() if opened and text[opened[-1]] in _EMBEDDING else alone.append(at)
        else:
            # the end of an isolate ends whatever was opened within it (rule X6a)
            isolate = next((n for n in reversed(range(len(opened))) if text[opened[n]] in _ISOLATE), None)
            if isolate is None:
                alone.append(at)
            else:
                del opened[isolate:]
    return sorted(opened + alone)

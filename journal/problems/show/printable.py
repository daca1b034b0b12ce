"""Text as a terminal may be given it."""

from __future__ import annotations

import unicodedata


def printable(text: str) -> str:
    """Tabs as one space; control, bidirectional and other invisible characters as a visible stand-in, one for one."""
    if text.isascii() and text.isprintable():
        return text
    return "".join(" " if c == "\t" else "\N{REPLACEMENT CHARACTER}" if _is_invisible(c) else c for c in text)


def _is_invisible(character: str) -> bool:
    return unicodedata.category(character) in {"Cc", "Cf", "Cs", "Co", "Zl", "Zp"}

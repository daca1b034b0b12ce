"""Text as a terminal may be given it."""

from __future__ import annotations

import unicodedata

_BASIC = 0xFFFF


def printable(text: str) -> str:
    """Tabs as one space; control, bidirectional and other invisible characters as a visible stand-in, one for one."""
    if text.isascii() and text.isprintable():
        return text
    return "".join(" " if c == "\t" else "\N{REPLACEMENT CHARACTER}" if _is_invisible(c) else c for c in text)


def escape_invisible(text: str) -> str:
    """JSON text whose invisible characters are escaped as JSON has them: the same values, and nothing that steers a terminal."""
    if text.isascii():
        return text
    return "".join(
        f"\\u{ord(c):04x}" if c != "\n" and ord(c) <= _BASIC and _is_invisible(c) else _pair(c) for c in text
    )


def _pair(character: str) -> str:
    """A character as it is; an invisible one beyond the basic plane as JSON's two halves of it."""
    code = ord(character) - _BASIC - 1
    if code < 0 or not _is_invisible(character):
        return character
    return f"\\u{0xD800 + (code >> 10):04x}\\u{0xDC00 + (code & 0x3FF):04x}"


def _is_invisible(character: str) -> bool:
    return unicodedata.category(character) in {"Cc", "Cf", "Cs", "Co", "Zl", "Zp"}

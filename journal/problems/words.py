"""Words put together, as every sentence of ours has them."""

from __future__ import annotations

from collections.abc import Sequence


def in_words(several: Sequence[str], last: str = "and") -> str:
    """`a, b and c`; empty for none."""
    return f"{', '.join(several[:-1])} {last} {several[-1]}" if len(several) > 1 else "".join(several)


def capital(text: str) -> str:
    """Text with a capital first, unless it begins with pH or with words in backticks."""
    return text if text.startswith(("pH", "`")) else text[:1].upper() + text[1:]

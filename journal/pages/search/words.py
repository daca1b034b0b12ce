"""Text as words to search by; `themes/bones/search.js` takes a reader's words apart in the same way."""

from __future__ import annotations

import re
import unicodedata

#: Letters that Unicode does not take apart into a plain one and a mark.
_PLAIN = str.maketrans({"ß": "ss", "æ": "ae", "œ": "oe", "ø": "o", "đ": "d", "ł": "l"})
_APOSTROPHES = re.compile("['\N{RIGHT SINGLE QUOTATION MARK}\N{MODIFIER LETTER APOSTROPHE}]")
#: Letters and digits; a decimal point holds a number together.
_WORD = re.compile(r"[^\W_]+(?:(?<=\d)[.,]\d+)*")


def fold(text: str) -> str:
    """Text in lower case, without marks on its letters or apostrophes."""
    apart = unicodedata.normalize("NFKD", text).lower()
    unmarked = apart if apart.isascii() else "".join(c for c in apart if not unicodedata.category(c).startswith("M"))
    return _APOSTROPHES.sub("", unmarked.translate(_PLAIN))


def words_of(text: str) -> frozenset[str]:
    """The words of a text, folded, each once."""
    return frozenset(_WORD.findall(fold(text)))

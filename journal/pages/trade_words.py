"""A page in the words of the American trade: water for liquor, boil end for knockout. Only what the program says, never the brewer.

The brewer's words stand in elements of their own: the diary, quotations, what an entry says (`code`, `written`), titles, and the
links by them, which lead to a page and to no place in it.
"""

from __future__ import annotations

import re

from journal.measures.wording import US

_WORDS = {"liquor": "water", "liquors": "waters", "knockout": "boil end"}
_WORD = re.compile(rf"\b({'|'.join(_WORDS)})\b", re.IGNORECASE)
#: What stays as it is: tags, what no reader sees, and the brewer's own words.
_KEPT = re.compile(
    r"<(head|script|style|code|q|h1|figcaption|blockquote)\b.*?</\1>"
    r"|<section class=\"part (?:diary-part|tasting-part)\".*?</section>"
    r"|<(\w+) class=\"(?:[\w -]*\s)?(?:written|own|brewery|neighbours)(?:\s[\w -]*)?\".*?</\2>"
    r"|<a\b[^>]*href=\"[^\"#]*(?:batches|accounts|recipes|by|files)/[^\"#]*\"[^>]*>.*?</a>"
    r"|<[^>]*>",
    re.DOTALL,
)


def _american(found: re.Match[str]) -> str:
    word = _WORDS[found[0].lower()]
    return word.capitalize() if found[0][0].isupper() else word


def trade_word(word: str, system: str) -> str:
    """A word as a brewer with these units says it."""
    return _WORDS.get(word, word) if system == US else word


def in_trade_words(page: str, system: str) -> str:
    """A page of HTML as a brewer with these units says it; the same page where the units are not American."""
    if system != US:
        return page
    said, end = [], 0
    for kept in _KEPT.finditer(page):
        said += [_WORD.sub(_american, page[end : kept.start()]), kept[0]]
        end = kept.end()
    return "".join([*said, _WORD.sub(_american, page[end:])])

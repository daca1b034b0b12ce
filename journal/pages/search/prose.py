"""The prose of an entry as a reader would say it: no marks of Markdown, one line."""

from __future__ import annotations

import re
from collections.abc import Iterator
from html import unescape
from typing import TYPE_CHECKING

from journal.reading.prose import markdown

if TYPE_CHECKING:
    from markdown_it.token import Token

#: Tags within a line, which part no words, and all others.
_INLINE = re.compile(r"</?(?:a|code|em|strong)\b[^>]*>")
_TAG = re.compile(r"<[^>]*>")
_SIGNS = frozenset("*_`[]<>#|\\&~+=!")


def _pieces(tokens: list[Token]) -> Iterator[str]:
    for token in tokens:
        if token.type in {"softbreak", "hardbreak"}:
            yield " "
        elif token.type in {"text", "code_inline", "code_block", "fence", "image"}:
            yield token.content
        elif token.children:
            yield from _pieces(token.children)
        elif token.block:
            yield " "


def plain_html(html: str) -> str:
    """The words of our own HTML, on one line."""
    return " ".join(unescape(_TAG.sub(" ", _INLINE.sub("", html))).split())


def plain_text(prose: str) -> str:
    """The words of the prose; a picture counts as its description, a link as its words."""
    # parsing takes a millisecond, and most prose has nothing that wants it
    plain = prose if _SIGNS.isdisjoint(prose) else "".join(_pieces(markdown().parse(prose)))
    return " ".join(plain.split())

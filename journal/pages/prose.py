"""The prose of an entry as HTML: links lead into the site, pictures lie in it, and nothing is asked of another host."""

from __future__ import annotations

import posixpath
from typing import Any
from urllib.parse import unquote, urlsplit

from markdown_it.token import Token

from journal.pages.index import Index
from journal.pages.paths import file_path, href
from journal.pages.pictures import picture_size
from journal.reading import Batch
from journal.reading.files import ENTRIES, leads_outside
from journal.reading.prose import PICTURES, markdown

#: The page's own headings take the first two levels.
_HEADINGS_BELOW = 2
_SCHEMES = frozenset({"http", "https", "mailto"})


def _target(index: Index, batch: Batch, written: str) -> str | None:
    """The file under entries/ that a link or picture means, None where it means none that is there."""
    path = unquote(urlsplit(written).path)
    inside = posixpath.normpath(posixpath.join(posixpath.dirname(batch.file), path))
    root = index.record.journal.root
    if not path or path.startswith("/") or inside.split("/")[0] != ENTRIES:
        return None
    return inside if (root / inside).is_file() and not leads_outside(root, root / inside) else None


def _lead(index: Index, batch: Batch, written: str) -> str | None:
    """Where a link leads from a batch's page; None for one that must stay dead."""
    parts = urlsplit(written)
    if parts.scheme or parts.netloc:
        return written if parts.scheme.lower() in _SCHEMES or not parts.scheme else None
    if not parts.path:
        return written
    inside = _target(index, batch, written)
    if inside is None:
        return None
    if inside in index.paths:
        return f"../{href(index.paths[inside])}"
    return f"../{href(file_path(inside))}" + (f"#{parts.fragment}" if parts.fragment else "")


def _is_elsewhere(written: str) -> bool:
    parts = urlsplit(written)
    return bool(parts.scheme or parts.netloc)


def _picture(index: Index, batch: Batch, token: Token, in_link: bool) -> list[Token]:
    """A picture of the site's own as a picture, one from elsewhere as a link, one that is not there as its words."""
    written = str(token.attrGet("src") or "")
    inside = None if _is_elsewhere(written) else _target(index, batch, written)
    if inside is not None and posixpath.splitext(inside)[1].lower() in PICTURES:
        attributes: dict[str, str | int | float] = {
            "src": f"../{href(file_path(inside))}",
            "alt": "",
            "loading": "lazy",
        }
        size = picture_size(index.record.journal.root / inside)
        if size is not None:
            attributes |= {"width": size[0], "height": size[1]}
        token.attrs = attributes
        return [token]
    lead = _lead(index, batch, written)
    words = Token("text", "", 0, content=token.content or written)
    if lead is None or in_link:
        return [words]
    return [Token("link_open", "a", 1, attrs={"href": lead}), words, Token("link_close", "a", -1)]


def _inline(index: Index, batch: Batch, tokens: list[Token]) -> list[Token]:
    made: list[Token] = []
    alive: list[bool] = []
    for token in tokens:
        if token.type == "image":
            made.extend(_picture(index, batch, token, any(alive)))
        elif token.type == "link_open":
            lead = _lead(index, batch, str(token.attrGet("href") or ""))
            alive.append(lead is not None)
            if lead is not None:
                token.attrSet("href", lead)
                made.append(token)
        elif token.type == "link_close":
            if alive.pop():
                made.append(token)
        else:
            made.append(token)
    return made


def _block(token: Token) -> None:
    """Headings below the page's own; alignment as a class, since a strict page allows no style of its own."""
    if token.type in {"heading_open", "heading_close"}:
        token.tag = f"h{min(int(token.tag[1]) + _HEADINGS_BELOW, 6)}"
    style = token.attrs.pop("style", None)
    if style:
        token.attrSet("class", str(style).removeprefix("text-align:"))


def prose_html(index: Index, batch: Batch) -> str:
    """The prose, escaped, with links and pictures as they stand on the batch's page; empty for an entry without any."""
    parser = markdown()
    environment: dict[str, Any] = {}
    tokens = parser.parse(batch.prose, environment)
    for token in tokens:
        _block(token)
        if token.children:
            token.children = _inline(index, batch, token.children)
    return str(parser.renderer.render(tokens, parser.options, environment)).strip()

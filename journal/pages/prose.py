"""The prose of an entry as HTML: links lead into the site, pictures lie in it, and nothing is asked of another host."""

from __future__ import annotations

import posixpath
from typing import Any, NamedTuple
from urllib.parse import quote, unquote, urlsplit

from markdown_it.token import Token

from journal.pages.index import Index
from journal.pages.paths import file_path, href
from journal.pages.pictures import SizedPicture, sized_picture
from journal.reading import Batch
from journal.reading.files import ENTRIES, is_file, leads_outside
from journal.reading.passive import is_passive
from journal.reading.prose import PICTURES, markdown

#: How wide a page shows a picture, for a browser that chooses among copies.
SIZES = "(max-width: 40rem) 100vw, 34rem"
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
    return inside if is_file(root / inside) and not leads_outside(root, root / inside) else None


def _lead(index: Index, batch: Batch, written: str, up: str) -> str | None:
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
        return up + href(index.paths[inside])
    runs = not is_passive(index.record.journal.root / inside)
    return up + href(file_path(inside, runs=runs)) + (f"#{parts.fragment}" if parts.fragment else "")


def _is_elsewhere(written: str) -> bool:
    parts = urlsplit(written)
    return bool(parts.scheme or parts.netloc)


def picture_of(index: Index, inside: str, words: str) -> SizedPicture:
    """A file under entries/ as a picture of the site."""
    return sized_picture(index.record.journal.root / inside, file_path(inside), words)


def _shown(picture: SizedPicture, up: str) -> dict[str, str | int | float]:
    attributes: dict[str, str | int | float] = {"src": up + href(picture.path), "alt": "", "loading": "lazy"}
    if picture.width:
        attributes |= {"width": picture.width, "height": picture.height}
    if picture.copies:
        attributes |= {"srcset": picture.srcset(up), "sizes": SIZES}
    return attributes


def _own_picture(index: Index, batch: Batch, token: Token) -> str | None:
    """The file under entries/ that a picture of the prose shows; None for one from elsewhere, or that is not there."""
    written = str(token.attrGet("src") or "")
    inside = None if _is_elsewhere(written) else _target(index, batch, written)
    if not inside or posixpath.splitext(inside)[1].lower() not in PICTURES:
        return None
    return inside if is_passive(index.record.journal.root / inside) else None


def _picture(index: Index, batch: Batch, token: Token, up: str, *, in_link: bool) -> list[Token]:
    """A picture of the site's own as a picture, one from elsewhere as a link, one that is not there as its words."""
    inside = _own_picture(index, batch, token)
    if inside is not None:
        token.attrs = _shown(picture_of(index, inside, token.content), up)
        return [token]
    written = str(token.attrGet("src") or "")
    lead = _lead(index, batch, written, up)
    words = Token("text", "", 0, content=token.content or written)
    if lead is None or in_link:
        return [words]
    return [Token("link_open", "a", 1, attrs={"href": lead}), words, Token("link_close", "a", -1)]


def _inline(index: Index, batch: Batch, tokens: list[Token], up: str) -> list[Token]:
    made: list[Token] = []
    alive: list[bool] = []
    for token in tokens:
        if token.type == "image":
            made.extend(_picture(index, batch, token, up, in_link=any(alive)))
        elif token.type == "link_open":
            lead = _lead(index, batch, str(token.attrGet("href") or ""), up)
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


def leading_picture(index: Index, batch: Batch) -> SizedPicture | None:
    """The picture that leads a batch's page: the one its entry names, else the first of its prose."""
    if "![" not in batch.prose and not batch.picture:
        return None  # most have none, and parsing takes a millisecond
    return _named(index, batch) or _first(index, batch, markdown().parse(batch.prose))


class Diary(NamedTuple):
    """The prose of an entry: as HTML, and the picture that leads the page; None where there is none."""

    html: str
    picture: SizedPicture | None


def diary(index: Index, batch: Batch, up: str = "../") -> Diary:
    """The prose, escaped, with links and pictures as they stand on a page from which `up` leads to the site's root.

    The picture that the entry names leads its page, else the first of the prose, which then is left out there.
    """
    parser = markdown()
    environment: dict[str, Any] = {}
    tokens = parser.parse(batch.prose, environment)
    picture = _named(index, batch) or _first(index, batch, tokens)
    for token in tokens:
        _block(token)
        if token.children:
            token.children = _inline(index, batch, token.children, up)
    return Diary(str(parser.renderer.render(tokens, parser.options, environment)).strip(), picture)


def _named(index: Index, batch: Batch) -> SizedPicture | None:
    """The picture that the entry's front matter names."""
    written = batch.picture
    inside = _target(index, batch, quote(written)) if written else None
    if inside and not is_passive(index.record.journal.root / inside):
        return None
    return picture_of(index, inside, batch.title or "") if inside else None


def _first(index: Index, batch: Batch, tokens: list[Token]) -> SizedPicture | None:
    """The first picture of the prose, taken out of it; one inside a link stays, for it leads somewhere."""
    for place, token in enumerate(tokens):
        for child in token.children or ():
            if child.type == "image" and (inside := _own_picture(index, batch, child)):
                found = picture_of(index, inside, child.content)
                if any(each.type == "link_open" for each in token.children or ()):
                    return None
                token.children = [each for each in token.children or () if each is not child]
                if not any(each.content.strip() or each.type == "image" for each in token.children):
                    # a paragraph of nothing else goes with it
                    del tokens[place - 1 : place + 2]
                return found
    return None

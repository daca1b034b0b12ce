"""What others are told where the journal's address is known: a feed of the latest batches, and a map of the site."""

from __future__ import annotations

from datetime import date
from xml.etree import ElementTree as ET

from markupsafe import escape

from journal.pages.beer import beer_of
from journal.pages.contents import in_order
from journal.pages.index import Index
from journal.pages.lead import lead
from journal.pages.parts.beer import beer_facts, beer_words
from journal.pages.paths import FEED, SEARCH_PAGE, href
from journal.pages.prose import diary
from journal.pages.record import Record
from journal.pages.view import BatchView, view_of
from journal.reading import Batch

SITEMAP = "sitemap.xml"
#: Batches in the feed, at most.
NEWEST = 20
_ATOM = "http://www.w3.org/2005/Atom"
_SITEMAP = "http://www.sitemaps.org/schemas/sitemap/0.9"
#: What a feed without entries says of its age: it must say something.
_NOTHING_YET = date(1970, 1, 1)


def full_address(index: Index, path: str) -> str:
    """A page's address in full; the home page's is the journal's own."""
    return index.address + ("" if path == "index.html" else href(path))


def _noon(day: date) -> str:
    """A brewing day as a moment: entries seldom say the hour, and equal journals must give equal bytes."""
    return f"{day.isoformat()}T12:00:00Z"


def _child(parent: ET.Element, name: str, text: str = "", **attributes: str) -> ET.Element:
    made = ET.SubElement(parent, name, attributes)
    made.text = text or None
    return made


def _xml(root: ET.Element) -> bytes:
    ET.indent(root, "")
    text = ET.tostring(root, "unicode")
    # XML 1.0, 2.2: most control characters may not stand in a document, not even as references
    text = "".join(c for c in text if c >= " " or c in "\t\n\r")
    return f'<?xml version="1.0" encoding="utf-8"?>\n{text}\n'.encode()


def _content(view: BatchView) -> str:
    """What a reader of the feed reads: the beer, its picture, the answer, the diary. Every link leads to the journal's address."""
    index, batch = view.index, view.batch
    told, beer = diary(index, batch, index.address), beer_of(index.record, batch)
    parts = [f"<p>{escape(beer_words(beer_facts(view, beer)))}</p>"]
    if beer.tasting:
        said = f" “{beer.tasting.words}”" if beer.tasting.words else ""
        parts.append(f"<p>{escape(beer.score_text + said)}</p>")
    if told.picture:
        source = escape(index.address + href(told.picture.path))
        parts.append(f'<p><img src="{source}" alt="{escape(told.picture.words)}"></p>')
    parts += [f"<p>{escape(' '.join(lead(view)).removesuffix(':'))}</p>", told.html]
    return "\n".join(parts)


def _entry(feed: ET.Element, index: Index, batch: Batch) -> None:
    entry = _child(feed, "entry")
    address = full_address(index, index.paths[batch.file])
    _child(entry, "id", address)
    _child(entry, "title", f"{batch.id} {batch.title or ''}".strip())
    _child(entry, "link", rel="alternate", type="text/html", href=address)
    _child(entry, "published", _noon(batch.day))
    _child(entry, "updated", _noon(batch.day))
    for term in dict.fromkeys(word for word in (batch.style, *batch.tags) if word):
        _child(entry, "category", term=term)
    view = view_of(index, batch)
    _child(entry, "summary", " ".join(lead(view)).removesuffix(":"))
    _child(entry, "content", _content(view), type="html")


def feed_xml(index: Index) -> bytes:
    """The newest batches as an Atom feed (RFC 4287); a batch's id is its page's address."""
    newest = list(reversed(index.brewed[-NEWEST:]))
    feed = ET.Element("feed", {"xmlns": _ATOM, "xml:lang": "en"})
    _child(feed, "id", index.address)
    _child(feed, "title", index.brewery)
    _child(feed, "link", rel="self", type="application/atom+xml", href=full_address(index, FEED))
    _child(feed, "link", rel="alternate", type="text/html", href=index.address)
    _child(feed, "updated", _noon(newest[0].day if newest else _NOTHING_YET))
    _child(_child(feed, "author"), "name", index.brewery)
    for batch in newest:
        _entry(feed, index, batch)
    return _xml(feed)


def sitemap_xml(index: Index) -> bytes:
    """Every page worth finding, by sitemaps.org's protocol 0.9: all but the search and entries that can't be read."""
    out = {SEARCH_PAGE, *(index.paths[entry.file] for entry in index.record.broken)}
    root = ET.Element("urlset", {"xmlns": _SITEMAP})
    unkeyed = dict.fromkeys((batch.id for batch in index.batches), "")
    for page in in_order(index, unkeyed):
        if page.path not in out:
            _child(_child(root, "url"), "loc", full_address(index, page.path))
    return _xml(root)


def share_files(record: Record) -> dict[str, bytes]:
    """The feed and the map by path; nothing where no address is stated."""
    index = Index(record)
    return {FEED: feed_xml(index), SITEMAP: sitemap_xml(index)} if index.address else {}

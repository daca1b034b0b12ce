"""What a reader sees: frozen page models made from the record, and their rendering to HTML.

In: a `Record`, everything known of a journal. Out: `Page`s (path, template, model), HTML by `Renderer`, the files a theme
brings and the files entries link to. Models hold finished words and numbers; templates only lay them out. Writes nothing.

A batch has a page for reading (`site/batch.py`), its accounts with the workings (`site/accounts.py`), its recipe and its card, all of
one key. What went in (`recipe.py`) and what came out (`beer.py`) are one object each for pages, feed, cards and data files; a recipe's rows
(`recipe_rows.py`) are the same on its page, in the text that is copied and in the terminal. Templates are
fed by plain functions (`pieces.py`), escape by `escaped.py`, and are set in American words, where a journal has American units, after
they are rendered (`trade_words.py`).

A brewer's own theme: `choose_theme.py` says which it is; `own_theme.py` reads the whole folder into memory, so that one build sees one
state of it, and its digest is in the key of every page that is kept; `own_templates.py` finds what shows without a page, `limits.py` ends
what takes too long; what breaks while a page is set is told once for all pages it broke (`template_faults.py`), and leaves the output
folder as it was.
"""

from typing import TYPE_CHECKING

from journal.lazy import load_when_asked

if TYPE_CHECKING:
    from journal.pages.attachments import attachments_of
    from journal.pages.contents import pages_of
    from journal.pages.page import Page
    from journal.pages.record import Record
    from journal.pages.render import Renderer
    from journal.pages.search import search_files
    from journal.pages.share import share_files
    from journal.pages.themes import Theme, assets, theme_digest

__all__ = [
    "Page",
    "Record",
    "Renderer",
    "Theme",
    "assets",
    "attachments_of",
    "pages_of",
    "search_files",
    "share_files",
    "theme_digest",
]

_HOMES = {
    "Page": "page",
    "Record": "record",
    "Renderer": "render",
    "Theme": "themes",
    "assets": "themes",
    "attachments_of": "attachments",
    "pages_of": "contents",
    "search_files": "search",
    "share_files": "share",
    "theme_digest": "themes",
}

__getattr__ = load_when_asked(__name__, _HOMES)

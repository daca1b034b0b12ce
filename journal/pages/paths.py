"""Addresses: which path a batch's page has, which anchor a reading has, where an entry's file goes."""

from __future__ import annotations

import posixpath
import re
from functools import lru_cache
from hashlib import sha256
from urllib.parse import quote, urlencode

from journal.reading import Entry, Journal
from journal.reading.files import ENTRIES

FIGURES_PAGE = "figures.html"
FIELDS_PAGE = "fields.html"
HOW_RIGHT_PAGE = "how-right.html"
HOW_TO_PAGE = "how-to.html"
MALTS_PAGE = "malts.html"
CAUTIONS_PAGE = "cautions.html"
PAYS_PAGE = "what-pays.html"
PRACTICE_PAGE = "practice.html"
BREWHOUSE_PAGE = "brewhouse.html"
COMPARE_PAGE = "compare.html"
MALT_NEEDED_PAGE = "malt-needed.html"
SEARCH_PAGE = "search.html"
NUMBERS_PAGE = "numbers.html"
BATCHES_PAGE = "batches.html"
GALLERY_PAGE = "gallery.html"
TRENDS_PAGE = "trends.html"
FEED = "feed.xml"
#: In the order of a brewer's first month; each is the name of its file and of its page.
HOW_TO_PAGES = (
    "write-an-entry",
    "check-and-explain",
    "plan-and-brew",
    "build-and-publish",
    "read-the-journal",
    "tables",
    "change-the-look",
)
#: Texts that their address tells from all others: paths of fields, keys of a practice, keys and names of malts.
_PLAIN_PATH = re.compile(r"[A-Za-z0-9_.\[\]]+")
_PRACTICE = "practice."
_PLAIN_PRACTICE = re.compile(r"practice\.[a-z0-9_]+")
_PLAIN_KEY = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
#: Hexadecimal digits of that sign.
_SIGN = 6


@lru_cache(maxsize=4096)
def slug(text: str) -> str:
    """Text as part of an address: letters, digits and hyphens; `x` where nothing of it is left."""
    return re.sub(r"[^A-Za-z0-9]+", "-", text).strip("-") or "x"


def _apart(address: str, text: str, plain: re.Pattern[str]) -> str:
    """An address, with a sign of the text it stands for where another text could have the same: addresses carry few signs."""
    return (
        address if plain.fullmatch(text) else f"{address}-{sha256(text.encode('utf-8', 'replace')).hexdigest()[:_SIGN]}"
    )


def batch_path(batch_id: str) -> str:
    """The page of a published batch."""
    return f"batches/{batch_id}.html"


def accounts_path(batch_id: str) -> str:
    """The page of a published batch's accounts: every figure, every working, all that was recorded."""
    return f"accounts/{batch_id}.html"


def recipe_path(batch_id: str) -> str:
    """The page of a published batch's recipe, for one sheet of paper."""
    return f"recipes/{batch_id}.html"


def year_path(year: int) -> str:
    """The page of a year's brews."""
    return f"years/{year}.html"


def how_to_path(name: str) -> str:
    """A page of help."""
    return f"how-to/{name}.html"


def card_path(batch_id: str, ending: str) -> str:
    """The card of a batch to show others, as a drawing (svg) or a picture (png)."""
    return f"cards/{batch_id}.{ending}"


@lru_cache(maxsize=4096)
def reading_anchor(path: str) -> str:
    """The anchor of a reading on its batch's page of accounts: `mash.first_wort` has r-mash-first-wort."""
    plain = _PLAIN_PRACTICE if path.startswith(_PRACTICE) else _PLAIN_PATH
    return "r-" + _apart(slug(path), path, plain)


def malt_anchor(key: str) -> str:
    """The anchor of a malt on the malts page."""
    return "malt-" + _apart(slug(key).lower(), key, _PLAIN_KEY)


def by_path(kind: str) -> str:
    """The index of all batches by tag, style, year or brewhouse."""
    return f"by/{kind}.html"


def by_anchor(kind: str, key: str) -> str:
    """The anchor of one heading in its index."""
    return f"{kind}-{key}"


def by_link(kind: str, key: str) -> str:
    """Where one heading of an index is, as it stands in a link."""
    return f"{by_path(kind)}#{quote(by_anchor(kind, key), safe='')}"


def filter_path(kind: str, key: str) -> str:
    """The table of batches with only those of one label, as it stands in a link."""
    return f"{BATCHES_PAGE}?{urlencode({kind: key})}"


def file_path(source: str, *, runs: bool = False) -> str:
    """Where a file under entries/ goes in the site; one that a browser would run goes there as a text."""
    return f"files/{posixpath.relpath(source, ENTRIES)}" + (".txt" if runs else "")


def href(path: str) -> str:
    """A path as it stands in a link."""
    return quote(path, safe="/#")


def page_paths(journal: Journal) -> dict[str, str]:
    """The page of every entry by its file: batches by their id, broken entries by theirs where it is still free."""
    paths = {batch.file: batch_path(batch.id) for batch in journal.batches}
    taken = {path.lower() for path in paths.values()}
    for entry in journal.entries:
        if entry.file not in paths:
            paths[entry.file] = _free(entry, taken)
            taken.add(paths[entry.file].lower())
    return paths


def _free(entry: Entry, taken: set[str]) -> str:
    named = entry.batch.id if entry.batch else ""
    of_file = slug(entry.file.removeprefix(f"{ENTRIES}/").removesuffix(".md"))
    names = [*([named] if named else []), of_file, *(f"{of_file}-{n}" for n in range(2, len(taken) + 3))]
    return next(path for name in names if (path := batch_path(name)).lower() not in taken)

"""The page to search on."""

from __future__ import annotations


from journal.frozen import dataclass
from journal.pages.index import Index
from journal.pages.labels import index_links
from journal.pages.model import Link, Model


@dataclass(frozen=True, kw_only=True)
class SearchModel(Model):
    """The page to search on, and the indexes for those who can't."""

    indexes: tuple[Link, ...]


def search_model(index: Index) -> SearchModel:
    """The page to search on."""
    frame = index.frame("Search", "search", "Batches by any word: title, style, tags, what went in, what was done, the diary.")
    return SearchModel(frame=frame, indexes=index_links())

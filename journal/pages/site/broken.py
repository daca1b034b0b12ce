"""The page of an entry that an error keeps from being published."""

from __future__ import annotations

from dataclasses import dataclass

from journal.pages.index import Index
from journal.pages.model import Model
from journal.pages.parts.notices import Notice, notices
from journal.reading import Entry


@dataclass(frozen=True, kw_only=True)
class BrokenModel(Model):
    """The page of an entry that an error keeps from being published."""

    file: str
    notices: tuple[Notice, ...]


def broken_model(index: Index, entry: Entry) -> BrokenModel:
    """The page of an entry that an error keeps from being published."""
    name = entry.file.rsplit("/", 1)[-1]
    title = (entry.batch.title if entry.batch else None) or name
    summary = "This entry can’t be read yet."
    return BrokenModel(
        frame=index.frame(title, "batches", summary), file=entry.file, notices=notices(index.problems_of(entry.file))
    )

"""The page of an entry that an error keeps from being published, and of one that a fault of the program keeps from being made."""

from __future__ import annotations


from journal.frozen import dataclass
from journal.pages.index import Index
from journal.pages.model import Model
from journal.pages.parts.notices import Notice, notices
from journal.problems import INTERNAL, Problem
from journal.reading import Entry


@dataclass(frozen=True, kw_only=True)
class BrokenModel(Model):
    """The page of an entry that an error keeps from being published."""

    file: str
    notices: tuple[Notice, ...]
    #: Whether the fault is the program's.
    ours: bool = False


def broken_model(index: Index, entry: Entry) -> BrokenModel:
    """The page of an entry that an error keeps from being published."""
    name = entry.file.rsplit("/", 1)[-1]
    title = (entry.batch.title if entry.batch else None) or name
    summary = "This entry can’t be read yet."
    problems = index.problems_of(entry.file)
    return BrokenModel(
        frame=index.frame(title, "batches", summary),
        file=entry.file,
        notices=notices(problems),
        ours=any(problem.code == INTERNAL for problem in problems),
    )


def unmade_model(index: Index, page: str, fault: Problem) -> BrokenModel:
    """What stands in the place of a page that a fault of the program keeps from being made."""
    frame = index.frame(page, "batches", "This page can’t be made.")
    return BrokenModel(frame=frame, file=fault.file_name, notices=notices([fault]), ours=True)

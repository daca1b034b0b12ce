"""What needs attention: every warning and error of the journal, as sentences."""

from __future__ import annotations

from journal.frozen import dataclass
from journal.pages.index import Index
from journal.pages.model import Link
from journal.pages.parts.notices import notices
from journal.problems import Severity
from journal.reading import Entry


@dataclass(frozen=True)
class Attention:
    """Something odd in one batch, as a sentence; `batch` leads to its page."""

    batch: Link
    sentence: str
    severity: str


def entry_name(entry: Entry) -> str:
    """What an entry is called that can't be published: its number and title as far as they can be read, else its file."""
    batch = entry.batch
    named = " ".join(part for part in ((batch.batch, batch.title) if batch else ()) if part)
    return named or entry.file


def attention(index: Index) -> tuple[Attention, ...]:
    """Every warning and error, the latest batch's first; faults of the settings last."""
    made: list[Attention] = []
    names = {batch.file: index.link(batch) for batch in index.batches}
    names |= {entry.file: Link(entry_name(entry), index.paths[entry.file]) for entry in index.record.broken}
    files = [entry.file for entry in index.record.broken]
    files += [batch.file for batch in reversed(index.batches)]
    others = dict.fromkeys(problem.file_name for problem in index.record.problems)
    files += [file for file in others if file not in names]
    for file in files:
        for problem, notice in zip(index.problems_of(file), notices(index.problems_of(file)), strict=True):
            if problem.severity is not Severity.NOTE:
                made.append(Attention(names.get(file, Link(file)), notice.sentence, notice.severity))
    return tuple(made)

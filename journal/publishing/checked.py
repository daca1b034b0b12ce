"""What is wrong or odd in a journal, recalled whole where no file of it has changed: then nothing of it needs to be understood again."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from journal.frozen import dataclass
from journal.memory import Memory, digest_of
from journal.problems import INTERNAL, Problem
from journal.publishing.state import journal_state, program_state

if TYPE_CHECKING:
    from journal.pages.record import Record


@dataclass(frozen=True)
class CheckedJournal:
    """What is said of a journal: every problem in order, those of its theme last; how many of its `batches` can be published, and how
    many of those are `planned`.

    `logs_of` are the entries by file, each with the files of its logs that have problems.
    """

    problems: tuple[Problem, ...]
    batches: int
    planned: int
    logs_of: Mapping[str, frozenset[str]]


class _NotToBeKept(Exception):  # noqa: N818  # it says what was found
    """A fault of the program is among the problems, or a file was changed meanwhile."""

    def __init__(self, checked: CheckedJournal) -> None:
        super().__init__()
        self.checked = checked


def checked_of(record: Record, of_theme: Iterable[Problem]) -> CheckedJournal:
    """What is said of a journal that has been understood."""
    logs = {
        entry.file: frozenset(problem.file_name for problem in entry.log_problems) for entry in record.journal.entries
    }
    planned = sum(batch.planned for batch in record.batches)
    return CheckedJournal((*record.problems, *of_theme), len(record.batches), planned, logs)


def check_journal(root: Path, memory: Memory, theme: str | None = None, *, state: str = "") -> CheckedJournal:
    """What is said of the journal at `root`, with a `theme` in the place of the one that it names; `state` where it was looked at."""
    state = state or journal_state(root)

    def make() -> CheckedJournal:
        checked = _check(root, memory, theme)
        if any(problem.code == INTERNAL for problem in checked.problems) or journal_state(root) != state:
            raise _NotToBeKept(checked)
        return checked

    try:
        return memory.recall(_key(state, theme), make)
    except _NotToBeKept as found:
        return found.checked


def remember_checked(checked: CheckedJournal, state: str, memory: Memory, theme: str | None) -> None:
    """Keep what is said of a journal in a state, as `journal_state` has it, for the next time."""
    memory.recall(_key(state, theme), lambda: checked)


def _key(state: str, theme: str | None) -> str:
    return digest_of("checked", program_state(), state, repr(theme))


def _check(root: Path, memory: Memory, theme: str | None) -> CheckedJournal:
    # what it takes to understand a journal is loaded for nothing where it need not be understood
    from journal.publishing.understanding import understand  # noqa: PLC0415

    record = understand(root, memory=memory, for_pages=False)
    if theme is None and record.journal.brewery.theme is None:
        return checked_of(record, ())
    # the looks take the template engine, and most journals name none
    from journal.pages.choose_theme import choose_theme  # noqa: PLC0415

    return checked_of(record, choose_theme(root, theme, record.journal.brewery)[1])

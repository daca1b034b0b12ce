"""The route of the data, from the files under entries/ to the site."""

from __future__ import annotations

import gc
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path

from journal.balance.odd import odd
from journal.build.kept import program_digest
from journal.build.output import Output
from journal.build.press import set_pages
from journal.figures import BatchFigures, figures_of
from journal.figures.impossible import impossible
from journal.history import balance_all, tell
from journal.history.brewhouse import disagreements
from journal.memory import FORGETFUL, Memory, digest_of
from journal.pages import (
    Record,
    Renderer,
    Theme,
    assets,
    attachments_of,
    choose_theme,
    pages_of,
    search_files,
    share_files,
    theme_digest,
)
from journal.pages.data import batches_csv, journal_json
from journal.pages.template_faults import Fault
from journal.pages.template_faults import told as faults_told
from journal.problems import Problem, Severity, in_order, worst
from journal.reading import Journal, read_journal

#: Called with what is being done, how many are done and how many there are.
Progress = Callable[[str, int, int], None]


@contextmanager
def _not_collecting() -> Iterator[None]:
    """Python looks for garbage in circles ever again, and a build makes hardly any: that took a fifth of its time."""
    was = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was:
            gc.enable()


def _silent(_what: str, _done: int, _total: int) -> None:
    """No progress shown."""


@dataclass(frozen=True)
class Outcome:
    """What a build came to: the record it made, every problem, and how many files were written; None if nothing was."""

    record: Record
    problems: tuple[Problem, ...]
    files: int | None
    changed: int = 0

    @property
    def published(self) -> bool:
        """Whether the site was written."""
        return self.files is not None


def figure_all(journal: Journal, progress: Progress = _silent, memory: Memory = FORGETFUL) -> dict[str, BatchFigures]:
    """The figures of every batch as recorded, by id."""
    figures: dict[str, BatchFigures] = {}
    batches = journal.batches
    for done, batch in enumerate(batches):
        progress("Working out figures", done, len(batches))
        figures[batch.id] = memory.recall(
            digest_of("figures", batch.digest), partial(figures_of, batch, journal.brewery, journal.malts)
        )
    return figures


@_not_collecting()
def understand(root: Path, progress: Progress = _silent, memory: Memory = FORGETFUL, *, tell_it: bool = True) -> Record:
    """Everything known of a journal: read, worked out, balanced, and what is wrong or odd, in order.

    Without `tell_it` the record as a whole is left untold: pages of batches don't need it.
    """
    journal, problems = read_journal(root, memory)
    figures = figure_all(journal, progress, memory)
    balances = balance_all(journal, figures, lambda done, total: progress("Balancing", done, total), memory)
    for batch in journal.batches:
        impossible_values = impossible(batch, journal.brewery, figures[batch.id])
        problems.extend(odd(batch, journal.brewery, balances[batch.id], impossible_values))
    record = Record(journal, figures, tuple(in_order(problems)), balances)
    return told(record, progress, memory) if tell_it else record


def told(record: Record, progress: Progress = _silent, memory: Memory = FORGETFUL) -> Record:
    """A record with what it says as a whole."""
    progress("Reading the record", 0, 1)
    history = tell(record.journal, record.figures, record.balances, memory)
    noted = disagreements([story.record for story in history.brewhouses], record.journal.brewery)
    return replace(record, history=history, problems=tuple(in_order([*record.problems, *noted])))


def build(
    root: Path,
    out: Path,
    *,
    keep_going: bool = False,
    theme: str | None = None,
    progress: Progress = _silent,
    memory: Memory = FORGETFUL,
) -> Outcome:
    """Read the journal at `root` and write its site to `out`.

    With an error in the journal nothing is written, unless `keep_going`: then each broken entry gets a page that shows
    its problems. A log that can't be read keeps nothing back: its batch is published without it. The entries are only read.
    """
    record = understand(root, progress, memory)
    look, of_theme = choose_theme(root, theme, record.journal.brewery)
    problems = (*record.problems, *of_theme)
    missing = any(problem.code == "journal-missing" for problem in record.problems)
    if look is None or missing or (worst(_of_the_entries(record)) is Severity.ERROR and not keep_going):
        return Outcome(record, problems, None)
    output = Output(out)
    refusal = output.refusal()
    if refusal:
        return Outcome(record, (*problems, refusal), None)
    try:
        broken = put_site(record, look, output, progress, memory)
    except OSError as error:
        output.abandon()
        return Outcome(record, (*problems, output.unwritable(error)), None)
    if broken:
        return Outcome(record, (*problems, *broken), None)
    return Outcome(record, problems, len(output.now), len(output.changed_files))


def _of_the_entries(record: Record) -> list[Problem]:
    """The problems without those of loggers' files."""
    of_logs = {id(problem) for entry in record.journal.entries for problem in entry.log_problems}
    return [problem for problem in record.problems if id(problem) not in of_logs]


@_not_collecting()
def put_site(
    record: Record,
    theme: Theme,
    output: Output,
    progress: Progress = _silent,
    memory: Memory = FORGETFUL,
    *,
    held: frozenset[str] = frozenset(),
    whole: bool = True,
) -> list[Problem]:
    """Every file of the site into the output folder; pages that hang on nothing new stay as they are.

    Where a brewer's template can't be set, the whole folder stays as it was; returned is what is wrong in them.

    Pages in `held` stay whatever happened to them, if there are such. Not `whole`, only pages that hang on a batch are looked at,
    and everything else stays as the last build left it.
    """
    looks = digest_of(program_digest(), theme_digest(theme))
    anew: dict[str, str] = {}
    to_set = []
    for page in pages_of(record):
        key = digest_of(looks, page.key) if page.key else ""
        stays = page.path in held or not (whole or page.key)
        if (key and output.keep(page.path, key)) or (stays and output.hold(page.path)):
            continue
        anew[page.path] = key
        to_set.append(page)
    total = len(to_set)
    faults = []
    for page, content in set_pages(
        to_set, Renderer(theme, memory), lambda done: progress("Setting pages", done, total)
    ):
        if isinstance(content, Fault):
            faults.append(content)
        else:
            output.put(page.path, content, anew[page.path])
    if faults:
        output.abandon()
        return faults_told(faults)
    if whole:
        _put_rest(record, theme, output, memory)
    else:
        output.hold_rest()
    output.commit()
    return []


def _put_rest(record: Record, theme: Theme, output: Output, memory: Memory) -> None:
    """What stands beside the pages: the theme's files, what entries show or link to, the search, the numbers."""
    for name, content in assets(theme).items():
        output.put(name, content)
    for attachment in attachments_of(record):
        output.put(attachment.path, (record.journal.root / attachment.source).read_bytes())
    for name, content in (search_files(record, memory) | share_files(record)).items():
        output.put(name, content)
    output.put("data/journal.json", journal_json(record).encode())
    output.put("data/batches.csv", batches_csv(record).encode())

"""A site built anew: its journal understood, its pages set, as far as they are not those of the last build."""

from __future__ import annotations

from functools import partial
from pathlib import Path

from journal.pages.choose_theme import choose_theme
from journal.pages.paths import page_paths
from journal.pages.record import Record
from journal.problems import INTERNAL, Problem, Severity, worst
from journal.publishing.checked import checked_of, remember_checked
from journal.publishing.output import Output
from journal.publishing.route import Broken, BuildOutcome, Wanted
from journal.publishing.site import put_site
from journal.publishing.state import journal_state
from journal.publishing.understanding import understand


def build_anew(root: Path, output: Output, refusal: Problem | None, wanted: Wanted, state: str) -> BuildOutcome:
    """Understand the journal at `root` and put its site into an output folder, unless that is refused.

    `state` is the journal's when the build began, empty where the next build shall not go by it.
    """
    memory, theme = wanted.memory, wanted.theme
    record = understand(root, wanted.progress, memory)
    look, theme_problems = choose_theme(root, theme, record.journal.brewery)
    checked = checked_of(record, theme_problems)
    problems, outcome = checked.problems, partial(BuildOutcome, checked.batches, checked.planned)
    missing = any(problem.code == "journal-missing" for problem in problems)
    held_back = wanted.broken is Broken.REFUSED and worst(_of_the_entries(record)) is Severity.ERROR
    if look is None or missing or held_back:
        by_entries = worst(record.problems) is Severity.ERROR and bool(record.journal.entries)
        return outcome(problems, held_by_entries=by_entries)
    if refusal:
        return outcome((*problems, refusal))
    paths = page_paths(record.journal)
    held = frozenset(paths[entry.file] for entry in record.broken if wanted.broken is Broken.HELD)

    def put(*, whole: bool) -> BuildOutcome:
        try:
            # balances and figures are made as pages ask for them, and the history only where a page of it must change
            made = put_site(record, look, output, wanted.progress, memory, held=held, whole=whole)
            if made.obstacles:
                output.discard()
                return outcome((*problems, *made.obstacles, *made.faults))
            spoilt = made.faults or any(problem.code == INTERNAL for problem in problems)
            lasting = whole and bool(state) and not spoilt and journal_state(root) == state
            written = output.commit(wanted.site_of(state) if lasting else "")
        except OSError as error:
            output.discard()
            return outcome((*problems, output.unwritable(error)))
        if lasting:
            remember_checked(checked, state, memory, theme)
        return outcome((*problems, *made.faults), written.files, written.changed)

    if wanted.early and output.before:
        wanted.early(put(whole=False))
    return put(whole=True)


def _of_the_entries(record: Record) -> list[Problem]:
    """The problems without those of loggers' files and without faults of ours."""
    of_logs = {id(problem) for entry in record.journal.entries for problem in entry.log_problems}
    return [problem for problem in record.problems if id(problem) not in of_logs and problem.code != INTERNAL]

"""The route of the data, from the files under entries/ to the site."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from journal.build.output import Output
from journal.build.site import put_site
from journal.build.understanding import Progress, silent, understand
from journal.memory import FORGETFUL, Memory
from journal.pages.choose_theme import choose_theme
from journal.pages.record import Record
from journal.problems import Problem, Severity, worst


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


def build(
    root: Path,
    out: Path,
    *,
    keep_going: bool = False,
    theme: str | None = None,
    progress: Progress = silent,
    memory: Memory = FORGETFUL,
) -> Outcome:
    """Read the journal at `root` and write its site to `out`.

    With an error in the journal nothing is written, unless `keep_going`: then each broken entry gets a page that shows
    its problems. A log that can't be read keeps nothing back: its batch is published without it. The entries are only read.
    """
    with Output(out, root) as output:
        # first of all: of two builds at once, the one that writes is the one that has read last
        refusal = output.refusal()
        record = understand(root, progress, memory, tell_it=False)
        look, of_theme = choose_theme(root, theme, record.journal.brewery)
        missing = any(problem.code == "journal-missing" for problem in record.problems)
        if look is None or missing or (worst(_of_the_entries(record)) is Severity.ERROR and not keep_going):
            return Outcome(record, (*record.problems, *of_theme), None)
        if refusal:
            return Outcome(record, (*record.problems, *of_theme, refusal), None)
        try:
            record, broken = put_site(record, look, output, progress, memory)
            if not broken:
                output.commit()
        except OSError as error:
            return Outcome(record, (*record.problems, *of_theme, output.unwritable(error)), None)
    problems = (*record.problems, *of_theme, *broken)
    if broken:
        return Outcome(record, problems, None)
    return Outcome(record, problems, len(output.now), len(output.changed_files))


def _of_the_entries(record: Record) -> list[Problem]:
    """The problems without those of loggers' files."""
    of_logs = {id(problem) for entry in record.journal.entries for problem in entry.log_problems}
    return [problem for problem in record.problems if id(problem) not in of_logs]

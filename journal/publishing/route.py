"""The route of the data, from the files under entries/ to the site.

`understand` reads, works out the figures, reconciles the readings and finds what is odd; `choose_theme` says how pages look;
`put_site` makes the pages and the files beside them; `Output.commit` puts all of it in place at once.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from journal.memory import FORGETFUL, Memory
from journal.pages.choose_theme import choose_theme
from journal.pages.record import Record
from journal.problems import Problem, Severity, worst
from journal.publishing.output import Output
from journal.publishing.site import put_site
from journal.publishing.understanding import Progress, silent, understand


@dataclass(frozen=True)
class BuildOutcome:
    """What a build came to.

    `files` is how many files the site has, None if none was written; `changed` how many of them are new or differ.
    """

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
) -> BuildOutcome:
    """Read the journal at `root`, the folder that holds entries/, and write its site to the folder `out`.

    With an error in the journal nothing is written, unless `keep_going`: then each broken entry gets a page that shows
    its problems. A log that can't be read keeps nothing back: its batch is published without it. The entries are only
    read. `theme` goes before the one that brewery.yaml names. Neither what a brewer wrote nor a folder that can't be
    written raises anything: both come back as problems.
    """
    with Output(out, root) as output:
        # first of all: of two builds at once, the one that writes is the one that has read last
        refusal = output.refusal()
        record = understand(root, progress, memory)
        look, theme_problems = choose_theme(root, theme, record.journal.brewery)
        problems = (*record.problems, *theme_problems)
        missing = any(problem.code == "journal-missing" for problem in problems)
        if look is None or missing or (worst(_without_logs(record)) is Severity.ERROR and not keep_going):
            return BuildOutcome(record, problems, None)
        if refusal:
            return BuildOutcome(record, (*problems, refusal), None)
        try:
            # balances and figures are made as pages ask for them, and the history only where a page of it must change
            record, template_problems = put_site(record, look, output, progress, memory)
            if template_problems:
                return BuildOutcome(record, (*problems, *template_problems), None)
            output.commit()
        except OSError as error:
            return BuildOutcome(record, (*problems, output.unwritable(error)), None)
    return BuildOutcome(record, problems, len(output.now), len(output.changed_files))


def _without_logs(record: Record) -> list[Problem]:
    """The problems without those of loggers' files."""
    of_logs = {id(problem) for entry in record.journal.entries for problem in entry.log_problems}
    return [problem for problem in record.problems if id(problem) not in of_logs]

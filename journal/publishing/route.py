"""The route of the data, from the files under entries/ to the site.

`understand` reads, works out the figures, reconciles the readings and finds what is odd; `choose_theme` says how pages look;
`put_site` makes the pages and the files beside them; `Output.commit` puts all of it in place at once. `wortbook build` goes this way
once, `wortbook watch` at every change.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import Enum, auto
from pathlib import Path

from journal.memory import FORGETFUL, Memory
from journal.pages.choose_theme import choose_theme
from journal.pages.paths import page_paths
from journal.pages.record import Record
from journal.problems import INTERNAL, Problem, Severity, worst
from journal.publishing.output import BUSY, Output
from journal.publishing.site import put_site
from journal.publishing.understanding import Progress, show_no_progress, understand


class Broken(Enum):
    """What becomes of a journal in which entries have errors."""

    #: Nothing is written.
    REFUSED = auto()
    #: Each of them gets a page that shows its problems.
    SHOWN = auto()
    #: Each of them keeps the page of the last build, and gets such a page where it has none.
    HELD = auto()


@dataclass(frozen=True)
class BuildOutcome:
    """What a build came to: `files` is how many the site has, None if none was written; `changed` are those that are new or differ."""

    record: Record
    problems: tuple[Problem, ...]
    files: int | None = None
    changed: frozenset[str] = frozenset()

    @property
    def published(self) -> bool:
        """Whether the site was written."""
        return self.files is not None

    @property
    def busy(self) -> bool:
        """Whether nothing was written because another build is at it."""
        return any(problem.code == BUSY for problem in self.problems)


def build(
    root: Path,
    out: Path,
    *,
    broken: Broken = Broken.REFUSED,
    theme: str | None = None,
    progress: Progress = show_no_progress,
    memory: Memory = FORGETFUL,
    early: Callable[[BuildOutcome], None] | None = None,
) -> BuildOutcome:
    """Read the journal at `root`, the folder that holds entries/, and write its site to the folder `out`.

    A log that can't be read keeps nothing back: its batch is published without it; nor does a fault of the program, which
    costs what it touches. The entries are only read. `theme`
    goes before the one that brewery.yaml names. Neither what a brewer wrote nor a folder that can't be written raises
    anything: both come back as problems. With `early`, a site that is there already gets the pages that hang on single
    batches first, and `early` hears of them before the rest is made.
    """
    # a watched journal is built again in a moment, and nobody waits for its disk
    with Output(out, root, durable=early is None) as output:
        # first of all: of two builds at once, the one that writes is the one that has read last
        refusal = output.refusal()
        record = understand(root, progress, memory)
        look, theme_problems = choose_theme(root, theme, record.journal.brewery)
        problems = (*record.problems, *theme_problems)
        missing = any(problem.code == "journal-missing" for problem in problems)
        if look is None or missing or (broken is Broken.REFUSED and worst(_of_the_entries(record)) is Severity.ERROR):
            return BuildOutcome(record, problems)
        if refusal:
            return BuildOutcome(record, (*problems, refusal))
        paths = page_paths(record.journal)
        held = frozenset(paths[entry.file] for entry in record.broken if broken is Broken.HELD)

        def put(*, whole: bool) -> BuildOutcome:
            try:
                # balances and figures are made as pages ask for them, and the history only where a page of it must change
                made = put_site(record, look, output, progress, memory, held=held, whole=whole)
                if made.obstacles:
                    output.discard()
                    return BuildOutcome(made.record, (*problems, *made.obstacles, *made.faults))
                written = output.commit()
            except OSError as error:
                output.discard()
                return BuildOutcome(record, (*problems, output.unwritable(error)))
            return BuildOutcome(made.record, (*problems, *made.faults), written.files, written.changed)

        if early and output.before:
            early(put(whole=False))
        return put(whole=True)


def _of_the_entries(record: Record) -> list[Problem]:
    """The problems without those of loggers' files and without faults of ours."""
    of_logs = {id(problem) for entry in record.journal.entries for problem in entry.log_problems}
    return [problem for problem in record.problems if id(problem) not in of_logs and problem.code != INTERNAL]

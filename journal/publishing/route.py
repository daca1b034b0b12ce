"""The route of the data, from the files under entries/ to the site.

`understand` reads, works out the figures, reconciles the readings and finds what is odd; `choose_theme` says how pages look;
`put_site` makes the pages and the files beside them; `Output.commit` puts all of it in place at once. `wortbook build` goes this way
once, `wortbook watch` at every change. Where no file of the journal has changed since the site was made, none of it is loaded.
"""

from __future__ import annotations

from collections.abc import Callable
from enum import Enum, auto
from pathlib import Path

from journal.frozen import dataclass
from journal.memory import FORGETFUL, Memory, digest_of
from journal.problems import Problem
from journal.publishing.checked import check_journal
from journal.publishing.output import BUSY, Output
from journal.publishing.progress import Progress, show_no_progress
from journal.publishing.state import journal_state, program_state


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
    """What a build came to: `files` is how many the site has, None if none was written; `changed` are those that are new or differ.

    `batches` is how many can be published, and `planned` how many of those are not brewed; `held_by_entries` says that errors of single
    entries kept all of it back.
    """

    batches: int
    planned: int
    problems: tuple[Problem, ...]
    files: int | None = None
    changed: frozenset[str] = frozenset()
    held_by_entries: bool = False

    @property
    def published(self) -> bool:
        """Whether the site was written."""
        return self.files is not None

    @property
    def busy(self) -> bool:
        """Whether nothing was written because another build is at it."""
        return any(problem.code == BUSY for problem in self.problems)


@dataclass(frozen=True)
class Wanted:
    """How a site is to be built; `early` hears of the pages that hang on single batches before the rest is made."""

    broken: Broken = Broken.REFUSED
    theme: str | None = None
    progress: Progress = show_no_progress
    memory: Memory = FORGETFUL
    early: Callable[[BuildOutcome], None] | None = None

    def site_of(self, state: str) -> str:
        """The key of a site built so from a journal in a state, as `journal_state` has it."""
        return digest_of(program_state(), state, self.broken.name, repr(self.theme))


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
    wanted = Wanted(broken, theme, progress, memory, early)
    # a watched journal is built again in a moment, and nobody waits for its disk
    with Output(out, root, durable=early is None) as output:
        # first of all: of two builds at once, the one that writes is the one that has read last
        refusal = output.refusal()
        # who watches builds because something has changed
        state = journal_state(root) if early is None else ""
        if state and not refusal and output.is_made_for(wanted.site_of(state)):
            checked = check_journal(root, memory, theme, state=state)
            return BuildOutcome(checked.batches, checked.planned, checked.problems, len(output.before))
        # what understands a journal and sets pages is loaded for nothing where nothing has changed
        from journal.publishing.anew import build_anew  # noqa: PLC0415

        return build_anew(root, output, refusal, wanted, state)

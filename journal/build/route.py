"""The route of the data, from the files under entries/ to the site."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from journal.build.kept import program_digest
from journal.build.output import Output
from journal.build.press import set_pages
from journal.build.understanding import Progress, not_collecting, silent, understand
from journal.memory import FORGETFUL, Memory, digest_of
from journal.pages import Record, Renderer, assets, attachments_of, pages_of, search_files, share_files
from journal.pages.data import batches_csv, journal_json
from journal.pages.themes import theme_digest
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
    theme: str = "notebook",
    progress: Progress = silent,
    memory: Memory = FORGETFUL,
) -> Outcome:
    """Read the journal at `root` and write its site to `out`.

    With an error in the journal nothing is written, unless `keep_going`: then each broken entry gets a page that shows
    its problems. A log that can't be read keeps nothing back: its batch is published without it. The entries are only read.
    """
    record = understand(root, progress, memory)
    missing = any(problem.code == "journal-missing" for problem in record.problems)
    if missing or (worst(_of_the_entries(record)) is Severity.ERROR and not keep_going):
        return Outcome(record, record.problems, None)
    output = Output(out)
    refusal = output.refusal()
    if refusal:
        return Outcome(record, (*record.problems, refusal), None)
    try:
        put_site(record, theme, output, progress, memory)
        output.commit()
    except OSError as error:
        output.abandon()
        return Outcome(record, (*record.problems, output.unwritable(error)), None)
    return Outcome(record, record.problems, len(output.now), len(output.changed_files))


def _of_the_entries(record: Record) -> list[Problem]:
    """The problems without those of loggers' files."""
    of_logs = {id(problem) for entry in record.journal.entries for problem in entry.log_problems}
    return [problem for problem in record.problems if id(problem) not in of_logs]


@not_collecting()
def put_site(
    record: Record,
    theme: str,
    output: Output,
    progress: Progress = silent,
    memory: Memory = FORGETFUL,
    *,
    held: frozenset[str] = frozenset(),
    whole: bool = True,
) -> None:
    """Every file of the site into the output folder; pages that hang on nothing new stay as they are.

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
    for page, content in set_pages(
        to_set, Renderer(theme, memory), lambda done: progress("Setting pages", done, total)
    ):
        output.put(page.path, content, anew[page.path])
    if not whole:
        output.hold_rest()
        return
    for name, content in assets(theme).items():
        output.put(name, content)
    for attachment in attachments_of(record):
        output.put(attachment.path, (record.journal.root / attachment.source).read_bytes())
    for name, content in (search_files(record, memory) | share_files(record)).items():
        output.put(name, content)
    output.put("data/journal.json", journal_json(record).encode())
    output.put("data/batches.csv", batches_csv(record).encode())

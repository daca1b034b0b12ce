"""Journals and entries from texts, for tests that keep what they test in sight."""

from pathlib import Path
from tempfile import TemporaryDirectory
from textwrap import dedent

from journal.figures import BatchFigures, figures_of
from journal.problems import Problem, Severity, Source
from journal.reading import Batch, Brewery, Journal, Malts, read_brewery, read_entry, read_journal, read_malts

HEAD = "batch: 31\ntitle: Lantern Bitter\nbrewed: 2026-04-11\n"


def entry(fields: str, prose: str = "", head: str = HEAD) -> str:
    """An entry's text: three required fields, then these."""
    return f"---\n{head}{dedent(fields).strip()}\n---\n{prose}"


def read(fields: str, prose: str = "", head: str = HEAD) -> tuple[Batch | None, list[Problem]]:
    return read_entry(Source("entries/31.md", entry(fields, prose, head)), gallon="us")


def batch_of(fields: str, head: str = HEAD) -> Batch:
    """The batch of an entry that has no fault."""
    batch, problems = read(fields, head=head)
    assert batch is not None
    assert [problem.message for problem in problems] == []
    return batch


def journal_at(root: Path, files: dict[str, str | bytes]) -> tuple[Journal, list[Problem]]:
    """A journal with these files under entries/."""
    for name, content in files.items():
        path = root / "entries" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content if isinstance(content, bytes) else content.encode())
    return read_journal(root)


def codes(problems: list[Problem]) -> list[str]:
    return [problem.code for problem in problems]


def settings_at(root: Path, brewery: str = "", malts: str = "") -> tuple[Brewery, Malts]:
    """The settings that these texts state, none of them faulty."""
    (root / "entries").mkdir(exist_ok=True)
    for name, text in (("brewery.yaml", brewery), ("malts.yaml", malts)):
        (root / "entries" / name).write_text(dedent(text), encoding="utf-8")
    found, problems = read_brewery(root)
    known, more = read_malts(root)
    assert [problem.message for problem in problems + more if problem.severity is Severity.ERROR] == []
    return found, known


def brewery_of(text: str) -> Brewery:
    """The settings of one text that has no fault."""
    with TemporaryDirectory() as folder:
        return settings_at(Path(folder), text)[0]


def figures(fields: str, brewery: Brewery | None = None, malts: Malts | None = None) -> BatchFigures:
    """The figures of an entry that has no fault."""
    return figures_of(batch_of(fields), brewery or Brewery(), malts or Malts())

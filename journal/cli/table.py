"""`wortbook table`, and what `wortbook begin --table` does: the journal as a table, and an old table as entries."""

from __future__ import annotations

import sys
from datetime import date
from pathlib import Path

import click

from journal.cli.common import refuse, root_of, say, shown_path
from journal.problems.show.printable import printable
from journal.publishing.begin.new_file import entry_path, write_new
from journal.publishing.refused import Refused
from journal.publishing.table import Taken, take_in, write_out
from journal.publishing.table.heads import Column
from journal.publishing.table.rows import EntryOfRow
from journal.reading import Journal, read_journal

#: A sample is shown up to so many signs.
_SAMPLE = 24


@click.command()
@click.option("--out", type=click.Path(path_type=Path), help="A new file for it; printed by default.")
def table(out: Path | None) -> None:
    """Write all that was recorded as a table, a row a batch; `wortbook begin --table` reads it in again."""

    journal, _ = read_journal(root_of(()))
    text = write_out(journal.batches)
    left_out = [entry.file for entry in journal.entries if entry.broken]
    if left_out:
        say(f"Left out, for it has errors: {', '.join(left_out)}", err=True)
    if out is None:
        click.echo(text, nl=False)
        return
    try:
        with out.open("x", encoding="utf-8", newline="") as file:
            file.write(text)
    except FileExistsError:
        refuse(f"{shown_path(out)} is there already; it is left as it is.", misused=False)
    except OSError as error:
        refuse(f"{shown_path(out)} can't be written: {error.strerror}.", misused=False)
    say(f"{shown_path(out)} is written: {len(journal.batches)} batches.")


def begin_from_table(root: Path, file: Path, map_file: Path | None, *, dry_run: bool, yes: bool) -> None:
    """Say what a table is taken for, column by column, and which entries its rows make; write them once that is agreed to.

    `yes` agrees beforehand. Otherwise it is asked for on a terminal, and without one nothing is written.
    """

    journal, _ = read_journal(root)
    ids = frozenset(entry.batch.batch for entry in journal.entries if entry.batch and entry.batch.batch)
    try:
        map_text = map_file.read_text("utf-8") if map_file else ""
    except UnicodeDecodeError:
        refuse(f"{map_file} is not UTF-8.")
    found = take_in(file.read_bytes(), map_text, ids)
    if isinstance(found, Refused):
        refuse(f"{shown_path(file)}: {found.why}", misused=found.misused)
    _say_heads(found)
    for row in found.rows:
        for cell in row.unread:
            say(f"row {row.number}, {printable(cell.head)}: {printable(cell.why)}")
    _show_entries(journal, found)
    if dry_run or not found.rows:
        say("Nothing is written.")
        return
    if not yes:
        if not sys.stdin.isatty():
            refuse("nothing is written yet; say --yes to write them.", misused=False)
        if not click.confirm("Write them?"):
            say("Nothing is written.")
            return
    _write_entries(journal, found)


def _path_of(journal: Journal, row: EntryOfRow) -> Path:
    batch = row.batch
    # the brewer's own calendar
    return entry_path(journal, batch.id, batch.title or batch.id, batch.brewed or date.today())


def _show_entries(journal: Journal, found: Taken) -> None:
    """Which files there would be, and the first of them whole."""
    paths = [_path_of(journal, row) for row in found.rows]
    for row, path in zip(found.rows, paths, strict=True):
        say(f"row {row.number}: {shown_path(path)}{', which is there already: left as it is' if path.exists() else ''}")
    for why in found.skipped:
        say(printable(f"{why}."))
    new = next((place for place, path in enumerate(paths) if not path.exists()), None)
    if new is not None:
        say(f"\nThe first of them, {shown_path(paths[new])}:\n")
        say("\n".join(printable(line) for line in found.rows[new].text.splitlines()) + "\n")


def _write_entries(journal: Journal, found: Taken) -> None:
    written: list[Path] = []
    in_the_way: list[str] = []
    for row in found.rows:
        path = _path_of(journal, row)
        refused = write_new(journal, path, row.text)
        if refused:
            in_the_way.append(f"row {row.number}: {refused.why.rstrip('.')}")
        else:
            written.append(path)
    for why in in_the_way:
        say(printable(f"{why}."))
    where = f", the first {shown_path(written[0])}" if written else ""
    say(f"{len(written)} of {len(found.rows) + len(found.skipped)} rows are entries now{where}.")
    if any(row.unread for row in found.rows):
        say("What couldn't be read is kept as a remark in its entry.")
    if written:
        say("`wortbook check` reads them over.")


def _say_heads(found: Taken) -> None:
    width = max(len(head.head) for head in found.heads)
    for head, sample in zip(found.heads, found.samples, strict=True):
        shown = f", such as “{printable(' '.join(sample.split())[:_SAMPLE])}”" if sample else ", empty"
        meaning = f"{head.meaning}{shown}" if isinstance(head, Column) else f"left alone: {head.why}"
        say(f"  {printable(head.head).ljust(min(width, 40))}  {printable(meaning)}")
    say("")

"""`wortbook enter`: what the working sheet gave, put into the planned entry."""

from __future__ import annotations

import difflib
import sys
from pathlib import Path

import click

from journal.cli.ask import batch_called, record_of
from journal.cli.common import refuse, root_of
from journal.problems.show.printable import printable
from journal.publishing.enter import enter as enter_lines
from journal.publishing.enter import write
from journal.publishing.refused import Refused
from journal.reading.files import decode


@click.command()
@click.argument("batch")
@click.argument("file", type=click.Path(path_type=Path, allow_dash=True))
@click.option("--yes", is_flag=True, help="Write without asking, once the difference is shown.")
def enter(batch: str, file: Path, yes: bool) -> None:
    """Put the lines of a working sheet, a FILE or -, into the entry of planned BATCH: blanks filled, lines added."""

    root = root_of(())
    found = batch_called(batch, record_of(root))
    try:
        raw = sys.stdin.buffer.read() if str(file) == "-" else file.read_bytes()
    except OSError as error:
        refuse(f"{file} can't be read: {error.strerror}.")
    lines, problems = decode("the sheet's lines" if str(file) == "-" else file.name, raw)
    if lines is None:
        refuse(problems[0].full_message)
    entered = enter_lines(found, lines)
    if isinstance(entered, Refused):
        refuse(entered.why, misused=entered.misused)
    if not entered.fields:
        click.echo(f"{found.file} has all of it already.")
        return
    click.echo(_difference(found.file, found.source.text, entered.text))
    if not yes and not (str(file) != "-" and sys.stdin.isatty() and click.confirm("Write it?")):
        refuse("nothing is written yet; say --yes to write it.", misused=False)
    refused = write(root / found.file, found.source, entered.text)
    if refused:
        refuse(refused.why, misused=refused.misused)
    click.echo(f"{found.file} is written: {len(entered.fields)} new.")


def _difference(name: str, before: str, after: str) -> str:
    lines = difflib.unified_diff(
        before.splitlines(), after.splitlines(), name, name, "as it is", "as it would be", n=1, lineterm=""
    )
    return "\n".join(printable(line) for line in lines)

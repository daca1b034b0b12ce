"""`wortbook begin` and `wortbook correct`: the next brew, planned and put right while it is brewed."""

from __future__ import annotations

import sys
from datetime import date
from pathlib import Path
from typing import Any

import click

from journal.cli import complete
from journal.cli.ask import batch_called, record_of
from journal.cli.common import refuse, root_of, say, shown_path
from journal.cli.table import begin_from_table
from journal.history.plan.correction_text import correction_text
from journal.publishing.begin import Request
from journal.publishing.begin import begin as begin_entry
from journal.publishing.begin.start import SITE, ignores, start_journal
from journal.publishing.refused import Refused


@click.command()
@click.option("--title", default="", help="What the beer is called.")
@click.option(
    "--like",
    default="",
    metavar="BATCH",
    shell_complete=complete.batches,
    help="An earlier batch to take grist, mash and hops from.",
)
@click.option("--gravity", default="", help="Target before yeast, such as 1.048 or '12 °P'.")
@click.option("--volume", default="", help="Target in the fermenter, such as '21 L'.")
@click.option("--grist", default="", help="Malts by their shares, such as 'pale malt 93 %, caramel malt 7 %'.")
@click.option("--on", default="", metavar="DATE", help="When it will be brewed; today by default.")
@click.option("--brewhouse", default="", shell_complete=complete.brewhouses, help="A key of brewery.yaml.")
@click.option("--replace", "swaps", multiple=True, metavar="OLD=NEW", help="One malt for another, by what each yields.")
@click.option("--grain-temperature", default="", help="Of the grist before mashing in; 18 degC by default.")
@click.option(
    "--table",
    type=click.Path(exists=True, dir_okay=False, path_type=Path),
    help="A CSV table of earlier batches, a row a batch: write an entry for each.",
)
@click.option(
    "--map",
    "map_file",
    type=click.Path(exists=True, dir_okay=False, path_type=Path),
    help="What the table's heads mean, `HEAD = FIELD, UNIT` a line.",
)
@click.option("--dry-run", is_flag=True, help="With --table: only show what would be written.")
@click.option("--yes", is_flag=True, help="With --table: write without asking, once it is shown.")
@click.option("--start", is_flag=True, help="Where there is no journal: write one to start from.")
def begin(table: Path | None, map_file: Path | None, dry_run: bool, yes: bool, **asked: Any) -> None:
    """Write a new entry: bare, or planned for a target by what your own record leads you to expect."""

    root = root_of(())
    if not (root / "entries").is_dir():
        _start(root, asked.pop("start"))
        return
    if asked.pop("start"):
        refuse(f"there is a journal here already, in {root}; `wortbook begin` begins a batch.")
    if table is not None:
        if any(asked.values()):
            refuse("--table writes entries from a table and nothing else; give it alone, or with --map.")
        begin_from_table(root, table, map_file, dry_run=dry_run, yes=yes)
        return
    if map_file is not None:
        refuse("--map says what the heads of a table mean: give --table too.")
    if dry_run or yes:
        refuse(f"{'--dry-run' if dry_run else '--yes'} is about what --table would write: give --table too.")
    found = begin_entry(record_of(root, history=True), Request(date.today(), **asked))  # the brewer's own calendar
    if isinstance(found, Refused):
        refuse(found.why, misused=found.misused)
    else:
        then = (
            "`wortbook build` makes its working sheet."
            if found.planned
            else "Fill it in; `wortbook check` reads it over."
        )
        say(f"{shown_path(found.path)} is written. {then}")


def _start(root: Path, wanted: bool) -> None:
    """A journal to start from, where none is; asked first, unless that was said."""

    offer = f"{root} has no folder called entries/. A journal to start from has settings, malts and a first entry"
    if not wanted and not (sys.stdin.isatty() and click.confirm(f"{offer}; write it here?")):
        refuse(f"{offer}: `wortbook begin --start` writes it. Or go to where your journal is.", misused=False)
    try:
        written = start_journal(root, date.today())
    except OSError as error:
        refuse(f"{root} can't be written: {error.strerror}.", misused=False)
    for path in written:
        say(shown_path(path))
    if not ignores(root, SITE):
        say(f"Add a line {SITE} to .gitignore: what is built needs no keeping.")
    say("Fill in what you have; `wortbook check` reads it over, `wortbook build` makes the site.")


@click.command()
@click.argument("batch", shell_complete=complete.batches)
@click.option("--gravity", default="", help="As read, such as 1.039 or '10.1 °Bx'.")
@click.option("--volume", default="", help="As read: '26 L at 70 degC', '27.1 kg' tare off, or '31.5 cm' by the dip.")
@click.option("--at", "place", type=click.Choice(["kettle", "knockout"]), default="kettle", help="Where it was read.")
def correct(batch: str, gravity: str, volume: str, place: str) -> None:
    """Say what a reading of a planned BATCH makes of it, and what would bring it to its target."""

    if not (gravity or volume):
        refuse("say what was read: --gravity, --volume or both.")
    record = record_of(root_of(()))
    found = batch_called(batch, record)
    text, answered = correction_text(
        found, record.journal, record.figures[found.id], record.balances[found.id].priors, place, gravity, volume
    )
    if not answered:
        refuse(text)
    say(text)

"""`wortbook fields` and `wortbook schema`: what an entry may hold."""

from __future__ import annotations

import json
from collections.abc import Sequence
from textwrap import fill, indent

import click

from journal.cli import complete
from journal.cli.common import refuse, say
from journal.problems import capital, did_you_mean
from journal.reading.elsewhere import trade_word
from journal.reading.kinds import by_sort
from journal.reading.schema import TABLES, FieldLine, field_lines, json_schema

#: Lists of words are shown with so many fields at the most; in the whole table they would hide it.
_FEW = 12


@click.command()
@click.argument("file", type=click.Choice(["entry", "brewery", "malts"]), default="entry")
def schema(file: str) -> None:
    """Print a JSON Schema of an entry's front matter, or of brewery.yaml or malts.yaml, for editors."""

    click.echo(json.dumps(json_schema(file), ensure_ascii=False, indent=2))


@click.command()
@click.argument("names", nargs=-1, metavar="[NAME]", shell_complete=complete.fields)
@click.option(
    "--of",
    "file",
    type=click.Choice(["entry", "brewery", "malts"]),
    help="Of which file; without it, of an entry, or wherever the NAME is.",
)
def fields(names: tuple[str, ...], file: str | None) -> None:
    """List the fields of an entry, or say what one NAME holds and how it is written."""

    name = " ".join(names)
    if not name or name in TABLES:
        _tell(field_lines(name or file or "entry"))
        return
    name = trade_word(name) or name
    for each in (file,) if file else TABLES:
        lines = field_lines(each)
        # explain names malts.pale-2511.extract, and the file has no malts above the key
        wanted = name.removeprefix(f"{each}.")
        chosen = [line.path for line in lines if line.answers(wanted) or line.answers(wanted.replace("-", "_"))]
        if chosen:
            if each != "entry":
                say(f"In entries/{each}.yaml:")
            inside = tuple(f"{path}{sign}" for path in chosen for sign in ".[")
            told = [line for line in lines if line.path in chosen or line.path.startswith(inside)]
            _tell(told)
            _show_blocks([line.block for line in told if line.path in chosen and line.block])
            return
    known = [line.path for each in ((file,) if file else TABLES) for line in field_lines(each)]
    refuse(f"no field is called {name}. {did_you_mean(name.replace('-', '_'), known)}".rstrip())


def _show_blocks(blocks: Sequence[str]) -> None:
    for block in blocks:
        say(f"\nWritten as a block, with the lines you need:\n{indent(block, '  ')}")


def _tell(lines: Sequence[FieldLine]) -> None:

    width = max(len(line.path) for line in lines) + 2
    for line in lines:
        said = [f"{line.meaning}."]
        if line.written:
            # a word of the format with a capital is no word of the format
            said.append(
                f"One of {line.written}."
                if " | " in line.written
                else f"{line.written if line.verbatim else capital(line.written)}."
            )
        if line.required:
            said.append("Required.")
        say(f"{line.path:<{width}}{' '.join(said)}")
    if len(lines) <= _FEW:
        for known in dict.fromkeys(line.known for line in lines if line.known):
            say(
                "\nKnown by name, in any capitals, with other names in brackets; none of them needs a sheet in malts.yaml."
            )
            for sort, names in by_sort(known).items():
                text = f"{capital(sort)}: {'; '.join(names)}."
                say(fill(text, 100, subsequent_indent="  ", break_on_hyphens=False))

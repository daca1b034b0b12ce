"""The commands: results turned into text and exit codes. Nothing is decided here.

Exit codes: 0 where all is well, 1 where the journal has errors or nothing could be written, 2 for a command used
wrongly. A command's module, and all that it needs, is loaded when the command is called: `--help` answers at once, and
`check` never waits for drawing.
"""

from __future__ import annotations

import errno
import gc
import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from importlib import import_module
from keyword import iskeyword
from textwrap import shorten
from typing import Any, NoReturn

import click

from journal import __version__

#: By command: the module that holds it under its own name, and its line in `--help`, which is the first of its own help.
COMMANDS = {
    "begin": ("begin", "Write a new entry: bare, or planned for a target by what your own record leads you to expect."),
    "build": ("build", "Work out the journal and write its site."),
    "check": ("check", "Say what is wrong or odd in the journal, or in the PATHs given."),
    "compare": ("explain", "Set two batches side by side: what differed in practice, and what differed in result."),
    "correct": ("begin", "Say what a reading of a planned BATCH makes of it, and what would bring it to its target."),
    "enter": (
        "enter",
        "Put the lines of a working sheet, a FILE or -, into the entry of planned BATCH: blanks filled, lines added.",
    ),
    "explain": (
        "explain",
        "Show how the figures of a BATCH came about, one FIGURE with its working, or how its readings `balance`.",
    ),
    "fields": ("fields", "List the fields of an entry, or say what one NAME holds and how it is written."),
    "recipe": ("recipe", "Print the recipe of a BATCH, as brewed or for another volume and brewhouse."),
    "schema": (
        "fields",
        "Print a JSON Schema of an entry's front matter, or of brewery.yaml or malts.yaml, for editors.",
    ),
    "table": (
        "table",
        "Write all that was recorded as a table, a row a batch; `wortbook begin --table` reads it in again.",
    ),
    "try": (
        "what_if",
        "Say what a batch would have come to with some FIELD otherwise, such as 'crush=1.0 mm' or 'lauter.liquor=+2 L'.",
    ),
    "watch": ("watch", "Build, show the site on this machine, and rebuild at every change until Ctrl-C."),
}


def _end(why: str) -> NoReturn:
    """End with a line on what stands in the way."""
    try:
        sys.stdout.flush()
    except OSError:
        # a full disk: what could not be written would be tried once more, and complained of, at the end of the process
        with suppress(OSError, ValueError):
            os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    with suppress(OSError):
        click.echo(f"Error: {why}", err=True)
    sys.exit(1)


class _Commands(click.Group):
    """A group whose commands are loaded one by one, and only when they are called."""

    def invoke(self, ctx: click.Context) -> Any:
        try:
            return super().invoke(ctx)
        except (click.ClickException, click.exceptions.Exit, click.Abort):
            raise
        except OSError as error:
            if error.errno == errno.EPIPE:
                raise  # whoever read it has heard enough; click ends quietly
            _end(f"what was asked for can't be done: {error.strerror or error}")
        except Exception as error:  # noqa: BLE001  # said in a line; a traceback tells a brewer nothing
            from journal.problems import fault_in_words  # noqa: PLC0415  # only when it is needed

            _end(f"a fault of the program: {fault_in_words(error)}. Please report this, with what you asked for.")

    def list_commands(self, ctx: click.Context) -> list[str]:
        del ctx
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        del ctx
        if cmd_name not in COMMANDS:
            return None
        # what Python keeps for itself has a dash below behind it
        name = f"{cmd_name}_" if iskeyword(cmd_name) else cmd_name
        found = getattr(import_module(f"journal.cli.{COMMANDS[cmd_name][0]}"), name)
        return found if isinstance(found, click.Command) else None

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        del ctx
        with formatter.section("Commands"):
            width = formatter.width - 6 - max(map(len, COMMANDS))
            formatter.write_dl(
                [(name, shorten(line, width, placeholder="...")) for name, (_, line) in COMMANDS.items()]
            )


@contextmanager
def _not_collecting() -> Iterator[None]:
    """Without Python's search for circular garbage, which goes through every value of a journal and finds hardly any."""
    was = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        # else the end of the process would search for it once more
        gc.freeze()
        if was:
            gc.enable()


@click.group(cls=_Commands, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="wortbook")
@click.pass_context
def main(ctx: click.Context) -> None:
    """A brewing journal under git that does the sums.

    Run it in a folder that has entries/.
    """
    # one that runs for days takes its own times for it
    if ctx.invoked_subcommand != "watch":
        ctx.with_resource(_not_collecting())

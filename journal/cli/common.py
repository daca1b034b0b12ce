"""What several commands do: find the journal, show a path, ask back, and end."""

from __future__ import annotations

import shutil
import sys
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Any, NoReturn

import click

from journal.problems import Problem, Severity, show, worst

#: The look of the parts of a problem where a terminal has colours; words and signs say the same without them.
_LOOKS: dict[str, dict[str, Any]] = {
    "place": {"bold": True},
    "mark": {"bold": True, "underline": True},
    "code": {"dim": True},
    "error": {"fg": "red", "bold": True},
    "warning": {"fg": "magenta", "bold": True},
    "note": {"fg": "cyan"},
}


def root_of(paths: Sequence[Path]) -> Path:
    """The folder that has entries/: above the paths given, else here or above."""
    try:
        here = Path.cwd()
    except OSError:
        refuse("the folder that you are in is gone; go to where your journal is.", misused=False)
    starts = [path.resolve() for path in paths] or [here]
    roots = set()
    for start in starts:
        candidates = [folder for folder in (start, *start.parents) if (folder / "entries").is_dir()]
        if not candidates and paths:
            refuse(f"{start} lies under no folder called entries/; a journal reads only what is there.")
        roots.add(candidates[0] if candidates else here)
    if len(roots) > 1:
        refuse("these paths belong to different journals; check one at a time.")
    return roots.pop()


def finish(problems: Iterable[Problem], strict: bool = False) -> None:
    """End with the exit code that the gravest problem asks for."""
    gravest = worst(problems)
    if gravest is Severity.ERROR or (strict and gravest is Severity.WARNING):
        sys.exit(1)


def say(text: str, *, err: bool = False) -> None:
    """Print text in which words of files may stand: signs that steer a terminal are shown as a stand-in."""
    click.echo("\n".join(show.printable(line) for line in text.split("\n")), err=err)


def problems_text(problems: Iterable[Problem], *, to_stderr: bool = False) -> str:
    """Problems for the person at this terminal: as wide as it is, in its colours; plain where it is none."""
    stream = sys.stderr if to_stderr else sys.stdout
    if not stream.isatty():
        return show.as_text(problems)
    return show.as_text(
        problems, lambda text, what: click.style(text, **_LOOKS[what]), shutil.get_terminal_size().columns
    )


def shown_path(path: Path) -> str:
    """A path from here if it lies below, else whole."""
    try:
        return str(path.resolve().relative_to(Path.cwd().resolve()))
    except ValueError:
        return str(path.resolve())


def refuse(why: str, *, misused: bool = True) -> NoReturn:
    """Say why nothing was done, and end: with 2 where the command was used wrongly, with 1 where something else is in the way."""
    say(f"Error: {why}", err=True)
    sys.exit(2 if misused else 1)

"""`wortbook check`."""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import Path

import click

from journal.cli.common import finish, problems_text, root_of
from journal.problems import Problem, show
from journal.publishing.cache import FileCache
from journal.publishing.checked import CheckedJournal, check_journal


def _selected(root: Path, paths: Sequence[Path], checked: CheckedJournal) -> list[Problem]:
    """The problems of the files asked for and of the logs they name, and those of the settings they rest on."""
    if not paths:
        return list(checked.problems)
    chosen = [os.path.relpath(path.resolve(), root.resolve()) for path in paths]

    def asked_for(name: str) -> bool:
        return any(choice in {".", name} or name.startswith(f"{choice}/") for choice in chosen)

    beside = {log for file, logs in checked.logs_of.items() if asked_for(file) for log in logs}
    beside |= {"entries/brewery.yaml", "entries/malts.yaml"}
    return [problem for problem in checked.problems if asked_for(problem.file_name) or problem.file_name in beside]


@click.command()
@click.argument("paths", nargs=-1, type=click.Path(exists=True, path_type=Path))
@click.option(
    "--as",
    "form",
    type=click.Choice(["text", "lines", "json", "annotations", "sarif"]),
    default="text",
    help="How problems are shown.",
)
@click.option("--strict", is_flag=True, help="Refuse warnings too.")
def check(paths: tuple[Path, ...], form: str, strict: bool) -> None:
    """Say what is wrong or odd in the journal, or in the PATHs given."""

    root = root_of(paths)
    with FileCache(root) as memory:
        checked = check_journal(root, memory)
    problems = _selected(root, paths, checked)
    forms = {
        "text": problems_text,
        "lines": show.as_lines,
        "json": show.as_json,
        "annotations": show.as_annotations,
        "sarif": show.as_sarif,
    }
    shown = forms[form](problems)
    if shown:
        click.echo(shown)
    if form == "text":
        read = len(checked.logs_of)
        entries = "1 entry" if read == 1 else f"{read} entries"
        click.echo(("\n" if shown else "") + f"{entries} read, {show.count_in_words(problems)}.")
    finish(problems, strict)

"""`wortbook check`."""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import Path

import click

from journal.cli.ask import record_of
from journal.cli.common import finish, problems_text, root_of
from journal.pages.record import Record
from journal.problems import Problem, show
from journal.reading import Brewery


def _of_the_theme(root: Path, brewery: Brewery) -> list[Problem]:
    if brewery.theme is None:
        return []
    # the looks take the template engine, and most journals name none
    from journal.pages.choose_theme import choose_theme  # noqa: PLC0415

    return choose_theme(root, None, brewery)[1]


def _selected(root: Path, paths: Sequence[Path], record: Record) -> list[Problem]:
    """The problems of the files asked for and of the logs they name, and those of the settings they rest on."""
    problems = [*record.problems, *_of_the_theme(root, record.journal.brewery)]
    if not paths:
        return problems
    chosen = [os.path.relpath(path.resolve(), root.resolve()) for path in paths]

    def asked_for(name: str) -> bool:
        return any(choice in {".", name} or name.startswith(f"{choice}/") for choice in chosen)

    beside = {p.file_name for entry in record.journal.entries if asked_for(entry.file) for p in entry.log_problems}
    beside |= {"entries/brewery.yaml", "entries/malts.yaml"}
    return [problem for problem in problems if asked_for(problem.file_name) or problem.file_name in beside]


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
    record = record_of(root)
    problems = _selected(root, paths, record)
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
        read = len(record.journal.entries)
        entries = "1 entry" if read == 1 else f"{read} entries"
        click.echo(("\n" if shown else "") + f"{entries} read, {show.count_in_words(problems)}.")
    finish(problems, strict)

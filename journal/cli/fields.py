"""`wortbook fields` and `wortbook schema`: what an entry may hold."""

from __future__ import annotations

import json

import click

from journal.problems import capital, did_you_mean
from journal.reading.schema import field_lines, json_schema


@click.command()
@click.argument("file", type=click.Choice(["entry", "brewery", "malts"]), default="entry")
def schema(file: str) -> None:
    """Print a JSON Schema of an entry's front matter, or of brewery.yaml or malts.yaml, for editors."""

    click.echo(json.dumps(json_schema(file), ensure_ascii=False, indent=2))


@click.command()
@click.argument("name", required=False)
@click.option("--of", "file", type=click.Choice(["entry", "brewery", "malts"]), default="entry", help="Of which file.")
def fields(name: str | None, file: str) -> None:
    """List the fields of an entry, or tell of one NAME what it holds and how it is written."""

    lines = field_lines(file)
    if name is not None:
        wanted = name.replace("-", "_")
        chosen = [line for line in lines if wanted in (line.path, line.path.rsplit(".", 1)[-1])]
        if not chosen:
            raise click.UsageError(
                f"no field is called {name}. {did_you_mean(wanted, [line.path for line in lines])}".rstrip()
            )
        lines = [
            line
            for line in lines
            if any(line.path == c.path or line.path.startswith((f"{c.path}.", f"{c.path}[")) for c in chosen)
        ]
    width = max(len(line.path) for line in lines) + 2
    for line in lines:
        need = " Required." if line.required else ""
        written = f" {capital(line.written)}." if line.written else ""
        click.echo(f"{line.path:<{width}}{line.meaning}.{written}{need}")

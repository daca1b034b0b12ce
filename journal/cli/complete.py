"""What a shell may complete: the batches, figures, themes and brewhouses there are, and the names of fields.

Each is asked for while somebody waits between two keys, so that entries are not read but looked into.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from pathlib import Path

import click
from click.shell_completion import CompletionItem

#: Of an entry, as much as its head takes.
_HEAD = 2000
_BATCH = re.compile(r"^batch:[ \t]*[\"']?([A-Za-z0-9-]+)", re.MULTILINE)
_TITLE = re.compile(r"^title:[ \t]*[\"']?([^\n\"'#]+)", re.MULTILINE)


def _root() -> Path | None:
    here = Path.cwd()
    return next((folder for folder in (here, *here.parents) if (folder / "entries").is_dir()), None)


def _beginning(names: Iterable[tuple[str, str]], incomplete: str) -> list[CompletionItem]:
    return [CompletionItem(name, help=words or None) for name, words in names if name.startswith(incomplete)]


def _entries(root: Path) -> Iterator[tuple[str, str]]:
    for path in sorted((root / "entries").rglob("*.md")):
        try:
            with path.open(encoding="utf-8", errors="replace") as file:
                head = file.read(_HEAD)
        except OSError:
            continue
        batch, title = _BATCH.search(head), _TITLE.search(head)
        if batch:
            yield batch[1], title[1].strip() if title else ""


def batches(_ctx: click.Context, _param: click.Parameter, incomplete: str) -> list[CompletionItem]:
    """The ids of the journal's batches, with their titles."""
    root = _root()
    return _beginning(_entries(root), incomplete) if root else []


def figures(_ctx: click.Context, _param: click.Parameter, incomplete: str) -> list[CompletionItem]:
    """The names of figures, and `balance`."""
    from journal.figures import CATALOGUE  # noqa: PLC0415  # numbers are loaded for nothing else here

    return _beginning([("balance", "how its readings balance"), *((name, "") for name in CATALOGUE)], incomplete)


def themes(_ctx: click.Context, _param: click.Parameter, incomplete: str) -> list[CompletionItem]:
    """The looks that come with Wortbook, and those of the journal's own."""
    from journal.pages.own_theme import own_themes  # noqa: PLC0415  # templates are loaded for nothing else here
    from journal.pages.themes import built_in_looks  # noqa: PLC0415  # the same

    root = _root()
    own = own_themes(root) if root else []
    return _beginning(((name, "") for name in dict.fromkeys([*built_in_looks(), *own])), incomplete)


def brewhouses(_ctx: click.Context, _param: click.Parameter, incomplete: str) -> list[CompletionItem]:
    """The keys of the brewhouses of brewery.yaml."""
    from journal.reading import read_brewery  # noqa: PLC0415  # YAML is loaded for nothing else here

    root = _root()
    found = read_brewery(root)[0].brewhouses if root else {}
    return _beginning(((key, house.name or "") for key, house in found.items()), incomplete)


def fields(_ctx: click.Context, _param: click.Parameter, incomplete: str) -> list[CompletionItem]:
    """The paths of fields, and the tables they stand in."""
    from journal.reading.schema import TABLES, field_lines  # noqa: PLC0415  # the tables are loaded for nothing else here

    lines = [(line.path, line.meaning) for table in TABLES for line in field_lines(table)]
    return _beginning([*((table, "") for table in TABLES), *lines], incomplete)

"""`wortbook build`: the site, once."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import click

from journal.cli import complete
from journal.cli.common import finish, problems_text, refuse, root_of, say, shown_path
from journal.pages.counted import count_batches, how_many
from journal.pages.own_theme import own_themes
from journal.problems import show
from journal.publishing.cache import FileCache
from journal.publishing.progress import Progress, show_no_progress
from journal.publishing.refused import Refused
from journal.publishing.revision import Snapshot, entries_at
from journal.publishing.route import Broken
from journal.publishing.route import build as build_site


@contextmanager
def _progress() -> Iterator[Progress]:
    """A progress bar on a terminal, silence elsewhere."""

    if not sys.stderr.isatty():
        yield show_no_progress
        return
    from rich.console import Console  # noqa: PLC0415  # only where somebody looks on
    from rich.progress import Progress as Bar  # noqa: PLC0415
    from rich.progress import TaskID  # noqa: PLC0415

    with Bar(console=Console(stderr=True), transient=True) as bar:
        tasks: dict[str, TaskID] = {}

        def advance(what: str, done: int, total: int) -> None:
            if what not in tasks:
                tasks[what] = bar.add_task(what, total=total)
            bar.update(tasks[what], completed=done + 1, total=total)

        yield advance


def site_options(command: Callable[..., None]) -> Callable[..., None]:
    """Where the site goes and how it looks, for every command that writes one."""
    out = click.option("--out", type=click.Path(path_type=Path), help="Where the site goes; site/ by default.")
    theme = click.option(
        "--theme",
        metavar="NAME",
        shell_complete=complete.themes,
        help="How the pages look; by default as brewery.yaml says.",
    )
    return out(theme(command))


@click.command()
@site_options
@click.option(
    "--keep-going",
    is_flag=True,
    help="Build the rest though some entries are broken; each of those shows its problems.",
)
@click.option("--since", "revision", metavar="REV", help="Say which results differ from those at a revision in git.")
def build(out: Path | None, theme: str | None, keep_going: bool, revision: str | None) -> None:
    """Work out the journal and write its site."""

    root = root_of(())
    refuse_unknown_theme(root, theme)
    earlier = entries_at(root, revision) if revision is not None else Snapshot({})
    if isinstance(earlier, Refused):
        refuse(earlier.why, misused=earlier.misused)
    folder = out if out is not None else root / "site"
    with _progress() as progress, FileCache(root) as memory:
        broken = Broken.SHOWN if keep_going else Broken.REFUSED
        outcome = build_site(root, folder, broken=broken, theme=theme, progress=progress, memory=memory)
    if outcome.problems:
        click.echo(problems_text(outcome.problems, to_stderr=True) + "\n", err=True)
    if not outcome.published:
        kept = "The site is as it was." if folder.exists() else "No site was written."
        hint = ""
        if outcome.held_by_entries and not keep_going:
            hint = " Correct the errors, or build the rest with --keep-going."
        say(f"{show.count_in_words(outcome.problems)}. {kept}{hint}")
        sys.exit(1)
    of_them = f" ({how_many(outcome.planned)} planned)" if outcome.planned else ""
    say(
        f"{count_batches(outcome.batches)}{of_them}, {outcome.files} files, {len(outcome.changed)} of them new or changed; "
        f"{show.count_in_words(outcome.problems)}.\nOpen {shown_path(folder / 'index.html')}"
    )
    if revision is not None:
        _tell_since(root, revision, earlier)
    finish(outcome.problems)


def refuse_unknown_theme(root: Path, theme: str | None) -> None:
    """Refuse a theme that nobody knows, before anything is worked out."""

    if theme is None or theme in own_themes(root):
        return
    # the looks take the template engine, and most commands name none
    from journal.pages.choose_theme import choose_theme  # noqa: PLC0415
    from journal.pages.themes import built_in_looks  # noqa: PLC0415
    from journal.reading import Brewery  # noqa: PLC0415

    if theme not in built_in_looks():
        (problem,) = choose_theme(root, theme, Brewery())[1]
        refuse(f"{problem.message}. {problem.hint}")


def _tell_since(root: Path, revision: str, earlier: Snapshot) -> None:
    # a journal is understood twice here, and by no build that does not ask for it
    from journal.publishing.since import differences_since  # noqa: PLC0415
    from journal.publishing.understanding import understand  # noqa: PLC0415

    with FileCache(root) as memory:
        told = differences_since(earlier, understand(root, memory=memory), memory)
    say(f"\nSince {revision}:\n{told}" if told else f"\nSince {revision} no result has changed.")

"""`wortbook watch`: the site at every change."""

from __future__ import annotations

from pathlib import Path

import click

from journal.cli.build import refuse_unknown_theme, site_options
from journal.cli.common import refuse, root_of, say
from journal.problems import show
from journal.publishing.watch import Live, Server, State, keep_watch
from journal.publishing.watch.server import LOCAL


@click.command()
@site_options
@click.option("--port", type=click.IntRange(0, 65535), default=0, help="Chosen by the machine by default.")
@click.option(
    "--host",
    "hosts",
    multiple=True,
    metavar="ADDRESS",
    help="This machine only by default. An address that others can reach must be given twice, --host ADDRESS --host ADDRESS: "
    "all of the journal can then be read from there, and nobody should open it by a slip.",
)
def watch(out: Path | None, theme: str | None, port: int, hosts: tuple[str, ...]) -> None:
    """Build, show the site on this machine, and rebuild at every change until Ctrl-C."""

    root = root_of(())
    refuse_unknown_theme(root, theme)
    host = hosts[0] if hosts else "127.0.0.1"
    if host not in LOCAL and hosts != (host, host):
        refuse(f"{host} can be reached by others. If they are to read the journal, say --host {host} --host {host}.")
    live = Live(root, out if out is not None else root / "site", theme)
    try:
        server = Server(live, host, port)
    except (OSError, OverflowError) as error:
        refuse(f"{host}:{port} can't be served: {getattr(error, 'strerror', None) or error}.", misused=False)
    server.begin()
    say(f"{server.address} shows the journal; Ctrl-C ends it.")
    try:
        keep_watch(live, _say_state)
    except KeyboardInterrupt:
        click.echo()
    finally:
        server.end()


def _say_state(state: State) -> None:
    if state.changed or state.errors:
        files = "1 file" if len(state.changed) == 1 else f"{len(state.changed)} files"
        say(f"{f'{files} new or changed' if state.changed else 'nothing new'}; {show.count_in_words(state.problems)}")
    for error in state.errors:
        where = f"{error.file_name}:{error.line}: " if error.place else ""
        say(f"  {where}{error.message}")

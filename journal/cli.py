"""The commands: results turned into text and exit codes. Nothing is decided here.

Exit codes: 0 where all is well, 1 where the journal has errors or nothing could be written, 2 for a command used
wrongly.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from datetime import date
from difflib import get_close_matches
from pathlib import Path
from typing import TYPE_CHECKING, Any, NoReturn

import click

from journal import __version__

if TYPE_CHECKING:
    from journal.build import Progress
    from journal.build.watch import State
    from journal.pages.record import Record
    from journal.problems import Problem
    from journal.reading import Batch

# What the commands need is imported inside them: `--help` answers at once, and `check` never waits for drawing.


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="wortbook")
def main() -> None:
    """A brewing journal under git that does the sums.

    Run it in a folder that has entries/.
    """


def _root_of(paths: Sequence[Path]) -> Path:
    """The folder that has entries/: above the paths given, else here or above."""
    starts = [path.resolve() for path in paths] or [Path.cwd()]
    roots = set()
    for start in starts:
        candidates = [folder for folder in (start, *start.parents) if (folder / "entries").is_dir()]
        if not candidates and paths:
            raise click.UsageError(f"{start} lies under no folder called entries/; a journal reads only what is there.")
        roots.add(candidates[0] if candidates else Path.cwd())
    if len(roots) > 1:
        raise click.UsageError("these paths belong to different journals; check one at a time.")
    return roots.pop()


def _understood(root: Path) -> Record:
    """Everything known of a journal; what earlier commands worked out is recalled."""
    from journal.build import understand  # noqa: PLC0415
    from journal.build.kept import Kept  # noqa: PLC0415

    with Kept(root) as memory:
        return understand(root, memory=memory)


def _selected(root: Path, paths: Sequence[Path], record: Record) -> list[Problem]:
    """The problems of the files asked for and of the logs they name, and those of the settings they rest on."""
    from journal.pages import choose_theme  # noqa: PLC0415

    problems = [*record.problems, *choose_theme(root, None, record.journal.brewery)[1]]
    if not paths:
        return problems
    chosen = [os.path.relpath(path.resolve(), root.resolve()) for path in paths]

    def asked_for(name: str) -> bool:
        return any(choice in {".", name} or name.startswith(f"{choice}/") for choice in chosen)

    beside = {p.file_name for entry in record.journal.entries if asked_for(entry.file) for p in entry.log_problems}
    beside |= {"entries/brewery.yaml", "entries/malts.yaml"}
    return [problem for problem in problems if asked_for(problem.file_name) or problem.file_name in beside]


def _finish(problems: Iterable[Problem], strict: bool = False) -> None:
    from journal.problems import Severity, worst  # noqa: PLC0415

    gravest = worst(problems)
    if gravest is Severity.ERROR or (strict and gravest is Severity.WARNING):
        sys.exit(1)


@contextmanager
def _progress() -> Iterator[Progress]:
    """A progress bar on a terminal, silence elsewhere."""
    from rich.console import Console  # noqa: PLC0415
    from rich.progress import Progress as Bar  # noqa: PLC0415
    from rich.progress import TaskID  # noqa: PLC0415

    with Bar(console=Console(stderr=True), transient=True, disable=not sys.stderr.isatty()) as bar:
        tasks: dict[str, TaskID] = {}

        def advance(what: str, done: int, total: int) -> None:
            if what not in tasks:
                tasks[what] = bar.add_task(what, total=total)
            bar.update(tasks[what], completed=done + 1, total=total)

        yield advance


@main.command()
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
    from journal.problems import show  # noqa: PLC0415

    root = _root_of(paths)
    record = _understood(root)
    problems = _selected(root, paths, record)
    forms = {
        "text": show.as_text,
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
    _finish(problems, strict)


@main.command()
@click.option("--out", type=click.Path(path_type=Path), help="Where the site goes; site/ if not given.")
@click.option("--theme", metavar="NAME", help="How the pages look; what brewery.yaml says, if not given.")
@click.option(
    "--keep-going",
    is_flag=True,
    help="Build the rest though some entries are broken; each of those shows its problems.",
)
@click.option("--since", "revision", metavar="REV", help="Tell which results differ from those at a revision in git.")
def build(out: Path | None, theme: str | None, keep_going: bool, revision: str | None) -> None:
    """Work out the journal and write its site."""
    from journal.build import build as build_site  # noqa: PLC0415
    from journal.build.kept import Kept  # noqa: PLC0415
    from journal.problems import Severity, show, worst  # noqa: PLC0415

    root = _root_of(())
    folder = out if out is not None else root / "site"
    with _progress() as progress, Kept(root) as memory:
        outcome = build_site(root, folder, keep_going=keep_going, theme=theme, progress=progress, memory=memory)
    if outcome.problems:
        click.echo(show.as_text(outcome.problems) + "\n", err=True)
    if not outcome.published:
        kept = "The site is as it was." if folder.exists() else "No site was written."
        hint = ""
        if worst(outcome.record.problems) is Severity.ERROR and outcome.record.journal.entries and not keep_going:
            hint = " Mend the errors, or build the rest with --keep-going."
        click.echo(f"{show.count_in_words(outcome.problems)}. {kept}{hint}")
        sys.exit(1)
    batches = len(outcome.record.batches)
    click.echo(
        f"{batches} {'batch' if batches == 1 else 'batches'}, {outcome.files} files, {outcome.changed} of them new or changed; "
        f"{show.count_in_words(outcome.problems)}.\nOpen {_shown_path(folder / 'index.html')}"
    )
    if revision is not None:
        _tell_since(root, revision, outcome.record)
    _finish(outcome.problems)


def _tell_since(root: Path, revision: str, record: Record) -> None:
    from journal.build.kept import Kept  # noqa: PLC0415
    from journal.build.since import Refused, since  # noqa: PLC0415

    with Kept(root) as memory:
        told = since(root, revision, record, memory)
    if isinstance(told, Refused):
        _refuse(told.why)
    click.echo(f"\nSince {revision}:\n{told}" if told else f"\nSince {revision} no result has changed.")


def _shown_path(path: Path) -> str:
    """A path from here if it lies below, else whole."""
    try:
        return str(path.resolve().relative_to(Path.cwd().resolve()))
    except ValueError:
        return str(path.resolve())


@main.command()
@click.option("--out", type=click.Path(path_type=Path), help="Where the site goes; site/ if not given.")
@click.option("--theme", metavar="NAME", help="How the pages look; what brewery.yaml says, if not given.")
@click.option("--port", type=click.IntRange(0, 65535), default=0, help="Of its own choosing if not given.")
@click.option(
    "--host",
    "hosts",
    multiple=True,
    metavar="ADDRESS",
    help="Serves this machine only. For an address that others can reach, say --host ADDRESS twice over: they can then read all of it.",
)
def watch(out: Path | None, theme: str | None, port: int, hosts: tuple[str, ...]) -> None:
    """Build, show the site on this machine, and rebuild at every change until Ctrl-C."""
    from journal.build.watch import Live, Server, keep_watch  # noqa: PLC0415
    from journal.build.watch.server import LOCAL  # noqa: PLC0415

    root = _root_of(())
    host = hosts[0] if hosts else "127.0.0.1"
    if host not in LOCAL and hosts != (host, host):
        _refuse(f"{host} can be reached by others. If they shall read the journal, say --host {host} --host {host}.")
    live = Live(root, out if out is not None else root / "site", theme)
    try:
        server = Server(live, host, port)
    except (OSError, OverflowError) as error:
        _refuse(f"{host}:{port} can't be served: {getattr(error, 'strerror', None) or error}.")
    server.begin()
    click.echo(f"{server.address} shows the journal; Ctrl-C ends it.")
    try:
        keep_watch(live, _say_state)
    except KeyboardInterrupt:
        click.echo()
    finally:
        server.end()


def _say_state(state: State) -> None:
    from journal.problems import show  # noqa: PLC0415

    if state.changed or state.errors:
        pages = f"{len(state.changed)} files new or changed" if state.changed else "nothing new"
        click.echo(f"{pages}; {show.count_in_words(state.problems)}")
    for error in state.errors:
        click.echo(f"  {error.file_name}:{error.line}: {error.message}")


@main.command()
@click.argument("batch")
@click.argument("figure", required=False)
def explain(batch: str, figure: str | None) -> None:
    """Show how the figures of a BATCH came about, one FIGURE with its working, or how its readings `balance`."""
    from journal.balance.explain import explain_balance  # noqa: PLC0415
    from journal.figures import CATALOGUE  # noqa: PLC0415
    from journal.figures.explain import explain_batch, explain_figure  # noqa: PLC0415
    from journal.measures.wording import METRIC, show  # noqa: PLC0415

    record = _understood(_root_of(()))
    found = _batch_called(batch, record)
    journal, figures, balance = record.journal, record.figures[found.id], record.balances[found.id]
    units = journal.brewery.units or METRIC
    name = (figure or "").replace("-", "_").replace(" ", "_")
    if figure is None:
        click.echo(explain_batch(found, figures, journal.brewery))
        click.echo(
            f"`wortbook explain {found.id} balance` holds its readings against one another: {balance.verdict.status}."
        )
    elif name == "balance":
        click.echo(explain_balance(balance, found, units))
    elif name in CATALOGUE:
        click.echo(explain_figure(name, found, figures, journal.brewery, journal.malts))
        if name in balance.figures:
            best = balance.figures[name]
            click.echo(f"  reconciled with the other readings: {show(best.value, best.sd, best.unit, units)}")
    else:
        raise click.UsageError(f"no figure is called {figure}.{_did_you_mean(name, [*CATALOGUE, 'balance'])}")


@main.command()
@click.argument("first")
@click.argument("second")
def compare(first: str, second: str) -> None:
    """Set two batches side by side: what differed in practice, and what differed in result."""
    from journal.history.compare import compare as compare_batches  # noqa: PLC0415
    from journal.history.words import comparison_text  # noqa: PLC0415
    from journal.measures.wording import METRIC  # noqa: PLC0415

    record = _understood(_root_of(()))
    pair = _batch_called(first, record), _batch_called(second, record)
    found = compare_batches(*pair, record.journal, record.balances, record.figures)
    click.echo(comparison_text(found, record.journal.brewery.units or METRIC))


@main.command()
@click.option("--title", default="", help="What the beer is called.")
@click.option("--like", default="", metavar="BATCH", help="An earlier batch to take grist, mash and hops from.")
@click.option("--gravity", default="", help="Target before yeast, such as 1.048 or '12 °P'.")
@click.option("--volume", default="", help="Target in the fermenter, such as '21 L'.")
@click.option("--on", default="", metavar="DATE", help="When it will be brewed; today if not given.")
@click.option("--brewhouse", default="", help="A key of brewery.yaml.")
@click.option("--replace", "swaps", multiple=True, metavar="OLD=NEW", help="One malt for another, by what each yields.")
@click.option("--grain-temperature", default="", help="Of the grist before mashing in; 18 degC if nobody says.")
@click.option("--start", is_flag=True, help="Where there is no journal: write one to start from.")
def begin(**asked: Any) -> None:
    """Write a new entry: bare, or planned for a target at what your own record lets expect."""
    from journal.build.begin import Refused, Request  # noqa: PLC0415
    from journal.build.begin import begin as begin_entry  # noqa: PLC0415

    root = _root_of(())
    if not (root / "entries").is_dir():
        _start(root, asked.pop("start"))
        return
    asked.pop("start")
    found = begin_entry(_understood(root), Request(date.today(), **asked))  # the brewer's own calendar
    if isinstance(found, Refused):
        _refuse(found.why)
    else:
        then = (
            "`wortbook build` makes its working sheet."
            if found.planned
            else "Fill it in; `wortbook check` reads it over."
        )
        click.echo(f"{_shown_path(found.path)} is begun. {then}")


@main.command()
@click.argument("batch")
@click.option("--gravity", default="", help="As read, such as 1.039 or '10.1 °Bx'.")
@click.option("--volume", default="", help="As read, such as '26 L at 70 degC'.")
@click.option("--at", "place", type=click.Choice(["kettle", "knockout"]), default="kettle", help="Where it was read.")
def correct(batch: str, gravity: str, volume: str, place: str) -> None:
    """Say what a reading of a planned BATCH makes of it, and what would bring it to its target."""
    from journal.history.plan.desk import correction_text  # noqa: PLC0415

    record = _understood(_root_of(()))
    found = _batch_called(batch, record)
    text, answered = correction_text(
        found, record.journal, record.figures[found.id], record.balances[found.id].priors, place, gravity, volume
    )
    if not answered:
        _refuse(text)
    click.echo(text)


@main.command()
@click.argument("file", type=click.Choice(["entry", "brewery", "malts"]), default="entry")
def schema(file: str) -> None:
    """Print a JSON Schema of an entry's front matter, or of brewery.yaml or malts.yaml, for editors."""
    import json  # noqa: PLC0415

    from journal.reading.schema import json_schema  # noqa: PLC0415

    click.echo(json.dumps(json_schema(file), ensure_ascii=False, indent=2))


@main.command()
@click.argument("name", required=False)
@click.option("--of", "file", type=click.Choice(["entry", "brewery", "malts"]), default="entry", help="Of which file.")
def fields(name: str | None, file: str) -> None:
    """List the fields of an entry, or tell of one NAME what it holds and how it is written."""
    from journal.reading.schema import field_lines  # noqa: PLC0415

    lines = field_lines(file)
    if name is not None:
        wanted = name.replace("-", "_")
        chosen = [line for line in lines if wanted in (line.path, line.path.rsplit(".", 1)[-1])]
        if not chosen:
            raise click.UsageError(f"no field is called {name}.{_did_you_mean(wanted, [line.path for line in lines])}")
        lines = [
            line
            for line in lines
            if any(line.path == c.path or line.path.startswith((f"{c.path}.", f"{c.path}[")) for c in chosen)
        ]
    width = max(len(line.path) for line in lines) + 2
    for line in lines:
        need = " Required." if line.required else ""
        written = f" {line.written[:1].upper()}{line.written[1:]}." if line.written else ""
        click.echo(f"{line.path:<{width}}{line.meaning}.{written}{need}")


def _start(root: Path, wanted: bool) -> None:
    """A journal to start from, where none is; asked first, unless that was said."""
    from journal.build.begin.start import start_journal  # noqa: PLC0415

    offer = f"{root} has no folder called entries/. A journal to start from has settings, malts and a first entry"
    if not wanted and not (sys.stdin.isatty() and click.confirm(f"{offer}; write it here?")):
        _refuse(f"{offer}: `wortbook begin --start` writes it. Or go to where your journal is.")
    try:
        written = start_journal(root, date.today())
    except OSError as error:
        _refuse(f"{root} can't be written: {error.strerror}.")
    for path in written:
        click.echo(_shown_path(path))
    click.echo("Fill in what you have; `wortbook check` reads it over, `wortbook build` makes the site.")


def _refuse(why: str) -> NoReturn:
    click.echo(why, err=True)
    sys.exit(1)


def _batch_called(batch: str, record: Record) -> Batch:
    by_id = {known.id: known for known in record.batches}
    if batch in by_id:
        return by_id[batch]
    for entry in record.broken:
        if entry.batch and entry.batch.id == batch:
            click.echo(f"{entry.file} has errors; `wortbook check {entry.file}` shows them.", err=True)
            sys.exit(1)
    raise click.UsageError(f"no batch is called {batch}.{_did_you_mean(batch, by_id)}")


def _did_you_mean(word: str, known: Iterable[str]) -> str:
    near = get_close_matches(word, list(known), n=1, cutoff=0.5)
    return f" Did you mean {near[0]}?" if near else ""

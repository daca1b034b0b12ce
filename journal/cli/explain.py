"""`wortbook explain` and `wortbook compare`: how numbers came about, and what two batches differ in."""

from __future__ import annotations

import click

from journal.balance.explain import explain_balance
from journal.cli import complete
from journal.cli.ask import batch_called, record_of
from journal.cli.common import refuse, root_of, say
from journal.figures import CATALOGUE
from journal.figures.explain import explain_batch, explain_figure
from journal.figures.package import GROUP as PACKAGE
from journal.history.compare import compare as compare_batches
from journal.history.words import comparison_text
from journal.measures.wording import METRIC, show
from journal.problems import did_you_mean

#: Figures by the letters that brewers call them by.
_SHORT = {
    "abv": "alcohol_by_volume",
    "abw": "alcohol_by_weight",
    "og": "original_gravity",
    "fg": "final_gravity",
    "ibu": "bitterness",
    "srm": "colour",
    "ebc": "colour",
    "color": "colour",
    "attenuation": "apparent_attenuation",
}


@click.command()
@click.argument("batch", shell_complete=complete.batches)
@click.argument("figure", required=False, shell_complete=complete.figures)
def explain(batch: str, figure: str | None) -> None:
    """Show how the figures of a BATCH came about, one FIGURE with its working, or how its readings `balance`."""

    record = record_of(root_of(()))
    found = batch_called(batch, record)
    journal, figures, balance = record.journal, record.figures[found.id], record.balances[found.id]
    units = journal.brewery.units or METRIC
    name = (figure or "").replace("-", "_").replace(" ", "_").lower()
    name = _SHORT.get(name, name)
    if figure is None:
        say(explain_batch(found, figures, journal.brewery, record.finder(found.id)))
        say(f"`wortbook explain {found.id} balance` holds its readings against one another: {balance.verdict.status}.")
    elif name == "balance":
        say(explain_balance(balance, found, units))
    elif name in CATALOGUE:
        say(explain_figure(name, found, figures, journal.brewery, journal.malts))
        for problem in record.problems:
            # what a package may not hold stands beside what it holds
            if (
                CATALOGUE[name].group == PACKAGE
                and problem.file_name == found.file
                and problem.path.startswith("package")
            ):
                click.echo(f"  {problem.severity.value}: {problem.full_message}")
        if name in balance.figures:
            best = balance.figures[name]
            say(f"  reconciled with the other readings: {show(best.value, best.sd, best.unit, units)}")
    else:
        refuse(f"no figure is called {figure}. {did_you_mean(name, [*CATALOGUE, 'balance'])}".rstrip())


@click.command()
@click.argument("first", shell_complete=complete.batches)
@click.argument("second", shell_complete=complete.batches)
def compare(first: str, second: str) -> None:
    """Set two batches side by side: what differed in practice, and what differed in result."""

    record = record_of(root_of(()))
    pair = batch_called(first, record), batch_called(second, record)
    found = compare_batches(*pair, record.journal, record.balances, record.figures)
    say(comparison_text(found, record.journal.brewery.units or METRIC))

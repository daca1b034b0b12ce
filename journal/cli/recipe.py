"""`wortbook recipe`: what a batch was made of, to hand on."""

from __future__ import annotations

from functools import partial

import click

from journal.cli import complete
from journal.cli.ask import batch_called, record_of
from journal.cli.common import refuse, root_of
from journal.figures import Result
from journal.history.plan.from_batch import Unusable
from journal.history.plan.rescale import LEAST_YIELD, MOST_YIELD, rescale
from journal.measures import Fault, MeasureKind, read_measure
from journal.measures.units import SHARE, VOLUME
from journal.pages.index import Index
from journal.pages.recipe_text import recipe_text
from journal.pages.record import Record
from journal.reading import Batch


@click.command()
@click.argument("batch", shell_complete=complete.batches)
@click.option("--into", default="", metavar="VOLUME", help="For another volume in the fermenter, such as '25 L'.")
@click.option(
    "--yield", "efficiency", default="", metavar="SHARE", help="For another brewhouse efficiency, such as '72 %'."
)
def recipe(batch: str, into: str, efficiency: str) -> None:
    """Print the recipe of a BATCH, as brewed or for another volume and brewhouse."""

    record = record_of(root_of(()))
    found = batch_called(batch, record)
    index = Index(record)
    volume, share = _measure(into, VOLUME, "--into"), _measure(efficiency, SHARE, "--yield")
    if share is not None and not LEAST_YIELD <= share <= MOST_YIELD:
        refuse(f"--yield: {efficiency} can't be brewed. It lies between {LEAST_YIELD:.0%} and {MOST_YIELD:.0%}.")
    if volume is None and share is None:
        click.echo(recipe_text(index, found))
        return
    rescaled = rescale(partial(_best, record, found), volume, share)
    if isinstance(rescaled, Unusable):
        refuse(f"batch {found.id} can't be rescaled: {rescaled.why}. {rescaled.hint}.", misused=False)
    click.echo(recipe_text(index, found, rescaled))


def _best(record: Record, batch: Batch, name: str) -> Result | None:
    """A figure as it is shown first; of a brew that is only planned what it is to be."""
    wanted = batch.target.volume if name == "fermenter_volume" and batch.planned else None
    return record.best(batch.id, name) or (Result(name, "L", wanted.value, 0.0, (), ()) if wanted else None)


def _measure(text: str, kind: MeasureKind, option: str) -> float | None:
    if not text:
        return None
    found = read_measure(text, kind)
    if isinstance(found, Fault):
        refuse(f"{option}: {found.message}. {found.hint}")
    return found.value

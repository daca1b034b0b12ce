"""`wortbook try`: what a batch would have come to with something otherwise."""

from __future__ import annotations

import json
from typing import Any

import click

from journal.cli import complete
from journal.cli.ask import batch_called, record_of
from journal.cli.common import refuse, root_of, say
from journal.history.what_if import VESSEL_FIELDS, BrewedDay, OutcomeChange, VesselChange, WhatIf, what_if
from journal.history.what_if.words import what_if_text
from journal.measures.wording import METRIC
from journal.reading.otherwise import CantBe, Otherwise, assignment, read_otherwise, read_vessel

_DIGITS = 7


@click.command("try")
@click.argument("changes", nargs=-1, required=True, metavar="FIELD=VALUE...", shell_complete=complete.fields)
@click.option("--like", required=True, metavar="BATCH", shell_complete=complete.batches, help="The batch to change.")
@click.option(
    "--as", "form", type=click.Choice(["text", "json"]), default="text", show_default=True, help="How to say it."
)
def try_(changes: tuple[str, ...], like: str, form: str) -> None:
    """Say what a batch would have come to with some FIELD otherwise, such as 'crush=1.0 mm' or 'lauter.liquor=+2 L'."""

    written = [assignment(text) for text in changes]
    for each in written:
        if isinstance(each, CantBe):
            refuse(each.why)
    wanted = [each for each in written if isinstance(each, Otherwise)]
    record = record_of(root_of(()), history=True)
    batch = batch_called(like, record)
    if batch.planned:
        refuse(f"batch {batch.id} is only planned; `try` holds a change against a batch that was brewed.")
    journal = record.journal
    gallon = journal.brewery.gallon or ""
    of_entry = [each for each in wanted if not each.path.startswith("brewhouse.")]
    read = read_otherwise(batch, of_entry, gallon)
    if isinstance(read, CantBe):
        refuse(read.why)
    key = journal.brewhouse_key(batch)
    studies = [s for story in record.history.brewhouses if story.record.key == key for s in story.studies]
    day = BrewedDay(
        batch,
        record.figures[batch.id],
        record.balances[batch.id],
        journal,
        {study.figure: study.results for study in studies},
    )
    found = what_if(
        day, list(zip(of_entry, read, strict=True)), [_vessel(e, gallon) for e in wanted if e not in of_entry]
    )
    if isinstance(found, CantBe):
        refuse(found.why, misused=False)
    if form == "json":
        click.echo(json.dumps(_as_json(found), ensure_ascii=False, indent=2, sort_keys=True))
    else:
        say(what_if_text(found, journal.brewery.units or METRIC))


def _vessel(change: Otherwise, gallon: str) -> VesselChange:
    found = read_vessel(change, VESSEL_FIELDS, gallon)
    if isinstance(found, CantBe):
        refuse(found.why)
    return VesselChange(change, *found)


def _outcome(found: OutcomeChange) -> dict[str, Any]:
    names = ("before", "sd", "after", "difference", "low", "high")
    numbers = {name: float(f"{getattr(found, name):.{_DIGITS}g}") for name in names}
    return {
        "figure": found.figure,
        "unit": "1" if found.unit == "SG" else found.unit,
        **numbers,
        "basis": list(found.rests_on),
    }


def _as_json(found: WhatIf) -> dict[str, Any]:
    return {
        "format": 1,
        "batch": found.batch,
        "changes": [
            {
                "field": change.path,
                "before": change.before,
                "after": change.after,
                "rests_on": [{"what": what, "basis": basis, "why": why} for what, basis, why in change.rests_on],
            }
            for change in found.changes
        ],
        "outcomes": [_outcome(each) for each in found.outcomes],
        "malt": _outcome(found.malt),
        "minutes": found.minutes,
    }

"""The home page and the list of all batches."""

from __future__ import annotations

from journal.pages.brewhouses import brewhouse_views
from journal.pages.index import Index
from journal.pages.labels import KINDS, index_links, labelled
from journal.pages.lead import aim
from journal.pages.model import Link
from journal.pages.models.lists import Attention, BatchesModel, BatchRow, Cell, Choice, Filter, HomeModel, Planned
from journal.pages.numbers import quantity
from journal.pages.parts.courses import as_got
from journal.pages.parts.notices import notices
from journal.pages.verdict import JUDGED, verdict
from journal.pages.view import view_of
from journal.pages.words import count_batches, day
from journal.problems import Severity
from journal.reading import Batch, Entry

LATEST = 6


def _cell(index: Index, batch: Batch, name: str, *, spread: bool = True) -> Cell:
    """A figure in the list; without its spread it is rounded as a brewer says it, to fewer digits than it has."""
    result = index.result(batch, name)
    if result is None:
        return Cell(None, "")
    shown = quantity(result.value, result.sd if spread else 0.0, result.unit, index.system)
    return Cell(shown, f"{result.value:.6f}")


def batch_row(index: Index, batch: Batch) -> BatchRow:
    """A batch in a list."""
    return BatchRow(
        id=batch.id,
        href=index.paths[batch.file],
        order=index.order[batch.id],
        brewed=day(batch.day),
        title=batch.title or "",
        style=batch.style or "",
        planned=batch.planned,
        odd=bool(index.warnings_of(batch)),
        doubtful=index.doubtful(batch),
        original_gravity=_cell(index, batch, "original_gravity", spread=False),
        alcohol=_cell(index, batch, "alcohol_by_volume", spread=False),
        brewhouse_efficiency=_cell(index, batch, "brewhouse_efficiency"),
        mash_efficiency=_cell(index, batch, "mash_efficiency"),
        tags=batch.tags,
        keys=tuple((kind.name, " ".join(key for key, _ in kind.of(index, batch))) for kind in KINDS),
    )


def _entry_name(entry: Entry) -> str:
    batch = entry.batch
    named = " ".join(part for part in ((batch.batch, batch.title) if batch else ()) if part)
    return named or entry.file


def _filters(index: Index) -> tuple[Filter, ...]:
    """What the table can be cut down to; of what all batches have in common there is nothing to choose."""
    found = []
    for kind in KINDS:
        choices = tuple(Choice(label.key, label.words, len(label.batches)) for label in labelled(index, kind))
        if any(choice.batches < len(index.batches) for choice in choices):
            found.append(Filter(kind.name, kind.words.lower(), choices))
    return tuple(found)


def batches_model(index: Index) -> BatchesModel:
    """All batches, latest first."""
    rows = tuple(batch_row(index, batch) for batch in reversed(index.batches))
    broken = tuple(Link(_entry_name(entry), index.paths[entry.file]) for entry in index.record.broken)
    count = len(index.brewed)
    summary = f"{count_batches(count)} brewed."
    return BatchesModel(
        frame=index.frame("Batches", "batches", summary),
        rows=rows,
        filters=_filters(index),
        indexes=index_links(),
        broken=broken,
    )


def _attention(index: Index) -> tuple[Attention, ...]:
    """Every warning and error, the latest batch's first; faults of the settings last."""
    made: list[Attention] = []
    names = {batch.file: index.link(batch) for batch in index.batches}
    names |= {entry.file: Link(_entry_name(entry), index.paths[entry.file]) for entry in index.record.broken}
    files = [entry.file for entry in index.record.broken]
    files += [batch.file for batch in reversed(index.batches)]
    others = dict.fromkeys(problem.file_name for problem in index.record.problems)
    files += [file for file in others if file not in names]
    for file in files:
        for problem, notice in zip(index.problems_of(file), notices(index.problems_of(file)), strict=True):
            if problem.severity is not Severity.NOTE:
                made.append(Attention(names.get(file, Link(file)), notice.sentence, notice.severity))
    return tuple(made)


def _planned(index: Index) -> tuple[Planned, ...]:
    made = []
    for batch in index.batches:
        if batch.planned:
            view = view_of(index, batch)
            made.append(Planned(index.link(batch), day(batch.day), aim(view)))
    return tuple(made)


def home_model(index: Index) -> HomeModel:
    """The first page."""
    latest = tuple(batch_row(index, batch) for batch in reversed(index.brewed[-LATEST:]))
    return HomeModel(
        frame=index.frame(
            index.brewery, "home", "A brewing journal: every batch, and how much of the malt came through."
        ),
        latest=latest,
        batches=len(index.brewed),
        chart=as_got(index, brewhouse_views(index)[0], [JUDGED], "Brewhouse efficiency over time"),
        trend=verdict(index, brewhouse_views(index)[0]),
        attention=_attention(index),
        planned=_planned(index),
    )

"""A batch's page."""

from __future__ import annotations

from dataclasses import dataclass
from journal.pages.parts.account import Account
from journal.pages.parts.agreement import Agreement
from journal.pages.parts.expected import Expected
from journal.pages.parts.fermentation import FermentationPart
from journal.pages.parts.working import FigureGroup
from journal.pages.parts.working import FigureRow
from journal.pages.parts.mash import MashPart
from journal.pages.model import Model
from journal.pages.parts.notices import Notice
from journal.pages.parts.planned import PlanPart
from journal.pages.parts.recorded import RecordedGroup
from journal.pages.parts.sheet.model import Sheet
from journal.pages.parts.working import Wanting
from journal.pages.model import When
from journal.pages.grist import line_names
from journal.pages.index import Index
from journal.pages.labels import KINDS
from journal.pages.parts.account import account
from journal.pages.parts.agreement import agreement
from journal.pages.view import BatchView
from journal.pages.parts.expected import expectations, expected_of
from journal.pages.parts.fermentation import fermentation
from journal.pages.lead import lead
from journal.pages.parts.mash import mashing
from journal.pages.parts.planned import planned_and_got
from journal.pages.parts.recorded import recorded_anchors, recorded_groups
from journal.pages.parts.sheet import sheet
from journal.pages.parts.working import CHAIN, Workings, figure_groups, nought, reading_list, wanting
from journal.pages.model import Link
from journal.pages.numbers import of_result
from journal.pages.parts.notices import notices
from journal.pages.paths import by_link
from journal.pages.prose import prose_html
from journal.pages.words import day, figure_words
from journal.reading import Batch


@dataclass(frozen=True)
class ChainLink:
    """One step of the chain of efficiencies: its sign in the sum, its name, its gloss; without a figure, what is wanting.

    `doubtful` says that the readings contradict one another.
    """

    sign: str
    name: str
    words: str
    gloss: str
    total: bool
    figure: FigureRow | None
    wanting: str
    expected: Expected | None
    doubtful: bool


@dataclass(frozen=True, kw_only=True)
class BatchModel(Model):
    """Everything on a batch's page."""

    id: str
    title: str
    brewed: When
    style: Link
    brewhouse: Link
    tags: tuple[Link, ...]
    file: str
    planned: bool
    lead: tuple[str, ...]
    notices: tuple[Notice, ...]
    chain: tuple[ChainLink, ...]
    chain_remarks: tuple[str, ...]
    expected: tuple[Expected, ...]
    account: Account | None
    agreement: Agreement | None
    mash: MashPart | None
    fermentation: FermentationPart | None
    sheet: Sheet | None
    kept: PlanPart | None
    recorded: tuple[RecordedGroup, ...]
    figures: tuple[FigureGroup, ...]
    nought: tuple[Link, ...]
    wanting: tuple[Wanting, ...]
    prose: str
    before: Link | None
    after: Link | None

#: How each efficiency stands in the sum: its sign, what it is in short, and whether it is a total.
_SUM = {
    "conversion_efficiency": ("", "of the potential was dissolved", False),
    "lauter_efficiency": ("×", "of that reached the kettle", False),
    "mash_efficiency": ("=", "of the potential reached the kettle", True),
    "transfer_efficiency": ("×", "of the kettle’s extract reached the fermenter", False),
    "brewhouse_efficiency": ("=", "of the potential reached the fermenter", True),
}

#: What becomes of efficiencies whose readings contradict one another.
KEPT_OUT = (
    "◇ The readings contradict one another. These efficiencies are as recorded, and kept out of trends and statistics "
    "unless the entry says `trust: {balance: yes}`."
)
TRUSTED = (
    "◇ The readings contradict one another. The entry says `trust: {balance: yes}`, so these efficiencies, as recorded, "
    "count in trends and statistics all the same."
)


def _chain(workings: Workings) -> tuple[ChainLink, ...]:
    view, links = workings.view, []
    for name in CHAIN:
        sign, gloss, total = _SUM[name]
        missing = reading_list(view.figures.wanting.get(name, ()), view.names)
        words = figure_words(name).removesuffix(" efficiency")
        row = workings.row(name)
        doubtful = row is not None and view.index.doubtful(view.batch)
        links.append(ChainLink(sign, name, words, gloss, total, row, missing, expected_of(view, name), doubtful))
    return tuple(links)


def _chain_remarks(view: BatchView) -> tuple[str, ...]:
    """What the sum is worth: that it is not trusted, and why it does not come out even, where that is so."""
    remarks = []
    if view.index.doubtful(view.batch):
        remarks.append(TRUSTED if view.index.record.counts(view.batch) else KEPT_OUT)
    gain = view.figures.get("boil_gain")
    if gain is not None and view.figures.get("brewhouse_efficiency") and not view.index.reconciled(view.batch):
        apart = of_result(gain, view.system).text
        remarks.append(f"The two kettle readings differ by {apart}, so the last product is not exact.")
    return tuple(remarks)


def _neighbour(index: Index, batch: Batch, step: int) -> Link | None:
    position = index.order[batch.id] + step
    return index.link(index.batches[position]) if 0 <= position < len(index.batches) else None


def _labels(index: Index, batch: Batch, name: str) -> tuple[Link, ...]:
    """What the batch is found by, leading to its place in the index."""
    kind = next(kind for kind in KINDS if kind.name == name)
    return tuple(Link(words, by_link(name, key)) for key, words in kind.of(index, batch))


def batch_model(index: Index, batch: Batch) -> BatchModel:
    """Everything on a batch's page."""
    view = BatchView(index, batch, line_names(index, batch))
    groups = recorded_groups(view)
    anchors = recorded_anchors(groups)
    workings = Workings(view, anchors)
    leads = lead(view)
    title = batch.title or ""
    return BatchModel(
        frame=index.frame(f"{batch.id} {title}", "batches", leads[0], "article"),
        id=batch.id,
        title=title,
        brewed=day(batch.day),
        style=_labels(index, batch, "style")[0] if batch.style else Link(""),
        brewhouse=next(iter(_labels(index, batch, "brewhouse")), Link("")),
        tags=_labels(index, batch, "tag"),
        file=batch.file,
        planned=batch.planned,
        lead=leads,
        notices=notices(index.problems_of(batch.file), anchors),
        chain=() if batch.planned else _chain(workings),
        chain_remarks=() if batch.planned else _chain_remarks(view),
        expected=expectations(view),
        account=account(view.best, index.system, reconciled=index.reconciled(batch)),
        agreement=agreement(view, anchors),
        mash=mashing(view),
        fermentation=fermentation(view),
        sheet=sheet(view),
        kept=planned_and_got(view),
        recorded=groups,
        figures=figure_groups(workings),
        nought=nought(workings),
        wanting=() if batch.planned else wanting(view),
        prose=prose_html(index, batch),
        before=_neighbour(index, batch, -1),
        after=_neighbour(index, batch, 1),
    )

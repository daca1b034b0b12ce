"""A batch's accounts: every figure with its working, whether the readings agree, and all that was recorded, line by line."""

from __future__ import annotations


from journal.frozen import dataclass
from journal.pages.index import Index
from journal.pages.model import Link, Model, When
from journal.pages.parts.account import Account, account
from journal.pages.parts.agreement import Agreement, agreement
from journal.pages.parts.chain import ChainLink, chain, chain_remarks
from journal.pages.parts.fermentation import FermentationPart, fermentation_part
from journal.pages.parts.mash import MashPart, mash_part
from journal.pages.parts.moved import moved_here
from journal.pages.parts.notices import Notice, notices
from journal.pages.parts.recorded import RecordedGroup, recorded_anchors, recorded_groups
from journal.pages.parts.shared_wort import other_worts
from journal.pages.parts.working import FigureGroup, MissingReadings, Workings, figure_groups, zero_figures, missing_readings
from journal.pages.paths import accounts_path
from journal.pages.view import BatchView, view_of
from journal.pages.words import day
from journal.problems import Severity
from journal.reading import Batch


@dataclass(frozen=True, kw_only=True)
class AccountsModel(Model):
    """Everything on a batch's page of accounts; `batch` leads to the batch's own page, `notices` are notes on the entry, `moved`
    is what the record says of the numbers.
    """

    id: str
    title: str
    batch: Link
    brewed: When
    file: str
    planned: bool
    moved: tuple[Link, ...]
    notices: tuple[Notice, ...]
    chain: tuple[ChainLink, ...]
    chain_remarks: tuple[str, ...]
    account: Account | None
    agreement: Agreement | None
    mash: MashPart | None
    fermentation: FermentationPart | None
    recorded: tuple[RecordedGroup, ...]
    figures: tuple[FigureGroup, ...]
    nought: tuple[Link, ...]
    wanting: tuple[MissingReadings, ...]
    before: Link | None
    after: Link | None


def accounts_model(index: Index, batch: Batch) -> AccountsModel:
    """Everything on the page of one batch's accounts."""
    view = view_of(index, batch)
    groups = view.once(recorded_groups)
    anchors = recorded_anchors(groups)
    workings = Workings(view, anchors)
    notes = [problem for problem in index.problems_of(batch.file) if problem.severity is Severity.NOTE]
    summary = "Every figure with its working, and all that was recorded, line by line."
    return AccountsModel(
        frame=index.frame(f"{batch.id} {batch.title or ''}: accounts", "batches", summary, "article"),
        id=batch.id,
        title=batch.title or "",
        batch=index.link(batch),
        brewed=day(batch.day),
        file=batch.file,
        planned=batch.planned,
        moved=moved_here(index, batch),
        notices=notices(notes, anchors),
        chain=() if batch.planned else chain(view, workings),
        chain_remarks=() if batch.planned else chain_remarks(view),
        account=_account(view),
        agreement=agreement(view, anchors),
        mash=mash_part(view),
        fermentation=fermentation_part(view),
        recorded=groups,
        figures=figure_groups(workings),
        nought=zero_figures(workings),
        wanting=() if batch.planned else missing_readings(view),
        before=_accounts_of(index.beside(batch, -1)),
        after=_accounts_of(index.beside(batch, 1)),
    )


def _account(view: BatchView) -> Account | None:
    """Where the extract went; of a mash that gave several worts only where it is known what the others took."""
    index, batch = view.index, view.batch
    others = other_worts(index, batch) if batch.shares_mash else None
    if batch.shares_mash and others is None:
        return None
    return account(view.best, index.system, reconciled=index.reconciled(batch), others=others)


def _accounts_of(batch: Batch | None) -> Link | None:
    return Link(batch.id, accounts_path(batch.id)) if batch else None

"""A batch's page: the beer, the answer, the brewer's words, what went in, where the extract went, how it fermented."""

from __future__ import annotations


from journal.frozen import dataclass
from journal.pages.beer import beer_of
from journal.pages.index import Index
from journal.pages.labels import KINDS
from journal.pages.lead import in_short, lead, leading_number
from journal.pages.model import Link, Model, When
from journal.pages.parts.account import Account, account
from journal.pages.parts.beer import BeerFact, beer_facts
from journal.pages.parts.chain import ChainLink, chain, chain_remarks
from journal.pages.parts.course import CoursePicture
from journal.pages.parts.expected import Expected, expectations, what_they_rest_on
from journal.pages.parts.fermenting import FermentingLine, fermenting_line
from journal.pages.parts.mash import stepped_mash
from journal.pages.parts.moved import moved_here
from journal.pages.parts.notices import Notice, notices
from journal.pages.parts.recipe import RecipeGroup, recipe_groups
from journal.pages.parts.recorded import recorded_anchors, recorded_groups
from journal.pages.parts.relatives import RelativeLine, relatives
from journal.pages.parts.sheet import sheet
from journal.pages.parts.sheet.model import Sheet
from journal.pages.parts.tasting import TastingNote, tasting_notes
from journal.pages.paths import CAUTIONS_PAGE, accounts_path, by_link, card_path, recipe_path
from journal.pages.pictures import SizedPicture
from journal.pages.prose import diary
from journal.pages.site.cautions import cautions_for
from journal.pages.view import BatchView, view_of
from journal.pages.words import day
from journal.problems import Severity
from journal.reading import Batch
from journal.reading.table import is_blank


@dataclass(frozen=True, kw_only=True)
class BatchModel(Model):
    """Everything on a batch's page.

    `lead` are its opening sentences, of which the first begins with the number `told`, a link to its working. `tasted` is the
    tasting that stands in the head, `tastings` are those before it. `moved` is what the record says of its numbers. `accounts` and `recipe_page` are paths from the site's root.
    """

    id: str
    title: str
    brewed: When
    style: Link
    brewhouse: Link
    tags: tuple[Link, ...]
    file: str
    planned: bool
    picture: SizedPicture | None
    relatives: tuple[RelativeLine, ...]
    beer: tuple[BeerFact, ...]
    tasted: TastingNote | None
    tastings: tuple[TastingNote, ...]
    lead: tuple[str, ...]
    told: Link
    moved: tuple[Link, ...]
    notices: tuple[Notice, ...]
    sheet: Sheet | None
    prose: str
    recipe: tuple[RecipeGroup, ...]
    recipe_page: str
    account: Account | None
    fermenting: FermentingLine | None
    cautions: tuple[Link, ...]
    mash: CoursePicture | None
    chain: tuple[ChainLink, ...]
    chain_remarks: tuple[str, ...]
    expected: tuple[Expected, ...]
    expected_remark: str
    accounts: str
    before: Link | None
    after: Link | None


def _labels(index: Index, batch: Batch, name: str) -> tuple[Link, ...]:
    """What the batch is found by, leading to its place in the index."""
    kind = next(kind for kind in KINDS if kind.name == name)
    return tuple(Link(words, by_link(name, key)) for key, words in kind.of(index, batch))


def _notices(index: Index, batch: Batch, anchors: frozenset[str]) -> tuple[Notice, ...]:
    """What is odd; of a planned brew notes as well, for there is something to be done about them yet."""
    problems = index.problems_of(batch.file)
    odd = problems if batch.planned else [each for each in problems if each.severity is not Severity.NOTE]
    return notices(odd, anchors, accounts_path(batch.id))


def _cautions(batch: Batch) -> tuple[Link, ...]:
    """What the entry shows to be minded."""
    return tuple(Link(words, f"{CAUTIONS_PAGE}#{anchor}") for anchor, words in cautions_for(batch))


def _one_account(batch: Batch) -> bool:
    """Whether the extract can be followed on this page from grist to fermenter: one mash, one wort."""
    return batch.brewed_here and not batch.planned and not batch.shares_mash


def batch_model(index: Index, batch: Batch) -> BatchModel:
    """Everything on a batch's page."""
    view = view_of(index, batch)
    anchors = recorded_anchors(view.once(recorded_groups)) if index.problems_of(batch.file) else frozenset[str]()
    beer, notes, leads = beer_of(index.record, batch), tasting_notes(batch), view.once(lead)
    tasted = next((note for note in reversed(notes) if note.words or note.score), None)
    prose = diary(index, batch)
    expected = expectations(view)
    title = batch.title or ""
    brewed = batch.brewed_here and not batch.planned
    return BatchModel(
        frame=index.frame(f"{batch.id} {title}", "batches", in_short(view), "article", "" if batch.planned else card_path(batch.id, "png")),
        id=batch.id,
        title=title,
        brewed=day(batch.day),
        style=_labels(index, batch, "style")[0] if batch.style else Link(""),
        brewhouse=next(iter(_labels(index, batch, "brewhouse")), Link("")),
        tags=_labels(index, batch, "tag"),
        file=batch.file,
        planned=batch.planned,
        picture=prose.picture,
        relatives=relatives(index, batch),
        beer=beer_facts(view, beer),
        tasted=tasted,
        tastings=tuple(note for note in notes if note is not tasted),
        lead=leads,
        told=leading_number(view, leads),
        moved=moved_here(index, batch),
        notices=_notices(index, batch, anchors),
        sheet=sheet(view),
        prose=prose.html,
        recipe=recipe_groups(index, batch, chosen=True),
        recipe_page=recipe_path(batch.id),
        account=account(view.best, index.system, reconciled=index.reconciled(batch)) if _one_account(batch) else None,
        fermenting=fermenting_line(view),
        cautions=_cautions(batch),
        mash=stepped_mash(view),
        chain=chain(view) if brewed else (),
        chain_remarks=chain_remarks(view) if brewed else (),
        expected=expected,
        expected_remark=what_they_rest_on(expected),
        accounts=accounts_path(batch.id),
        before=_link(index, index.beside(batch, -1)),
        after=_link(index, index.beside(batch, 1)),
    )


def _link(index: Index, batch: Batch | None) -> Link | None:
    return index.link(batch) if batch else None

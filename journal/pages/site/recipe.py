"""A batch's recipe on one sheet, to hand on."""

from __future__ import annotations


from journal.frozen import dataclass
from journal.pages.index import Index
from journal.pages.lead import aim
from journal.pages.model import Link, Model, When
from journal.pages.parts.beer import BeerFact, beer_facts
from journal.pages.parts.recipe import RecipeGroup, recipe_groups
from journal.pages.parts.relatives import RelativeLine, relatives
from journal.pages.paths import recipe_path
from journal.pages.prose import leading_picture
from journal.pages.pictures import SizedPicture
from journal.pages.view import BatchView, view_of
from journal.pages.words import day
from journal.reading import Batch


@dataclass(frozen=True, kw_only=True)
class RecipeModel(Model):
    """Everything on a recipe's sheet; `aim` is what the brewer was after, empty where that is not stated."""

    id: str
    title: str
    batch: Link
    brewed: When
    style: str
    aim: str
    picture: SizedPicture | None
    relatives: tuple[RelativeLine, ...]
    beer: tuple[BeerFact, ...]
    recipe: tuple[RecipeGroup, ...]
    before: Link | None
    after: Link | None


def recipe_model(index: Index, batch: Batch) -> RecipeModel:
    """Everything on the sheet of one batch's recipe."""
    view = view_of(index, batch)
    title = batch.title or ""
    return RecipeModel(
        frame=index.frame(f"{batch.id} {title}: recipe", "batches", f"The recipe of {title}, on one sheet.", "article"),
        id=batch.id,
        title=title,
        batch=index.link(batch),
        brewed=day(batch.day),
        style=batch.style or "",
        aim=aim(view),
        picture=leading_picture(index, batch),
        relatives=relatives(index, batch, lambda each: recipe_path(each.id)),
        beer=beer_facts(view),
        recipe=recipe_groups(index, batch),
        before=_recipe_of(index.beside(batch, -1)),
        after=_recipe_of(index.beside(batch, 1)),
    )


def _recipe_of(batch: Batch | None) -> Link | None:
    return Link(batch.id, recipe_path(batch.id)) if batch else None

"""The recipe as a brewer would hand it on: what, how much, and when."""

from __future__ import annotations

import re
from typing import NamedTuple

from journal.frozen import dataclass
from journal.history.plan.rescale import Rescaled
from journal.pages.grist import malt_link
from journal.pages.index import Index
from journal.pages.model import UNBROKEN, Link
from journal.pages.parts.primed import missed
from journal.pages.paths import accounts_path, reading_anchor
from journal.pages.recipe_amounts import AS_BREWED, RecipeRow
from journal.pages.recipe_rows import RecipeRows
from journal.pages.view import view_of
from journal.reading import Batch
from journal.reading.kinds import GRAINS

#: Between a number and its unit.
_UNIT = re.compile(r"(?<=\d) (?=[^\W\d]|[%°])")


class RecipeLine(NamedTuple):
    """One thing of the recipe: what it is, how much as a link to the line of the entry, and its share or when it goes in."""

    what: Link
    amount: Link
    when: str


@dataclass(frozen=True)
class RecipeGroup:
    """Things of one kind."""

    words: str
    lines: tuple[RecipeLine, ...]


def recipe_groups(index: Index, batch: Batch, *, chosen: bool = False) -> tuple[RecipeGroup, ...]:
    """The recipe by kinds, those of which nothing is written left out; with only what was `chosen`, without what was read.

    A batch's own page has its readings elsewhere.
    """
    groups = (
        RecipeGroup(words, tuple(_line(index, batch, row) for row in found if not (chosen and row.read)))
        for words, found in rows_of(index, batch).groups()
    )
    return tuple(group for group in groups if group.lines)


def rows_of(index: Index, batch: Batch, by: Rescaled = AS_BREWED) -> RecipeRows:
    """The rows of a batch's recipe, multiplied as `by` has it."""
    balance = index.balance(batch) if batch.planned else None
    foreseen = {name: found.value for name, found in balance.foreseen.items()} if balance else {}
    return RecipeRows(batch, index.record.journal.malts, by, index.system, missed(view_of(index, batch)), foreseen)


def _line(index: Index, batch: Batch, row: RecipeRow) -> RecipeLine:
    """A row whose malt leads to the malts page and whose amount to where the accounts have it."""
    sheets = index.record.journal.malts.by_key
    described = row.lot in sheets or (row.lot in GRAINS and row.path.startswith("grains["))
    anchor = f"{accounts_path(batch.id)}#{reading_anchor(row.path)}"
    return RecipeLine(
        malt_link(row.lot, row.what) if described else Link(row.what),
        Link(row.amount.replace(" ", UNBROKEN), anchor if row.amount and row.path else ""),
        _UNIT.sub(UNBROKEN, row.when),
    )

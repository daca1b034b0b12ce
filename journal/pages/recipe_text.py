"""A recipe as plain text, to hand on: as it was brewed, or for another volume and brewhouse."""

from __future__ import annotations

from collections.abc import Iterator

from journal.history.plan.rescale import Rescaled
from journal.measures import writing
from journal.measures.wording import show
from journal.pages.beer import BEER_VOLUMES
from journal.pages.index import Index
from journal.pages.model import UNBROKEN
from journal.pages.parts.beer import beer_facts
from journal.pages.parts.recipe import rows_of
from journal.pages.recipe_amounts import AS_BREWED
from journal.pages.view import view_of
from journal.reading import Batch


def recipe_text(index: Index, batch: Batch, rescaled: Rescaled = AS_BREWED) -> str:
    """The recipe, a line a thing, as the page has it; amounts multiplied as `rescaled` has it, those that can't be are said to stay."""
    lines = [f"{batch.id} {batch.title}", *_wort(index, batch, rescaled)]
    for words, rows in rows_of(index, batch, rescaled).groups():
        lines += ["", words]
        lines += [
            f"  {row.amount:>10}  {', '.join(part for part in (row.what, row.when) if part)}".rstrip() for row in rows
        ]
    if rescaled is not AS_BREWED:
        lines += ["", *_remarks(index, batch, rescaled)]
    return "\n".join(lines).replace(UNBROKEN, " ")


def _wort(index: Index, batch: Batch, rescaled: Rescaled) -> Iterator[str]:
    """The style, what the beer came to, and for what it is rescaled."""
    if batch.style:
        yield batch.style
    facts = [fact for fact in beer_facts(view_of(index, batch)) if not (rescaled.volume and fact.name in BEER_VOLUMES)]
    for fact in facts:
        ended = f" → {fact.to.words} {fact.to.number.text}" if fact.to else ""
        yield " ".join(part for part in (fact.words, fact.number.text, fact.which) if part) + ended
    parts = []
    if rescaled.volume:
        parts.append(f"{writing.volume(rescaled.volume, index.system)} into the fermenter")
    if rescaled.efficiency:
        parts.append(f"at {show(rescaled.efficiency, 0.0, '1', index.system)} brewhouse efficiency")
    if parts:
        yield ", ".join(parts)


def _remarks(index: Index, batch: Batch, by: Rescaled) -> Iterator[str]:
    own = by.own_efficiency
    if own is not None and by.efficiency is not None:
        yield (
            f"Batch {batch.id} brought {show(own.value, own.sd, '1', index.system)} of its extract into the fermenter; the grist is "
            "calculated from that"
            + ("." if by.off is None else f", so the gravity is good to ± {by.off:.3f} where the yield is as stated.")
        )
    if own is not None and not index.record.counts(batch):
        yield (
            f"The readings of batch {batch.id} contradict one another, and this hangs on them: `wortbook explain {batch.id} balance` "
            "says which is likely wrong; --yield states an efficiency of your own."
        )
    yield "Bitterness is kept by the litre; it is good to a fifth at best, and another kettle may draw more or less from the same hops."
    yield (
        "Volumes of kettle and sparge are in proportion: what your vessels hold back and boil off is not in a recipe, so sparge with "
        "what fills your own kettle."
    )

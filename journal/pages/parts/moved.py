"""What moved, as the pages show it: one story, from `history/moved/words.py`."""

from __future__ import annotations

from functools import partial

from journal.frozen import dataclass
from journal.history.moved.causes import BREWING, INSTRUMENT
from journal.history.moved.move import Move
from journal.history.moved.words import (
    checks_that_tell,
    consequence,
    move_sentence,
    on_its_batches,
    on_the_plan,
    said_words,
    shares_remark,
    where_it_counts,
)
from journal.history.settings import lot_shares
from journal.pages.brewhouses import BrewhouseView, brewhouse_views
from journal.pages.grist import lot_name
from journal.pages.index import Index
from journal.pages.model import Link
from journal.reading import Batch


@dataclass(frozen=True)
class MoveTold:
    """One move: since when and what explains it; what is made of it; what the brewer says; what would settle it and where that is
    written; what shares are.

    `batch` leads to the first batch of it.
    """

    batch: Link
    sentence: str
    consequence: str
    said: str
    checks: tuple[str, ...]
    where: str
    remark: str


def tell_move(index: Index, house: BrewhouseView, move: Move) -> MoveTold:
    """One move in words."""
    named = partial(lot_name, index)
    batch = house.by_id[move.first_batch]
    return MoveTold(
        Link(f"Batch {batch.id}", index.paths[batch.file]),
        f"{move_sentence(move, index.system, named)}.",
        consequence(move),
        said_words(move),
        checks_that_tell(move, named),
        where_it_counts(move, batch.day),
        shares_remark(move),
    )


def tell_moves(index: Index, house: BrewhouseView) -> tuple[MoveTold, ...]:
    """Everything that moved in a brewhouse, the latest first."""
    moves = house.story.moved.moves if house.story else ()
    return tuple(tell_move(index, house, move) for move in reversed(moves))


def unsettled_moves(index: Index) -> tuple[Link, ...]:
    """An instrument or a lot that most likely moved, to this day: a sentence each, to what would settle it.

    What may be the brewing itself needs nobody's attention; the page of trends has it.
    """
    named = partial(lot_name, index)
    return tuple(
        Link(
            f"{house.name}: {sentence}." if house.name else f"{sentence}.",
            f"trends.html#{house.anchor}",
        )
        for house in brewhouse_views(index)
        for move in reversed(house.story.moved.moves if house.story else ())
        for sentence in [move_sentence(move, index.system, named)]
        if move.last_batch is None and move.likeliest.kind != BREWING
    )


def moved_here(index: Index, batch: Batch) -> tuple[Link, ...]:
    """What the record says of a batch's own numbers: a sentence for each move that it stands under and that an instrument or a lot
    made, or may have made; to where the corrected numbers and the checks stand.

    It hangs on later batches too, and so is part of the key of the batch's pages.
    """
    key = index.record.journal.brewhouse_key(batch)
    record = index.record.moved.get(key)
    if record is None:
        return ()
    to = f"trends.html#{index.anchors[key]}"
    named = partial(lot_name, index)
    if batch.planned:
        still = [move for move in record.moves if move.last_batch is None and move.likeliest.kind == INSTRUMENT]
        return tuple(Link(on_the_plan(move, index.system, named), to) for move in still)
    if batch.id not in record.place:
        return ()
    here = [move for move in record.moves if not move.brewing and record.holds(move.likeliest, batch.id)]
    lots = {"", *lot_shares(batch, index.record.journal.malts)} if here else set()
    return tuple(Link(on_its_batches(move, named), to) for move in here if move.likeliest.of in lots)

"""What moved in the record of one brewhouse, from its balanced batches."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import cached_property

from journal.balance import Balance
from journal.figures import BatchFigures
from journal.figures.instruments import EXTRACT_BY_SOURCE, malt_deviation
from journal.frozen import dataclass
from journal.history.fold import method_of
from journal.history.moved.causes import (
    BREWING,
    CAUSES,
    FERMENTER_MARKS,
    KETTLE_MARKS,
    LIQUOR_MEASURE,
    MALT_LOT,
    MALT_SCALE,
)
from journal.history.moved.find import find_moves
from journal.history.moved.lots import LotEffect
from journal.history.moved.move import Move, PossibleCause
from journal.history.moved.pattern import pattern_of
from journal.history.moved.practice_changed import practice_changed
from journal.history.moved.said import Said
from journal.history.moved.told import said_of
from journal.history.moved.weights import WeighedCause, listed
from journal.history.settings import lot_name_of, lot_shares, settings_of
from journal.history.usual import usual_of
from journal.measures.wording import METRIC
from journal.memory import FORGETFUL, Memory, digest_of
from journal.reading import Batch, Brewhouse, Journal, resolve

#: The share of a lot that a side of an unsettled move counts as: so much that nothing across it is learnt.
_FAR = 20.0
#: A step and a move this many batches apart are one.
NEAR_A_STEP = 5


#: What a brewer states of the vessels, by the instrument that the record reads it with.
_READ_BY = {
    KETTLE_MARKS: ("boil_off", "kettle_loss", "absorption", "dead_space"),
    FERMENTER_MARKS: ("kettle_loss",),
    LIQUOR_MEASURE: ("absorption", "dead_space"),
    MALT_SCALE: ("absorption", "dead_space"),
}


@dataclass(frozen=True)
class LotSheet:
    """What a lot's sheet says of its extract, a fraction of its weight, and the standard uncertainty, relative."""

    extract: float
    sd: float


@dataclass(frozen=True)
class MovedRecord:
    """What moved, in order of date; what each lot gave against its sheet; `order`: the batches of the brewhouse by date."""

    moves: tuple[Move, ...]
    lots: tuple[LotEffect, ...]
    sheets: Mapping[str, LotSheet]
    order: tuple[str, ...]

    @cached_property
    def place(self) -> dict[str, int]:
        """Where each batch stands in the order of brewing."""
        return {batch: place for place, batch in enumerate(self.order)}

    def holds(self, cause: PossibleCause, batch: str) -> bool:
        """Whether a batch lies in the stretch of a cause."""
        last = self.place[cause.last_batch] if cause.last_batch is not None else len(self.order)
        return self.place[cause.first_batch] <= self.place[batch] <= last

    def off(self, batch: str, shares: Mapping[str, float]) -> dict[str, float]:
        """What surely is off in a batch's readings, by cause, as `corrected` takes it; `shares` of its lots."""
        found: dict[str, float] = {}
        for move in self.moves:
            lead = move.likeliest
            if not move.corrects or not self.holds(lead, batch):
                continue
            size = lead.size
            if lead.cause == MALT_LOT:
                size *= shares.get(lead.of, 0.0) / self.sheets[lead.of].extract
            found[lead.cause] = found.get(lead.cause, 0.0) + size
        return found

    def doubts(self, learnt: str) -> bool:
        """Whether an instrument may be what makes the record say another thing of a vessel than its brewer states."""
        now = (cause.cause for move in self.moves if move.last_batch is None for cause in move.causes)
        return any(learnt in _READ_BY.get(cause, ()) for cause in now)

    def sides(self, batch: str) -> dict[str, float]:
        """On which side of each unsettled move a batch lies: what an instrument or a lot may have made, as if by a lot."""
        open_moves = [move for move in self.moves if not move.brewing and not move.corrects]
        return {
            f"before or after batch {move.first_batch}": _FAR
            for move in open_moves
            if self.holds(move.likeliest, batch)
        }

    def settled(self, batches: Sequence[str]) -> bool:
        """Whether nothing moved among some batches but what is corrected."""
        return all(
            move.corrects or len({self.holds(move.likeliest, batch) for batch in batches}) < 2 for move in self.moves
        )

    def by_brewing(self, before: Sequence[str], after: Sequence[str], change: float) -> bool:
        """Whether the brewing itself, and nothing that an instrument or a lot may have done, parts two stretches of batches, and
        makes an efficiency change that way: upwards or downwards as `change` has it.
        """
        if not self.moves:
            return False
        within = {self.place[batch] for batch in (*before, *after)}
        parts = [move for move in self.moves if min(within) < self.place[move.first_batch] <= max(within)]
        begins = self.place[after[0]]
        at_the_parting = [move for move in parts if abs(self.place[move.first_batch] - begins) <= NEAR_A_STEP]
        why = [move.likeliest for move in at_the_parting]
        return all(move.claims for move in parts) and any(CAUSES[c.cause].gains * c.size * change > 0.0 for c in why)


NOTHING_MOVED = MovedRecord((), (), {}, ())


def _sheets(batches: Sequence[Batch], journal: Journal) -> dict[str, LotSheet]:
    """The sheet of each lot, as the first batch that was brewed of it has it."""
    found: dict[str, LotSheet] = {}
    for batch in batches:
        for index, grain in enumerate(batch.grains):
            values = resolve(grain, f"grains[{index}]", journal.malts)
            stated = values.extract or values.extract_as_is
            if stated is not None and stated.value > 0.0:
                sd = malt_deviation(stated, EXTRACT_BY_SOURCE) / stated.value
                found.setdefault(lot_name_of(values), LotSheet(stated.value, sd))
    return found


def _cause(found: WeighedCause, batches: Sequence[str], sheets: Mapping[str, LotSheet]) -> PossibleCause:
    """An explanation in the units that are told, its places as batches."""
    size, low, high = found.size, found.low, found.high
    if found.cause == MALT_LOT:
        extract = sheets[found.of].extract
        size, low, high = -size * extract, -high * extract, -low * extract
    last = None if found.last >= len(batches) - 1 else batches[found.last]
    unit = CAUSES[found.cause].unit
    return PossibleCause(found.cause, found.of, size, low, high, unit, found.weight, batches[found.first], last)


def _move(causes: Sequence[WeighedCause], batches: Sequence[str], sheets: Mapping[str, LotSheet], said: Said) -> Move:
    """A move in the units that are told, with what the brewer says of it."""
    first = causes[0].first
    return Move(
        tuple(_cause(cause, batches, sheets) for cause in listed(causes)),
        sum(cause.weight for cause in causes if CAUSES[cause.cause].kind != BREWING),
        tuple(
            check for check in said.checked if check.before > first and check.cause in {each.cause for each in causes}
        ),
        next((told.words for told in said.told if told.words and abs(told.first - first) <= 1), ""),
    )


def moved_record(
    batches: Sequence[Batch],
    balances: Mapping[str, Balance],
    figures: Mapping[str, BatchFigures],
    journal: Journal,
) -> MovedRecord:
    """What moved among the batches of one brewhouse, in order of date; broken ones are looked at too."""
    brewhouse = journal.brewery.brewhouse_of(batches[0].brewhouse)[1] if batches else Brewhouse()
    usual = usual_of(list(batches), balances, brewhouse)
    if usual is None:
        return NOTHING_MOVED
    solved = [(batch, balances[batch.id].solution) for batch in batches]
    balanced = [(batch, at) for batch, at in solved if at is not None and at.model.mashed]
    patterns = [pattern_of(b, at, figures[b.id], usual.expected[method_of(b)]) for b, at in balanced]
    sheets = _sheets([batch for batch, _ in balanced], journal)
    lots = [lot_shares(batch, journal.malts) for batch, _ in balanced]
    said = said_of([batch for batch, _ in balanced], journal.brewery, brewhouse)
    settings = [settings_of(batch, figures[batch.id], lots[place]) for place, (batch, _) in enumerate(balanced)]
    said = replace(said, told=(*said.told, *practice_changed(settings, journal.brewery.units or METRIC)))
    found = find_moves(patterns, lots, {lot: sheet.sd for lot, sheet in sheets.items()}, said)
    names = [pattern.batch for pattern in patterns]
    moves = tuple(_move(causes, names, sheets, said) for causes in found.moves)
    return MovedRecord(moves, found.lots, sheets, tuple(batch.id for batch in batches))


def moved_of(
    batches: Sequence[Batch],
    balances: Mapping[str, Balance],
    figures: Mapping[str, BatchFigures],
    journal: Journal,
    memory: Memory = FORGETFUL,
) -> MovedRecord:
    """What moved in the record of one brewhouse, worked out once."""
    key = digest_of("moved", *(part for batch in batches for part in (batch.id, batch.facts_digest)))
    return memory.recall(key, lambda: moved_record(batches, balances, figures, journal))

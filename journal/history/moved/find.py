"""What moved in one brewhouse's record: its batches' patterns searched, a stretch at a time where the record is long."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from journal.frozen import dataclass
from journal.history.change.weigh import FEWEST_VALUES
from journal.history.moved.guard import RISK, by_chance, limit, strongest
from journal.history.moved.lots import LotEffect, lot_effects
from journal.history.moved.pattern import Pattern
from journal.history.moved.ratio import Moves, design_of, moves_of
from journal.history.moved.said import Said
from journal.history.moved.search import search
from journal.history.moved.weights import WeighedCause, weighed_causes
from journal.history.moved.whitened import whiten

#: Batches that are searched together, and how far the next stretch begins after the one before; a stretch speaks of moves
#: from EDGE batches after its begin.
_STRETCH, _ONWARD, _EDGE = 80, 60, 10
#: Said of less than this (a logarithm) scatter makes in more records than any risk allows.
_NOTHING = 0.5
#: Two moves of one cause undo one another when they differ from nothing by less than this many standard deviations.
_UNDONE = 2.0


@dataclass(frozen=True)
class Found:
    """Each move's explanations, in order of date, by places of batches in the record; and what each lot gave."""

    moves: tuple[tuple[WeighedCause, ...], ...]
    lots: tuple[LotEffect, ...]


def _stretches(count: int) -> list[tuple[int, int]]:
    """Begin and end of each stretch."""
    if count <= _STRETCH:
        return [(0, count)]
    begins = list(range(0, count - _STRETCH, _ONWARD))
    return [*((begin, begin + _STRETCH) for begin in begins), (count - _STRETCH, count)]


def _shifted(cause: WeighedCause, by: int, end: int, count: int) -> WeighedCause:
    """A cause by places in the whole record; what lasts to the end of its stretch lasts on, unless it is a lot's."""
    last = cause.last + by if cause.of or cause.last + by < end - 1 else count - 1
    return cause._replace(first=cause.first + by, last=last)


def _known(moves: Moves, found: Sequence[WeighedCause], begin: int) -> list[int]:
    """Places among the moves of a stretch of those that are known from the one before."""
    places = []
    for cause in found:
        for place, (name, of, first) in enumerate(zip(moves.cause, moves.of, moves.first.tolist(), strict=True)):
            if (name, of) == (cause.cause, cause.of) and (of or first == cause.first - begin):
                places.append(place)
    return places


def _without_undone(moves: list[tuple[WeighedCause, ...]]) -> list[tuple[WeighedCause, ...]]:
    """Moves in order of date; one that a later one of its cause undoes ends there, and the later one is part of it."""
    kept: list[tuple[WeighedCause, ...]] = []
    left = sorted(moves, key=lambda causes: causes[0].first)
    while left:
        causes = left.pop(0)
        lead = causes[0]
        after = next((other for other in left if other[0].cause == lead.cause and not lead.of), None)
        if after is not None and abs(lead.size + after[0].size) < _UNDONE * (lead.sd**2 + after[0].sd ** 2) ** 0.5:
            left.remove(after)
            causes = (lead._replace(last=after[0].first - 1), *causes[1:])
        kept.append(causes)
    return kept


def find_moves(
    patterns: Sequence[Pattern],
    lots: Sequence[Mapping[str, float]],
    sheets: Mapping[str, float],
    told: Said,
) -> Found:
    """Everything that moved, and what each lot gave.

    `patterns` of the batches of one brewhouse in order of date; `lots`: each one's shares of its grist's extract; `sheets`:
    relative standard uncertainty of each lot's extract; `told`: what the brewer says, by places of these batches.
    """
    count = len(patterns)
    if count < FEWEST_VALUES:
        return Found((), ())
    stretches = _stretches(count)
    found: list[tuple[WeighedCause, ...]] = []
    effects: dict[str, LotEffect] = {}
    for begin, end in stretches:
        w = whiten(patterns[begin:end], lots[begin:end], sheets)
        design = design_of(w)
        moves = moves_of(design, told.between(begin, end))
        known = _known(moves, [causes[0] for causes in found], begin)
        chosen = known
        beside = moves.given(known)
        if strongest(beside, beside.score) > _NOTHING:
            chosen = search(moves, limit(by_chance(design, moves), RISK / len(stretches)), known)
        least = begin + _EDGE if begin else 0
        most = begin + _ONWARD + _EDGE if end < count else count
        for place in range(len(known), len(chosen)):
            causes = weighed_causes(moves, chosen, place, end - begin)
            if least <= causes[0].first + begin < most or (causes[0].of and end < count):
                found.append(tuple(_shifted(cause, begin, end, count) for cause in causes))
        for effect in lot_effects(w, moves, chosen):
            if effect.lot not in effects or effect.batches > effects[effect.lot].batches:
                effects[effect.lot] = effect
    return Found(tuple(_without_undone(found)), tuple(effects.values()))

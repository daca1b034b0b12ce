"""Where the extract went: the steps from the grist's potential as far as the readings lead.

A step whose readings are wanting is merged with the next. What can't be true, extract that grows, is drawn as it comes.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from journal.figures import BatchFigures, Result
from journal.frozen import dataclass
from journal.measures.wording import METRIC, unit_for
from journal.pages.model import Number
from journal.pages.numbers import of_result, quantity
from journal.pages.parts.shared_wort import OtherWorts


@dataclass(frozen=True)
class Step:
    """One step of the extract account.

    `kind` is start, loss, gain, join, differ or end. `kg` and `share` (of `Account.of`) are as shown. In per cent of the
    picture's width: `left` and `width` of the step's bar, `track` of what is there beside it, `level` of what is there
    after it, and `low` and `high` of its uncertain end.
    """

    kind: str
    words: str
    kg: Number
    share: Number
    figure: str
    left: float
    width: float
    track: float
    level: float
    low: float
    high: float


@dataclass(frozen=True)
class Account:
    """Where the extract went, from the grist's potential as far as the readings lead; `remarks` stand below it.

    `of` is what the steps' shares are of, in words.
    """

    steps: tuple[Step, ...]
    summary: str
    remarks: tuple[str, ...]
    of: str


#: A loss below nothing by more than this many standard uncertainties is called what it is.
_BEYOND = 2.0


@dataclass(frozen=True)
class _Amount:
    """kg with its standard uncertainty, and the figure it is, if it is one."""

    value: float
    sd: float
    figure: str = ""


@dataclass(frozen=True)
class _Move:
    kind: str
    words: str
    amount: _Amount


def _amount(figures: BatchFigures, name: str) -> _Amount | None:
    result = figures.get(name)
    return None if result is None else _Amount(result.value, result.sd, name)


def _difference(before: Result, after: Result) -> _Amount:
    """What lies between two stations that no figure stands for.

    A reading that both depend on (an instrument's factor) moves both the same way, so the one's part is taken
    from the other's. Of reconciled stations these are the parts of the values as recorded, and the sum is more than
    what is left of it, never less.
    """
    parts = dict(before.parts)
    for source, sd in after.parts:
        parts[source] = parts.get(source, 0.0) - sd
    return _Amount(before.value - after.value, math.hypot(*parts.values()))


def _loss(amount: _Amount, words: str, impossible: str) -> _Move:
    grows = amount.value < -_BEYOND * amount.sd
    return _Move("gain", impossible, replace(amount, value=-amount.value)) if grows else _Move("loss", words, amount)


def _to_kettle(figures: BatchFigures, others: OtherWorts | None) -> Iterator[_Move]:
    """From the potential to the full kettle, or as far as the mash."""
    if others is not None:
        yield from _to_kettles(figures, others)
        return
    undissolved, unlautered = _amount(figures, "undissolved_extract"), _amount(figures, "unlautered_extract")
    if undissolved:
        yield _loss(undissolved, "not dissolved in the mash", "dissolved beyond the potential")
    if unlautered:
        dead, spent = _amount(figures, "dead_space_extract"), _amount(figures, "spent_grain_extract")
        if dead and spent and dead.value >= 0 and spent.value >= 0 and dead.sd > 0:
            yield _Move("loss", "left in the spent grain", spent)
            yield _Move("loss", "left in the dead space", dead)
        else:
            yield _loss(unlautered, "left in the mash tun", "more in the kettle than was dissolved")
    elif loss := _amount(figures, "mash_tun_loss"):
        yield _loss(loss, "left in the mash tun, dissolved or not", "more in the kettle than the grist offered")
    yield from _joins(figures, "early_extract", "joined before the boil")


def _to_kettles(figures: BatchFigures, others: OtherWorts) -> Iterator[_Move]:
    """From the potential to the full kettle of one wort, with what went into the other kettles of the same mash."""
    undissolved, kettle, early = (
        _amount(figures, n) for n in ("undissolved_extract", "kettle_extract", "early_extract")
    )
    if undissolved:
        yield _loss(undissolved, "not dissolved in the mash", "dissolved beyond the potential")
    before = next((r for n in _OF_THE_MASH if (r := figures.get(n))), None)
    if before is not None and kettle is not None:
        own = kettle.value - (early.value if early else 0.0)
        sd = math.hypot(before.sd, kettle.sd, early.sd if early else 0.0, others.sd)
        left = _Amount(before.value - own - others.value, sd)
        yield _loss(left, "left in the mash tun by all worts", "more in the kettles than there was before")
    yield _Move("loss", f"into the kettle of {others.words}", _Amount(others.value, others.sd))
    yield from _joins(figures, "early_extract", "joined before the boil")


def _joins(figures: BatchFigures, name: str, words: str) -> Iterator[_Move]:
    added = _amount(figures, name)
    if added and added.value > 0:
        yield _Move("join", words, added)


def _last_station(figures: BatchFigures) -> Result | None:
    """What is known before the fermenter: knockout, the full kettle, the mash, the grist."""
    names = ("knockout_extract", "kettle_extract", "dissolved_extract", "potential_extract")
    return next((result for name in names if (result := figures.get(name))), None)


#: Stations that hold the grist's extract alone.
_OF_THE_MASH = ("dissolved_extract", "potential_extract")

_BEFORE_FERMENTER = {
    "knockout_extract": ("left in the kettle", "more in the fermenter than at knockout"),
    "kettle_extract": ("lost in the boil and left in the kettle", "more in the fermenter than in the kettle"),
    "dissolved_extract": ("left in mash tun and kettle", "more in the fermenter than was dissolved"),
    "potential_extract": ("left on the way, not known where", "more in the fermenter than the grist offered"),
}


def _to_fermenter(figures: BatchFigures, *, reconciled: bool) -> Iterator[_Move]:
    """From the full kettle, or what is known before it, to the fermenter."""
    knockout, fermenter = figures.get("knockout_extract"), figures.get("fermenter_extract")
    yield from _joins(figures, "kettle_added_extract", "joined in the kettle")
    if knockout:
        gain = _amount(figures, "boil_gain")
        before = None if gain else next((r for n in _OF_THE_MASH if (r := figures.get(n))), None)
        if gain and not reconciled:
            yield _Move("differ", "the two kettle readings differ", gain)
        elif before:
            yield _loss(
                _less_added(_difference(before, knockout), figures, "early_extract", "kettle_added_extract"),
                "left in the mash tun",
                "more at knockout than there was before",
            )
    last = _last_station(figures)
    if fermenter and last:
        left = _amount(figures, "kettle_left_extract") if knockout else None
        if left is None:
            joined = ["fermenter_added_extract"]
            joined += [] if knockout else ["kettle_added_extract"]
            joined += ["early_extract"] if last.name in _OF_THE_MASH else []
            left = _less_added(_difference(last, fermenter), figures, *joined)
        yield _loss(left, *_BEFORE_FERMENTER[last.name])
    if fermenter:
        yield from _joins(figures, "fermenter_added_extract", "joined in the fermenter")


def _less_added(difference: _Amount, figures: BatchFigures, *added: str) -> _Amount:
    joined = [result for name in added if (result := figures.get(name))]
    value = difference.value + sum(result.value for result in joined)
    return _Amount(value, math.hypot(difference.sd, *(result.sd for result in joined)))


def _together(amounts: list[_Amount]) -> _Amount:
    return _Amount(sum(each.value for each in amounts), math.hypot(*(each.sd for each in amounts)))


def _end(figures: BatchFigures) -> _Move | None:
    ends = (
        ("fermenter_extract", "into the fermenter"),
        ("knockout_extract", "in the kettle at knockout"),
        ("kettle_extract", "in the full kettle"),
        ("dissolved_extract", "dissolved in the mash"),
    )
    for name, words in ends:
        if amount := _amount(figures, name):
            return _Move("end", words, amount)
    return None


def _drawn(moves: list[_Move], figures: BatchFigures, system: str, *, shared: bool) -> Iterator[Step]:
    """The moves with their places in the picture, in per cent of its width."""
    joined = _together([move.amount for move in moves if move.kind == "join"]).value
    level, levels = 0.0, []
    for move in moves:
        before = level
        after = {"start": move.amount.value, "loss": level - move.amount.value, "end": move.amount.value}.get(
            move.kind, level + move.amount.value
        )
        levels.append((before, after))
        level = after
    top = max(max(after, before) + move.amount.sd for move, (before, after) in zip(moves, levels, strict=True)) or 1.0

    def per_cent(kg: float) -> float:
        return round(min(max(kg / top, 0.0), 1.0) * 100, 2)

    for move, (before, after) in zip(moves, levels, strict=True):
        whole = move.kind in {"start", "end"}
        low, high = (0.0, after) if whole else (min(before, after), max(before, after))
        yield Step(
            kind=move.kind,
            words=move.words,
            kg=quantity(move.amount.value, move.amount.sd, "kg", system),
            share=_share(move, figures, system, joined=joined, shared=shared),
            figure=move.amount.figure,
            left=per_cent(low),
            width=round(per_cent(high) - per_cent(low), 2),
            track=per_cent(min(before, after)),
            level=per_cent(after),
            low=per_cent(after - move.amount.sd),
            high=per_cent(after + move.amount.sd),
        )


#: Amounts whose share of the potential is a figure of its own, if no sugar joined on the way.
_EFFICIENCY = {
    "fermenter_extract": "brewhouse_efficiency",
    "kettle_extract": "mash_efficiency",
    "dissolved_extract": "conversion_efficiency",
}


def _share(move: _Move, figures: BatchFigures, system: str, *, joined: float, shared: bool) -> Number:
    """A move's share of all extract: of the grist's potential, and of what joined.

    The efficiencies of a mash that is `shared` are those of all its worts, and no share of one of them.
    """
    whole = figures["potential_extract"].value + joined
    if move.kind == "start" and not joined:
        return Number("100", "", "", unit_for("1", system).sign)
    efficiency = None if joined or shared else figures.get(_EFFICIENCY.get(move.amount.figure, ""))
    if efficiency is not None:
        return of_result(efficiency, system)
    # what the whole is good to moves all shares alike: between them it says nothing
    spread = 0.0 if move.kind == "start" else move.amount.sd / whole
    return quantity(move.amount.value / whole, spread, "1", system)


def account(
    figures: BatchFigures, system: str = METRIC, *, reconciled: bool = False, others: OtherWorts | None = None
) -> Account | None:
    """The account of a batch; None where the grist's potential or every later station is unknown.

    `others` is what other worts of the same mash took of it.
    Once `reconciled`, the two readings of the kettle are one extract, and nothing lies between them.
    """
    potential, end = figures.get("potential_extract"), _end(figures)
    if potential is None or potential.value <= 0 or end is None:
        return None
    start = _Move("start", "the grist’s potential", _Amount(potential.value, potential.sd, "potential_extract"))
    moves = [start, *_to_kettle(figures, others), *_to_fermenter(figures, reconciled=reconciled), end]
    steps = tuple(_drawn(moves, figures, system, shared=others is not None))
    joined = _together([move.amount for move in moves if move.kind == "join"])
    added = f" and {quantity(joined.value, joined.sd, 'kg', system).text} that joined it" if joined.value else ""
    went = "went" if end.amount.figure == "fermenter_extract" else "is known to be"
    summary = f"Of {steps[0].kg.text} of extract in the grist{added}, {steps[-1].kg.text} {went} {end.words}."
    remarks = _remarks(moves, figures, reconciled=reconciled)
    of = "of all extract" if joined.value else "of the potential"
    return Account(steps, summary, (*_of_all_worts(figures, others, system), *remarks), of)


def _of_all_worts(figures: BatchFigures, others: OtherWorts | None, system: str) -> Iterator[str]:
    """What all worts of a shared mash brought together, where the account is one of them."""
    together = figures.get("brewhouse_efficiency")
    if others is not None and together is not None:
        share = of_result(together, system).text
        yield f"The mash gave the wort of {others.words} as well: all fermenters together have {share} of the potential."


def _remarks(moves: list[_Move], figures: BatchFigures, *, reconciled: bool) -> tuple[str, ...]:
    kinds = {move.kind for move in moves}
    remarks = []
    if reconciled and figures.get("boil_gain"):
        remarks.append("Reconciled: before the boil and after it, the kettle holds one and the same extract.")
    if "differ" in kinds:
        remarks.append(
            "Boiling drives off water and no extract: what the two kettle readings differ by is the readings’ own doing."
        )
    if "join" in kinds:
        remarks.append(
            "The per cents are of all extract, the grist’s and what joined; the brewhouse efficiency counts the grist’s alone."
        )
    if "gain" in kinds:
        remarks.append("A step that gains can’t be true: one of the readings beside it is wrong.")
    return tuple(remarks)

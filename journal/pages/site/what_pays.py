"""Where it goes, what pays: a brewhouse's extract account, what would bring more of it into the fermenter, and how to learn most."""

from __future__ import annotations

from collections.abc import Sequence

from journal.frozen import dataclass
from journal.history.pays import Pays, SpargeTable
from journal.history.story import VERDICT_FROM
from journal.measures.wording import plain, show, unit_for
from journal.pages.brewhouses import BrewhouseView, brewhouse_views
from journal.pages.charts.losses import LossesPicture
from journal.pages.charts.strip import StripAxis
from journal.pages.differences import join
from journal.pages.factors import settle_words
from journal.pages.index import Index
from journal.pages.model import UNBROKEN, Link, Model
from journal.pages.parts.losses import LossRow, into_words, loss_rows, loss_words, losses_picture
from journal.pages.parts.paying import (
    ChangeRow,
    HabitRow,
    change_rows,
    changes_axis,
    gain_words,
    habit_rows,
    readings_to_add,
    unwritten_words,
    usual_words,
    worth_words,
)
from journal.pages.paths import PRACTICE_PAGE
from journal.pages.verdict import what_moved
from journal.pages.counted import count_batches, how_many
from journal.pages.words import sentence
from journal.problems import capital, in_words

_TICKS = 5
#: How well malt a year is known, as a share of it: brews come as they come.
_ABOUT = 0.1
#: Batches that are named one by one, at most.
_NAMED = 3


@dataclass(frozen=True)
class WhatIfRow:
    """A sparge volume: how much longer the boil is, and the efficiency for each number of fillings; `now` is the place of how it is brewed, -1 for none."""

    sparge: str
    boil: str
    cells: tuple[str, ...]
    now: int


@dataclass(frozen=True)
class WhatIfTable:
    """Sparge volume against the fillings it is given in."""

    fillings: tuple[str, ...]
    rows: tuple[WhatIfRow, ...]


@dataclass(frozen=True)
class PaysSection:
    """One brewhouse; `name` is empty where there is only one.

    `answer` says it all in a sentence, `ending` how much there is to be had, `good` what a newcomer asks; `told` whether there are batches
    enough to speak of practice. `changes` lead, `small` are the rest, which `rest` tells in a line; `settled`, `usual` and `unwritten` are
    what is as it should be, and what nobody can say. Whatever is not known is empty.
    """

    name: str
    anchor: str
    answer: str
    batches: str
    moved: str
    told: bool
    picture: LossesPicture | None
    rows: tuple[LossRow, ...]
    quarter: bool
    priced: bool
    axis: StripAxis | None
    changes: tuple[ChangeRow, ...]
    small: tuple[ChangeRow, ...]
    rest: str
    ending: str
    settled: str
    habits: tuple[HabitRow, ...]
    usual: str
    unwritten: str
    next_brew: str
    what_if: WhatIfTable | None
    good: tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class WhatPaysModel(Model):
    """Every brewhouse, the one with most batches first; `practice` leads to the factors."""

    sections: tuple[PaysSection, ...]
    practice: Link


def pays_sentence(index: Index, house: BrewhouseView) -> str:
    """Where the extract of a brewhouse mostly goes, and what pays first; empty where no batch counts."""
    pays = house.story.pays if house.story else None
    if pays is None:
        return ""
    most = max(pays.losses, key=lambda loss: loss.share)
    went = (
        f"{_over(pays)} {into_words(index, pays)} of the malt’s extract went into the fermenter; the largest part "
        f"of the rest, {join(plain(100 * most.share, 1), '%')}, was {loss_words(most)}."
    )
    return f"{went} {_first(index, pays)}"


def _over(pays: Pays) -> str:
    count = len(pays.batches)
    return "In the one batch that counts" if count == 1 else f"On average over the latest {how_many(count)} batches that count,"


def _first(index: Index, pays: Pays) -> str:
    """What to change first, or that there is nothing to be had."""
    if pays.ending == "too few batches":
        return f"Of practice nothing is said before there are {how_many(VERDICT_FROM)}."
    if pays.ending == "near the limit":
        return "That is near what these vessels can do; more is a question of vessels."
    if not pays.changes:
        return "Nothing that was looked at brings more."
    first = pays.changes[0]
    return f"What pays first: {first.change}, {gain_words(index, first)}, which saves {worth_words(index, first)}."


def next_brew_words(index: Index, house: BrewhouseView) -> str:
    """What the next brew should change to learn most, as a sentence; empty where nothing would be learnt.

    Of the factors that are not clear yet, the one that is worth most; where no account is known, the one that would be told soonest.
    """
    if house.story is None:
        return ""
    pays = house.story.pays
    if pays is not None and pays.next_brew is not None:
        return settle_words(pays.next_brew.settling, index.system)
    return next((words for study in house.story.studies if (words := settle_words(study.settling, index.system))), "")


#: What the limit of these vessels takes, in words.
_AT_BEST = (
    "everything dissolved, the bed rinsed as well as this much liquor can, and nothing left under it or with the trub"
)


def _ending(pays: Pays) -> str:
    room = join(plain(100 * (pays.into_fermenter_physical - pays.into_fermenter.value), 0), "points")
    limit = join(plain(100 * pays.into_fermenter_physical, 0), "%")
    if pays.ending == "near the limit":
        return (
            "No change here brings a point: your losses are near what these vessels can do, and more is a question of vessels. "
            f"With {_AT_BEST}, it would be {limit}."
        )
    return (
        f"With {_AT_BEST}, {limit} would reach the fermenter, {room} more. No brewery gets all of that; each gain here is for its "
        "change alone, and two together bring less than their sum."
    )


def _good(pays: Pays | None, house: BrewhouseView) -> tuple[str, ...]:
    """What a newcomer asks: is it good?"""
    missing = readings_to_add([batch for batch in house.batches if not batch.planned])
    limit = (
        f"Compare with what your own vessels could do: with {_AT_BEST}, {join(plain(100 * pays.into_fermenter_physical, 0), '%')} of the malt’s extract would reach the fermenter, and you are "
        f"at {join(plain(100 * pays.into_fermenter.value, 0), '%')}."
        if pays
        else "What your vessels can do at best is worked out from the first batch that has the weights, the liquors, and volume and gravity in the fermenter."
    )
    others = (
        "Other brewers’ numbers can’t be compared with yours: theirs count from another malt’s sheet, up to another vessel, with volumes "
        "read hot or cold, and a stronger beer always leaves more in the grain."
    )
    first = (
        f"To know more, add {in_words(missing)} first."
        if missing
        else "The readings that matter most are all there; better or checked instruments would now help more than further readings."
    )
    return limit, others, first


def _what_if(index: Index, table: SpargeTable | None) -> WhatIfTable | None:
    if table is None:
        return None
    row, column = table.now
    return WhatIfTable(
        tuple("one filling" if count == 1 else f"{how_many(count)} fillings" for count in table.run_offs),
        tuple(
            WhatIfRow(
                join(str(show(sparge, 0.0, "L", index.system))),
                _boil(minutes),
                tuple(plain(100 * each, 1) for each in efficiencies),
                column if place == row else -1,
            )
            for place, (sparge, efficiencies, minutes) in enumerate(
                zip(table.sparge, table.efficiency, table.minutes, strict=True)
            )
        ),
    )


def _boil(minutes: float | None) -> str:
    if minutes is None:
        return ""
    whole = round(minutes)
    return "boil as now" if whole == 0 else join(str(abs(whole)), "min", "longer" if whole > 0 else "shorter")


def _rest(small: Sequence[ChangeRow]) -> str:
    """The small changes in a line; empty for none."""
    if not small:
        return ""
    return "One more change, below half a point" if len(small) == 1 else f"{capital(how_many(len(small)))} more changes, each below half a point"


def _section(index: Index, house: BrewhouseView) -> PaysSection:
    pays = house.story.pays if house.story else None
    lead, small = change_rows(index, pays) if pays else ((), ())
    axis = changes_axis(pays.changes) if pays and pays.changes else None
    told = pays is not None and pays.practice_told
    return PaysSection(
        name=house.name,
        anchor=house.anchor,
        answer=pays_sentence(index, house) or "No batch counts yet: its grist, its liquors, and volume and gravity on the way are needed.",
        batches=_batches(index, pays) if pays else "",
        moved=what_moved(index, house) if pays else "",
        told=told,
        picture=losses_picture(index, pays) if pays else None,
        rows=loss_rows(index, pays) if pays else (),
        quarter=pays is not None and pays.into_fermenter_best_quarter is not None,
        priced=pays is not None and pays.price is not None,
        axis=StripAxis(axis, axis.ticks(_TICKS, sign=True), "points") if axis else None,
        changes=lead,
        small=small,
        rest=_rest(small),
        ending=_ending(pays) if pays else "",
        settled=sentence(in_words(pays.settled)) if pays else "",
        habits=habit_rows(pays.handbook) if pays else (),
        usual=usual_words(pays.handbook) if pays else "",
        unwritten=unwritten_words(pays.handbook) if pays else "",
        next_brew=next_brew_words(index, house) if told else "",
        what_if=_what_if(index, pays.table) if pays else None,
        good=_good(pays, house),
    )


def _batches(index: Index, pays: Pays) -> str:
    first, last = pays.batches[0], pays.batches[-1]
    # two may have others between them that don't count
    named = in_words(pays.batches) if len(pays.batches) <= _NAMED else f"{first} to {last}"
    which = f"batch {first}" if first == last else f"{count_batches(len(pays.batches))}, {named}"
    how = f", all by {pays.method}" if pays.method and len(pays.batches) > 1 else ""
    used = join(str(show(pays.malt_kg_a_year, _ABOUT * pays.malt_kg_a_year, "kg", index.system).value), unit_for("kg", index.system).sign)
    return f"From {which}{how}. At the rate you brew now, a year takes {used} of malt."


def what_pays_model(index: Index) -> WhatPaysModel:
    """Everything on the page of what pays."""
    return WhatPaysModel(
        frame=index.frame("Where it goes, what pays", "pays", "Where the malt’s extract stays behind, and what would bring more of it into the fermenter."),
        sections=tuple(_section(index, house) for house in brewhouse_views(index)),
        practice=Link("What goes with a better figure", PRACTICE_PAGE),
    )

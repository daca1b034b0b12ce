"""From the account of the latest batches to what pays first."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from itertools import chain, islice
from statistics import median

import numpy as np

from journal.balance import Balance, common_practice
from journal.balance.model import Solution
from journal.figures import BatchFigures
from journal.frozen import dataclass
from journal.history.fold import method_of
from journal.history.levers import LeverResult, Settling
from journal.history.levers.rows import is_number
from journal.history.moved.corrected import corrected
from journal.history.moved.record import MovedRecord
from journal.history.pays.account import physical_limit
from journal.history.pays.alter import model_changes
from journal.history.pays.answer import PLACES, Ending, ExtractLoss, PayingChange, Pays, Share
from journal.history.pays.doubts import doubted_causes, without_doubted
from journal.history.pays.gains import (
    LEAST_GAIN,
    FoundFactor,
    YearOfMalt,
    by_model,
    by_record,
    next_test,
    rank_changes,
    settle_thickness,
    well_set,
)
from journal.history.pays.habitual import Habitual
from journal.history.pays.handbook import LOW_CONVERSION, handbook_habits
from journal.history.pays.level import BatchWord, mean_habits, word_of
from journal.history.pays.sparging import sparge_table
from journal.history.pays.year import batches_a_year, price_per_kg
from journal.history.settings import Setting, lot_shares, settings_of
from journal.measures.wording import METRIC
from journal.numerics import Vector
from journal.numerics.slopes import variances
from journal.reading import Batch, Brewhouse, Journal

#: Batches looked at, the latest that count.
LATEST = 20
#: Further back than those it is looked for others of their way of lautering, so many batches.
FAR_BACK = 60
#: A gain worth a recommendation of its own.
A_POINT = 0.01
#: What is said where a change would bring hardly anything.
_AS_IT_SHOULD_BE = {
    "equal-run-offs": "the run-offs are of about equal size",
    "half-dead-space": "next to nothing stays in the dead space",
    "half-kettle-loss": "next to nothing stays in the kettle",
    "evener-run-off": "the bed is rinsed as evenly as a well-stirred one",
}
#: From so many batches on practice is spoken of, and a best quarter told.
PRACTICE_FROM, QUARTER_FROM = 5, 8


@dataclass(frozen=True)
class StudiedRecord:
    """What the record of a brewhouse says besides: what moved in it, what the factors do and what would settle them, by figure;
    `settings` of all batches.

    `lot_sd`: relative standard uncertainty of a lot's sheet.
    """

    moved: MovedRecord
    results: Mapping[str, Sequence[LeverResult]]
    settlings: Mapping[str, Sequence[Settling]]
    settings: Sequence[Mapping[str, Setting]]
    lot_sd: float


@dataclass(frozen=True)
class CountedBatch:
    """A batch that counts, what it says of its brewhouse, and its lots' shares of its grist."""

    batch: Batch
    word: BatchWord
    lots: Mapping[str, float]


def batches_that_count(
    batches: Sequence[Batch], balances: Mapping[str, Balance], journal: Journal, moved: MovedRecord
) -> list[CountedBatch]:
    """The latest batches of a brewhouse that count, lautered as most of the latest were, in order of brewing.

    Not those whose balance is broken, nor those without a mash of their own. What surely moved is taken out of their readings.
    """
    count = (found for batch in reversed(batches) if (found := _counted(batch, balances[batch.id], journal, moved)))
    latest = list(islice(count, LATEST))
    if not latest:
        return []
    method = Counter(method_of(each.batch) for each in latest).most_common(1)[0][0]
    alike = (each for each in chain(latest, islice(count, FAR_BACK)) if method_of(each.batch) == method)
    return list(islice(alike, LATEST))[::-1]


def _counted(batch: Batch, balance: Balance, journal: Journal, moved: MovedRecord) -> CountedBatch | None:
    at = _solution(batch, balance)
    if at is None:
        return None
    lots = lot_shares(batch, journal.malts)
    off = moved.off(batch.id, lots)
    try:
        return CountedBatch(batch, word_of(corrected(batch, at, off) if off else at), lots)
    except np.linalg.LinAlgError:
        return None


def _solution(batch: Batch, balance: Balance) -> Solution | None:
    at = balance.solution if balance.holds else None
    return None if at is None or not at.model.mashed or batch.relatives.seconds else at


def what_pays(
    key: str,
    batches: Sequence[Batch],
    journal: Journal,
    figures: Mapping[str, BatchFigures],
    balances: Mapping[str, Balance],
    record: StudiedRecord,
) -> Pays | None:
    """What pays first in one brewhouse, whose `key` and `batches` in order of brewing these are; None where no batch counts."""
    moved = record.moved
    found = batches_that_count(batches, balances, journal, moved)
    if not found:
        return None
    brewhouse = journal.brewery.brewhouses.get(key, Brewhouse())
    method = method_of(found[0].batch)
    words = [each.word for each in found]
    evidence = [balances[each.batch.id].evidence for each in found]
    habits = mean_habits(words, evidence, common_practice(brewhouse, method))
    habitual = Habitual(tuple(word.brewing for word in words), habits)
    grain = sum(each.word.brewing[1].grain for each in found) / len(found)
    # a part of a brew, and a second wort of one mash, take no malt of their own
    malt = grain * batches_a_year([batch for batch in batches if batch.brewed_here and not batch.second_wort_of])
    price = price_per_kg([each.batch for each in found], figures, journal.malts)
    sheets = _sheets(found, record.lot_sd)
    losses, into, quarter, physical = _where_it_goes(habitual, sheets, malt, price)
    year = YearOfMalt(malt, price, into.value)
    system = journal.brewery.units or METRIC
    settings = [settings_of(each.batch, figures[each.batch.id], each.lots) for each in found]
    told = len(found) >= PRACTICE_FROM
    counts_for = _counts_for(habitual.mean.shares)
    possible_changes = model_changes(habitual, method, brewhouse, _run_off_time(settings), system)
    possible = list(by_model(habitual, without_doubted(possible_changes, moved), year, sheets))
    factors = [FoundFactor(figure, record.results[figure], counts_for[figure]) for figure in counts_for]
    if told:
        recorded = list(by_record(factors, settings, record.settings, year, system))
        possible = settle_thickness(habitual, factors, possible, recorded, year)
    changes = rank_changes(possible)
    low_conversion = losses[0].share > LOW_CONVERSION
    return Pays(
        brewhouse=key,
        method=method,
        batches=tuple(each.batch.id for each in found),
        losses=losses,
        into_fermenter=into,
        into_fermenter_best_quarter=quarter,
        into_fermenter_physical=physical,
        malt_kg_a_year=malt,
        price=price,
        changes=changes,
        settled=(*_settled(possible), *(well_set(factors, changes) if told else ())),
        handbook=handbook_habits(settings, system) if told and low_conversion else (),
        next_brew=next_test(factors, record.settlings) if told else None,
        table=sparge_table(habitual, method, system),
        ending=_ending(changes, told=told, low_conversion=low_conversion),
        doubted=doubted_causes(moved),
    )


def _run_off_time(settings: Sequence[Mapping[str, Setting]]) -> float | None:
    times = [float(value) for each in settings if is_number(value := each.get("lauter_time", ""))]
    return median(times) if times else None


def _counts_for(shares: Vector) -> dict[str, float]:
    """How many points of what reaches the fermenter a point of each studied figure is."""
    missed, into = float(shares[0]), float(shares[-1])
    lautered = float(shares[-1] + shares[-2]) / (1.0 - missed)
    return {
        "brewhouse_efficiency": 1.0,
        "conversion_efficiency": into / (1.0 - missed),
        "lauter_efficiency": into / lautered,
    }


def _settled(possible: Sequence[PayingChange]) -> tuple[str, ...]:
    """What is already as it should be."""
    gains = {each.key: each.gain for each in possible}
    return tuple(words for key, words in _AS_IT_SHOULD_BE.items() if key in gains and gains[key] < LEAST_GAIN)


def _ending(changes: Sequence[PayingChange], *, told: bool, low_conversion: bool) -> Ending:
    if not told:
        return "too few batches"
    return "changes pay" if low_conversion or any(change.gain >= A_POINT for change in changes) else "near the limit"


def _sheets(found: Sequence[CountedBatch], lot_sd: float) -> float:
    """Relative standard uncertainty of the mean grist's potential, as far as its lots' sheets may be wrong."""
    lots = {lot for each in found for lot in each.lots}
    return lot_sd * float(
        np.hypot.reduce([sum(e.lots.get(lot, 0.0) for e in found) / len(found) for lot in sorted(lots)] or [0.0])
    )


def _where_it_goes(
    habitual: Habitual, sheets: float, malt: float, price: float | None
) -> tuple[tuple[ExtractLoss, ...], Share, float | None, float]:
    mean = habitual.mean
    # a sheet that promises too much makes all that was got out a larger share: what was not dissolved takes the whole of it
    by_sheet = np.append(mean.shares[0] - 1.0, mean.shares[1:]) * sheets
    reach = habitual.factor * np.sqrt(variances(mean.slopes, habitual.habits.covariance) + by_sheet**2)
    quarter = _best_quarter(habitual) if len(habitual.brewings) >= QUARTER_FROM else None
    limit = habitual.at_mean(physical_limit)
    losses = tuple(
        ExtractLoss(
            place=name,
            share=float(mean.shares[at]),
            low=float(mean.shares[at] - reach[at]),
            high=float(mean.shares[at] + reach[at]),
            malt_kg_a_year=float(mean.shares[at]) * malt,
            money_a_year=None if price is None else float(mean.shares[at]) * malt * price,
            best_quarter=None if quarter is None else float(quarter[at]),
            physical=float(limit[at]),
        )
        for at, name in enumerate(PLACES)
    )
    into = Share(float(mean.shares[-1]), float(mean.shares[-1] - reach[-1]), float(mean.shares[-1] + reach[-1]))
    return losses, into, None if quarter is None else float(quarter[-1]), float(limit[-1])


def _best_quarter(habitual: Habitual) -> Vector:
    """The account of that quarter of the batches whose ways bring most of the usual grists into the fermenter.

    By each batch's own best estimate, which lies nearer to the mean than its readings do; so luck in the readings makes no best quarter.
    """
    accounts = habitual.each_batch()
    best = np.argsort(-accounts[-1], kind="stable")[: max(1, round(accounts.shape[1] / 4))]
    mean: Vector = np.mean(accounts[:, best], axis=1)
    return mean

"""From the account of the latest batches to what pays first."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from journal.balance import Balance, common_practice
from journal.balance.model import Solution
from journal.figures import BatchFigures
from journal.history.fold import method_of
from journal.history.moved.corrected import corrected
from journal.history.moved.record import MovedRecord
from journal.history.pays.account import physical_limit
from journal.history.pays.answer import PLACES, ExtractLoss, Pays, Share
from journal.history.pays.habitual import Habitual
from journal.history.pays.level import BatchWord, mean_habits, word_of
from journal.history.pays.year import batches_a_year, price_per_kg
from journal.history.settings import lot_shares
from journal.numerics import Vector
from journal.numerics.slopes import variances
from journal.reading import Batch, Brewhouse, Journal

#: Batches looked at, the latest that count.
LATEST = 20
#: From so many batches on practice is spoken of, and a best quarter told.
PRACTICE_FROM, QUARTER_FROM = 5, 8


@dataclass(frozen=True)
class CountedBatch:
    """A batch that counts, what it says of its brewhouse, and its lots' shares of its grist."""

    batch: Batch
    word: BatchWord
    lots: Mapping[str, float]


def counted(
    batches: Sequence[Batch], balances: Mapping[str, Balance], journal: Journal, moved: MovedRecord
) -> list[CountedBatch]:
    """The latest batches of a brewhouse that count, lautered as most of them were, in order of brewing; what surely moved is taken out
    of them.

    Not those whose balance is broken, nor those without a mash of their own.
    """
    found: list[CountedBatch] = []
    for batch in reversed(batches):
        if len(found) == LATEST:
            break
        at = _solution(batch, balances[batch.id])
        if at is not None:
            lots = lot_shares(batch, journal.malts)
            off = moved.off(batch.id, lots)
            found.append(CountedBatch(batch, word_of(corrected(batch, at, off) if off else at), lots))
    if not found:
        return []
    method = Counter(method_of(each.batch) for each in found).most_common(1)[0][0]
    return [each for each in reversed(found) if method_of(each.batch) == method]


def _solution(batch: Batch, balance: Balance) -> Solution | None:
    at = balance.solution if balance.holds else None
    return None if at is None or not at.model.mashed or batch.relatives.seconds else at


def what_pays(
    key: str,
    batches: Sequence[Batch],
    journal: Journal,
    figures: Mapping[str, BatchFigures],
    balances: Mapping[str, Balance],
    moved: MovedRecord,
    lot_sd: float,
) -> Pays | None:
    """What pays first in one brewhouse, whose `key` and `batches` in order of brewing these are; None where no batch counts.

    `lot_sd`: relative standard uncertainty of a lot's sheet.
    """
    found = counted(batches, balances, journal, moved)
    if not found:
        return None
    brewhouse = journal.brewery.brewhouses.get(key, Brewhouse())
    method = method_of(found[0].batch)
    words = [each.word for each in found]
    evidence = [balances[each.batch.id].evidence for each in found]
    habits = mean_habits(words, evidence, common_practice(brewhouse, method))
    habitual = Habitual(tuple(word.brewing for word in words), habits)
    grain = sum(each.word.brewing[1].grain for each in found) / len(found)
    malt = grain * batches_a_year(batches)
    price = price_per_kg([each.batch for each in found], figures, journal.malts)
    losses, into, quarter, physical = _where_it_goes(habitual, _sheets(found, lot_sd), malt, price)
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
        changes=(),
        settled=(),
        handbook=(),
        next_brew=None,
        table=None,
        ending="changes pay" if len(found) >= PRACTICE_FROM else "too few batches",
    )


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
    limit = np.mean([physical_limit(brewing) for brewing in habitual.at_mean()], axis=0)
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

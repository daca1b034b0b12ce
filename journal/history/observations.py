"""The record as numbers: each batch's own values, what its grist and volumes explain of them, and what was varied."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import field
from datetime import date
from math import hypot
from typing import NamedTuple

from journal.balance import Balance
from journal.balance.model import Solution
from journal.balance.own import OwnEstimates, own_estimates
from journal.figures import BatchFigures
from journal.frozen import dataclass
from journal.history.attenuation import FIGURE as ATTENUATION
from journal.history.attenuation import brew_of, explained_attenuations, has_ended
from journal.history.fold import method_of
from journal.history.moved.corrected import corrected
from journal.history.moved.record import NOTHING_MOVED, MovedRecord
from journal.history.settings import Setting, lot_shares, most_of, settings_of
from journal.history.shared_mash import shared_values
from journal.history.usual import UsualValues, usual_of
from journal.numerics import Estimate
from journal.reading import Batch, Brewhouse, Journal

#: Batches whose readings stand as they are that make a level of their own, of each method of lautering.
FEWEST_PLAIN = 5


@dataclass(frozen=True)
class Observation:
    """One batch in the record of its brewhouse.

    `values` are its own, by figure; `residuals` what is left of them after the grist and the volumes have explained their
    part, each with the batch's own uncertainty. `lots` are shares of the grist's extract. Where readings are surely wrong
    by an instrument or a lot's sheet the values are corrected, and `written` holds those of the readings as they stand. `most`: by lever,
    the highest setting that the vessels have room for with this grist.
    """

    batch: str
    day: date
    method: str
    values: Mapping[str, Estimate]
    residuals: Mapping[str, Estimate]
    lots: Mapping[str, float]
    settings: Mapping[str, Setting]
    written: Mapping[str, Estimate] = field(default_factory=dict)
    most: Mapping[str, float] = field(default_factory=dict)


def _explain(usual: UsualValues, own: OwnEstimates, method: str) -> dict[str, float]:
    """What a batch's grist and volumes would give at what the brewhouse does on the whole."""
    lauter = own.bed - usual.shortfall.get(method, 0.0)
    passed = 1.0 - usual.kettle_loss / own.knockout_volume
    return {
        "conversion_efficiency": usual.conversion,
        "lauter_efficiency": lauter,
        "mash_efficiency": usual.conversion * lauter,
        "brewhouse_efficiency": usual.conversion * lauter * passed,
        "boil_off": usual.boil_off,
    }


class Attenuated(NamedTuple):
    """A beer's apparent attenuation at its end, as it came out and less what its yeast and grist explain of it."""

    value: Estimate
    residual: Estimate


def attenuations(
    batches: Sequence[Batch], figures: Mapping[str, BatchFigures], journal: Journal
) -> dict[str, Attenuated]:
    """By batch, of those that have come to their end."""
    ended = [
        (batch.id, brew_of(batch, figures, journal.malts), found)
        for batch in batches
        if (found := figures[batch.id].get(ATTENUATION)) and found.sd > 0 and has_ended(batch, figures[batch.id])
    ]
    explained = explained_attenuations([brew for _, brew, _ in ended])
    return {
        batch: Attenuated(Estimate(found.value, found.sd), Estimate(found.value - part.value, hypot(found.sd, part.sd)))
        for (batch, _, found), part in zip(ended, explained, strict=True)
    }


def observe_batch(
    batch: Batch,
    at: Solution,
    figures: BatchFigures,
    usual: UsualValues,
    journal: Journal,
    moved: MovedRecord = NOTHING_MOVED,
    fermented: Attenuated | None = None,
) -> Observation:
    """One balanced batch as the record has it, what surely `moved` taken out of its readings."""
    lots = lot_shares(batch, journal.malts)
    expected = usual.expected[method_of(batch)]
    written = own_estimates(at, expected, figures.results)
    off = moved.off(batch.id, lots)
    own = own_estimates(corrected(batch, at, off), expected, figures.results) if off else written
    values = own.values
    explained = _explain(usual, own, method_of(batch))
    residuals = {name: Estimate(value.value - explained[name], value.sd) for name, value in values.items()}
    return Observation(
        batch.id,
        batch.day,
        method_of(batch),
        values | ({ATTENUATION: fermented.value} if fermented else {}),
        residuals | ({ATTENUATION: fermented.residual} if fermented else {}),
        lots,
        settings_of(batch, figures, lots),
        written.values if off else {},
        most_of(batch, figures, journal.brewery),
    )


def observations(
    batches: list[Batch],
    balances: Mapping[str, Balance],
    figures: Mapping[str, BatchFigures],
    journal: Journal,
    moved: MovedRecord = NOTHING_MOVED,
) -> list[Observation]:
    """The balanced batches of one brewhouse, in order of date; broken ones are left out.

    What surely `moved` of an instrument or a lot's sheet is taken out of their readings.
    """
    brewhouse = journal.brewery.brewhouse_of(batches[0].brewhouse)[1] if batches else Brewhouse()
    usual = _usual(batches, balances, brewhouse, journal, moved)
    if usual is None:
        return []
    fermented = attenuations(batches, figures, journal)
    seen = (
        _observed(batch, balances[batch.id], figures, usual, journal, moved, fermented.get(batch.id))
        for batch in batches
    )
    return [found for found in seen if found is not None]


def _usual(
    batches: list[Batch],
    balances: Mapping[str, Balance],
    brewhouse: Brewhouse,
    journal: Journal,
    moved: MovedRecord,
) -> UsualValues | None:
    """The level that batches are held against: of those that nothing is taken out of, where each method has enough of them."""
    if not any(move.corrects for move in moved.moves):
        return usual_of(batches, balances, brewhouse)
    plain = [batch for batch in batches if not moved.off(batch.id, lot_shares(batch, journal.malts))]
    known = Counter(method_of(batch) for batch in plain if balances[batch.id].holds)
    enough = all(known[method] >= FEWEST_PLAIN for method in {method_of(batch) for batch in batches})
    return usual_of(plain if enough else batches, balances, brewhouse)


def _observed(
    batch: Batch,
    balance: Balance,
    figures: Mapping[str, BatchFigures],
    usual: UsualValues,
    journal: Journal,
    moved: MovedRecord,
    fermented: Attenuated | None,
) -> Observation | None:
    """One batch as the record has it; None for one whose balance says nothing of a mash, or of a mash that others share."""
    if batch.relatives.seconds:
        return _shared(batch, figures, usual, journal, fermented)
    at = balance.solution if balance.holds else None
    if at is None or not at.model.mashed:
        return None
    return observe_batch(batch, at, figures[batch.id], usual, journal, moved, fermented)


def _shared(
    batch: Batch,
    figures: Mapping[str, BatchFigures],
    usual: UsualValues,
    journal: Journal,
    fermented: Attenuated | None,
) -> Observation | None:
    """The worts of one mash, once, where the grist stands."""
    method, lots = method_of(batch), lot_shares(batch, journal.malts)
    values, residuals = shared_values(batch, figures, usual, method)
    if not values:
        return None
    if fermented:
        values, residuals = values | {ATTENUATION: fermented.value}, residuals | {ATTENUATION: fermented.residual}
    settings = settings_of(batch, figures[batch.id], lots)
    most = most_of(batch, figures[batch.id], journal.brewery)
    return Observation(batch.id, batch.day, method, values, residuals, lots, settings, most=most)

"""Every malt of the journal: its values, where it was used, and what batches made mostly of it gave."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from statistics import mean, stdev

from journal.history.moved.lots import LotEffect
from journal.measures import Measure
from journal.measures.wording import plain, show
from journal.pages.brewhouses import brewhouse_views
from journal.pages.differences import between
from journal.pages.grist import lab_groups, lot_name
from journal.pages.index import Index
from journal.pages.model import UNBROKEN, Link, Number
from journal.pages.models.malts import MaltGroup, MaltResult, MaltSheet, MaltsModel
from journal.pages.numbers import of_result, quantity
from journal.pages.paths import malt_anchor
from journal.pages.words import figure_words
from journal.reading import Batch, MaltValues, resolve
from journal.reading.entry import Addition, Grain, named_in
from journal.reading.kinds import ingredient_named
from journal.reading.malts import Malt, may_bring_extract
from journal.reading.table import lines_of

_GAVE = ("mash_efficiency", "brewhouse_efficiency")
#: A malt that makes up more of the grist than this is what the batch was made of.
_MOST = 0.5
#: A lot in fewer batches than this is not held against its sheet.
_FEWEST = 3


@dataclass(frozen=True)
class _Use:
    """One line of a grist or a sugar: in which batch, kg (None where not weighed), and its share of the grist."""

    batch: Batch
    line: Grain | Addition
    path: str
    weight: float | None
    share: float


def _lines(index: Index, batch: Batch) -> Iterator[tuple[Grain | Addition, str, str]]:
    for path, line in lines_of(batch, (Grain, Addition)):
        if may_bring_extract(line, index.record.journal.malts):
            yield line, path, named_in(line)


def _kg(measure: Measure | None) -> float | None:
    return None if measure is None else measure.value


def _uses(index: Index) -> dict[str, list[_Use]]:
    """Every use of every malt by its name in the entries, in order of brewing, planned brews included."""
    found: dict[str, list[_Use]] = {}
    for batch in index.batches:
        whole = sum(_kg(grain.weight) or 0.0 for grain in batch.grains)
        for line, path, named in _lines(index, batch):
            weight = _kg(line.weighed if isinstance(line, Addition) else line.weight)
            share = weight / whole if weight and whole and isinstance(line, Grain) else 0.0
            found.setdefault(named, []).append(_Use(batch, line, path, weight, share))
    return found


def _mostly(uses: list[_Use]) -> list[Batch]:
    shares: dict[str, float] = {}
    for use in uses:
        shares[use.batch.id] = shares.get(use.batch.id, 0.0) + use.share
    return [use.batch for use in uses if shares.pop(use.batch.id, 0.0) > _MOST]


def _gave(index: Index, batches: list[Batch]) -> tuple[tuple[MaltResult, ...], tuple[Link, ...]]:
    """Mean and spread of each efficiency, and the batches that a warning keeps out of it."""
    made: list[MaltResult] = []
    left_out: dict[str, Link] = {}
    for name in _GAVE:
        known = [(batch, result) for batch in batches if (result := index.result(batch, name))]
        sound = [result for batch, result in known if not index.flagged(batch, result)]
        left_out |= {batch.id: index.link(batch) for batch, result in known if result not in sound}
        if not sound:
            continue
        values = [result.value for result in sound]
        number = (
            quantity(mean(values), stdev(values), "1", index.system)
            if len(sound) > 1
            else of_result(sound[0], index.system)
        )
        made.append(MaltResult(figure_words(name), number, len(sound)))
    return tuple(made), tuple(left_out.values())


def _used(index: Index, uses: list[_Use]) -> Number | None:
    weighed = [use.weight for use in uses if use.weight is not None]
    return quantity(sum(weighed), 0.0, "kg", index.system) if weighed else None


def _sheet(
    index: Index, named: str, name: str, facts: tuple[str, ...], values: MaltValues, uses: list[_Use]
) -> MaltSheet:
    uses = [use for use in uses if not use.batch.planned]  # a plan has used nothing yet
    gave, left_out = _gave(index, _mostly(uses))
    return MaltSheet(
        anchor=malt_anchor(named),
        name=name,
        facts=facts,
        labs=lab_groups(index, values),
        used=_used(index, uses),
        batches=tuple({use.batch.id: index.link(use.batch) for use in uses}.values()),
        gave=gave,
        left_out=left_out,
    )


def lot_words(effect: LotEffect, system: str) -> str:
    """What a lot gave against its sheet: news only where its 90 % interval leaves nothing out."""
    low, high = sorted((abs(effect.low), abs(effect.high)))
    if effect.low <= 0.0 <= effect.high:
        span = between(effect.low, effect.high, "1", system)
        return f"What it gave can’t be told from its sheet ({span}{UNBROKEN}% of its extract, from {effect.batches} batches)"
    size = str(show(abs(effect.effect), effect.sd, "1", system).value)
    side = "less" if effect.effect < 0 else "more"
    span = between(low, high, "1", system)
    return f"It gave {size}{UNBROKEN}% {side} extract than its sheet says ({span}), from {effect.batches} batches"


def _against_sheets(index: Index) -> dict[str, tuple[str, ...]]:
    """By lot, what it gave against its sheet on each brewhouse."""
    said: dict[str, tuple[str, ...]] = {}
    for house in brewhouse_views(index):
        for effect in house.story.lots if house.story else ():
            if effect.batches >= _FEWEST:
                where = f" on {house.name}" if house.name else ""
                words = f"{lot_words(effect, index.system)}{where}."
                said[effect.lot] = (*said.get(effect.lot, ()), words)
    return said


def _lot(index: Index, key: str, malt: Malt, uses: list[_Use], against: tuple[str, ...]) -> MaltSheet:
    facts = [fact for fact in (malt.maltster, malt.kind) if fact]
    if malt.fine_coarse_difference is not None:
        shown = quantity(malt.fine_coarse_difference.value, malt.fine_coarse_difference.sd or 0.0, "1", index.system)
        facts.append(f"fine-coarse difference {shown.text}")
    if malt.price is not None:
        facts.append(f"{plain(malt.price.value, 2)} a kilogram")
    # the lot by itself: what an entry states of it for one batch stands on that batch's page
    values = resolve(Grain(malt=key), "", index.record.journal.malts)
    sheet = _sheet(index, key, lot_name(index, key), tuple(facts), values, uses)
    return replace(sheet, against_sheet=against)


def _is_kind(named: str, uses: list[_Use]) -> bool:
    """Whether the name alone says what the malt gives, as it does where the latest line that has it states no extract."""
    line = uses[-1].line
    return ingredient_named(named) is not None and line.extract is None and line.extract_as_is is None


def _alone(index: Index, named: str, uses: list[_Use]) -> MaltSheet:
    latest = uses[-1]
    line = Grain(malt=named) if _is_kind(named, uses) else latest.line
    return _sheet(index, named, named, (), resolve(line, latest.path, index.record.journal.malts), uses)


def malts_model(index: Index) -> MaltsModel:
    """Everything on the malts page."""
    malts, uses, against = index.record.journal.malts.by_key, _uses(index), _against_sheets(index)
    lots = tuple(_lot(index, key, malt, uses.get(key, []), against.get(key, ())) for key, malt in malts.items())
    others = {named: found for named, found in uses.items() if named not in malts}
    kinds = tuple(_alone(index, named, found) for named, found in others.items() if _is_kind(named, found))
    named_only = tuple(_alone(index, named, found) for named, found in others.items() if not _is_kind(named, found))
    groups = (
        MaltGroup(
            "Lots", "Each as its sheet in malts.yaml has it; what the sheet leaves open is typical of the kind.", lots
        ),
        MaltGroup("Kinds without a sheet", "Named in entries by kind alone: typical values, common practice.", kinds),
        MaltGroup("Described in the entries", "The values of the latest batch that used it.", named_only),
    )
    return MaltsModel(
        frame=index.frame("Malts", "malts", "Every lot, where it was used, and what batches made of it gave."),
        groups=tuple(group for group in groups if group.malts),
    )

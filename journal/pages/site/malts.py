"""Malts: a row a lot, with what its sheet says, what it gave against that, and the efficiencies of the batches made of it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from journal.figures.instruments import EXTRACT_BY_SOURCE, malt_deviation
from journal.history.moved.lots import LotEffect
from journal.measures import Measure
from journal.measures.wording import plain, show
from journal.pages.brewhouses import brewhouse_views
from journal.pages.charts.axis import Axis
from journal.pages.charts.strip import StripAxis, StripPicture
from journal.pages.differences import between
from journal.pages.grist import LabGroup, lab_groups, lot_name
from journal.pages.index import Index
from journal.pages.labels import label_key
from journal.pages.model import UNBROKEN, Link, Model
from journal.pages.numbers import quantity
from journal.pages.paths import filtered, malt_anchor
from journal.pages.verdict import JUDGED, what_moved
from journal.reading import Batch, MaltValues, resolve
from journal.reading.entry import Addition, Grain, named_in
from journal.reading.kinds import ingredient_named
from journal.reading.malts import Malt, may_bring_extract, sheet_name
from journal.reading.table import lines_of


#: A malt that makes up more of the grist than this is what the batch was made of.
_MOST = 0.5
#: A lot in fewer batches than this is not held against its sheet.
_FEWEST = 3
#: The batches of a malt that are listed, the latest; the rest stand in the list of batches.
_LISTED = 12
_TICKS = 4


@dataclass(frozen=True)
class MaltRow:
    """One lot of malt, a kind used without a sheet, or a grain described in the entries alone.

    `strips` are on the columns' axes, None where nothing is known; `told` are the same in words.
    `earlier` leads to the batches not listed, with their number in words; empty where all are.
    """

    anchor: str
    name: str
    used: str
    strips: tuple[StripPicture | None, ...]
    told: tuple[str, ...]
    facts: tuple[str, ...]
    labs: tuple[LabGroup, ...]
    batches: tuple[Link, ...]
    earlier: Link
    left_out: tuple[Link, ...]


@dataclass(frozen=True)
class MaltGroup:
    """Malts that are described in the same way."""

    words: str
    remark: str
    malts: tuple[MaltRow, ...]


@dataclass(frozen=True)
class MaltColumn:
    """One thing that malts are compared by, with the axis of all its strips."""

    words: str
    axis: StripAxis


@dataclass(frozen=True, kw_only=True)
class MaltsModel(Model):
    """Every malt of the journal; `moved` is what became of the first brewhouse's level."""

    moved: str
    columns: tuple[MaltColumn, ...]
    groups: tuple[MaltGroup, ...]


@dataclass(frozen=True)
class _Use:
    """One line of a grist or a sugar: in which batch, kg (None where not weighed), and its share of the grist."""

    batch: Batch
    line: Grain | Addition
    path: str
    weight: float | None
    share: float


@dataclass(frozen=True)
class _Known:
    """What is known of a malt before it is drawn: its values, its uses, what it gave against its sheet by brewhouse."""

    named: str
    name: str
    facts: tuple[str, ...]
    values: MaltValues
    uses: Sequence[_Use]
    effects: Sequence[tuple[str, LotEffect]]

    @property
    def mostly(self) -> list[Batch]:
        """The batches that are made mostly of it, in order of brewing."""
        shares: dict[str, float] = {}
        for use in self.uses:
            shares[use.batch.id] = shares.get(use.batch.id, 0.0) + use.share
        return [use.batch for use in self.uses if shares.pop(use.batch.id, 0.0) > _MOST]

    @property
    def extract(self) -> tuple[float, float] | None:
        """Extract of its dry matter by its sheet with the standard uncertainty, per cent; None where it isn't known."""
        stated, moisture = self.values.extract, self.values.moisture
        if stated is not None:
            return 100 * stated.value, 100 * malt_deviation(stated, EXTRACT_BY_SOURCE, share=False)
        as_is = self.values.extract_as_is
        if as_is is None or moisture is None:
            return None
        dry = 1.0 - moisture.value
        return 100 * as_is.value / dry, 100 * malt_deviation(as_is, EXTRACT_BY_SOURCE, share=False) / dry


def _kg(measure: Measure | None) -> float | None:
    return None if measure is None else measure.value


def _uses(index: Index) -> dict[str, list[_Use]]:
    """Every use of every malt by its name in the entries, in order of brewing, planned brews included."""
    found: dict[str, list[_Use]] = {}
    for batch in index.batches:
        whole = sum(_kg(grain.weight) or 0.0 for grain in batch.grains)
        for path, line in lines_of(batch, (Grain, Addition)):
            if not may_bring_extract(line, index.record.journal.malts):
                continue
            weight = _kg(line.weighed if isinstance(line, Addition) else line.weight)
            share = weight / whole if weight and whole and isinstance(line, Grain) else 0.0
            found.setdefault(sheet_name(line, index.record.journal.malts), []).append(_Use(batch, line, path, weight, share))
    return found


def _is_kind(named: str, uses: Sequence[_Use]) -> bool:
    """Whether the name alone says what the malt gives, as it does where the latest line that has it states no extract."""
    line = uses[-1].line
    return ingredient_named(named) is not None and line.extract is None and line.extract_as_is is None



def lot_words(effect: LotEffect, system: str) -> str:
    """What a lot gave against its sheet: news only where its 90 % interval leaves nothing out."""
    low, high = sorted((abs(effect.low), abs(effect.high)))
    if effect.low <= 0.0 <= effect.high:
        span = between(effect.low, effect.high, "1", system)
        return f"Its yield matches its sheet, as far as we can tell ({span}{UNBROKEN}% of its extract, from {effect.batches} batches)"
    size = str(show(abs(effect.effect), effect.sd, "1", system).value)
    side = "less" if effect.effect < 0 else "more"
    span = between(low, high, "1", system)
    return f"It gave {size}{UNBROKEN}% {side} extract than its sheet says ({span}), from {effect.batches} batches"


def _effects(index: Index) -> dict[str, list[tuple[str, LotEffect]]]:
    """By lot, what it gave against its sheet on each brewhouse, the one with most batches first."""
    found: dict[str, list[tuple[str, LotEffect]]] = {}
    for house in brewhouse_views(index):
        for effect in house.story.lots if house.story else ():
            if effect.batches >= _FEWEST:
                found.setdefault(effect.lot, []).append((house.name, effect))
    return found


class _Columns:
    """The axes that all rows share, and a row's strips on them."""

    def __init__(self, index: Index, malts: Sequence[_Known]) -> None:
        self.index = index
        # hulls give nothing and sugar all: the malts of sheets set the axis, as long as there are any
        sheets = [malt.extract for malt in malts if malt.extract and malt.facts]
        sheets = sheets or [malt.extract for malt in malts if malt.extract]
        effects = [effect for malt in malts for _, effect in malt.effects]
        got = [value for malt in malts for value, out in self._got(malt) if not out]
        self.sheet = self._axis([value + side * sd for value, sd in sheets for side in (-1, 1)], 10.0)
        self.against = self._axis([0.0, *(100 * end for e in effects for end in (e.low, e.high))] if effects else [], 4.0)
        self.efficiency = self._axis(got, 10.0)

    @staticmethod
    def _axis(values: Sequence[float], least: float) -> Axis | None:
        return Axis.around(values, least=least) if values else None

    def _got(self, malt: _Known) -> list[tuple[float, bool]]:
        """The efficiency of each batch made mostly of a malt, per cent, and whether a warning keeps it out."""
        known = [(batch, result) for batch in malt.mostly if (result := self.index.result(batch, JUDGED))]
        return [(100 * result.value, self.index.flagged(batch, result)) for batch, result in known]

    def known(self) -> Iterator[tuple[MaltColumn, Callable[[_Known], StripPicture | None]]]:
        """The columns that any row has something in, each with what draws a row's strip."""
        for words, axis, sign, strip in (
            ("extract by its sheet, % of dry matter", self.sheet, False, self.strip_of_sheet),
            ("yield against its sheet, %", self.against, True, self.strip_against),
            ("brewhouse efficiency, %", self.efficiency, False, self.strip_of_efficiency),
        ):
            if axis:
                yield MaltColumn(words, StripAxis(axis, axis.ticks(_TICKS, sign=sign), words)), strip

    def strip_of_sheet(self, malt: _Known) -> StripPicture | None:
        """What the sheet says and how sure that is; none off the axis, as hulls and sugar are."""
        if self.sheet is None or malt.extract is None or not self.sheet.holds(malt.extract[0]):
            return None
        value, sd = malt.extract
        told = f"sheet: {plain(value, 1)} ± {plain(sd, 1)} %"
        ticks = self.sheet.ticks(_TICKS)
        return StripPicture(self.sheet, told, latest=(value,), reach=(value - sd, value + sd), ticks=ticks, clear=True)

    def strip_against(self, malt: _Known) -> StripPicture | None:
        """What it gave against the sheet on the brewhouse with most batches, with its interval."""
        if self.against is None or not malt.effects:
            return None
        _, effect = malt.effects[0]
        return StripPicture(
            self.against,
            lot_words(effect, self.index.system),
            latest=(100 * effect.effect,),
            reach=(100 * effect.low, 100 * effect.high),
            zero=0.0,
            ticks=self.against.ticks(_TICKS),
            clear=effect.low > 0.0 or effect.high < 0.0,
        )

    def strip_of_efficiency(self, malt: _Known) -> StripPicture | None:
        """The efficiencies of the batches made mostly of it, a dot each."""
        got = self._got(malt)
        if self.efficiency is None or not got:
            return None
        sound, out = ([value for value, flagged in got if flagged is which] for which in (False, True))
        batches = f"{len(sound)} {'batch' if len(sound) == 1 else 'batches'}"
        told = f"{batches}: {', '.join(plain(value, 0) for value in sound)} %" if sound else "no batch that counts"
        return StripPicture(
            self.efficiency, told, dots=tuple(sound), left_out=tuple(out), ticks=self.efficiency.ticks(_TICKS)
        )


def _told(index: Index, malt: _Known, efficiency: StripPicture | None) -> Iterator[str]:
    """What it gave against its sheet, a sentence a brewhouse, and the efficiencies of its batches."""
    for house, effect in malt.effects:
        where = f" on {house}" if house else ""
        yield f"{lot_words(effect, index.system)}{where}."
    if efficiency:
        yield f"Brewhouse efficiency of the batches made mostly of it, {efficiency.words}."


def _row(index: Index, columns: _Columns, malt: _Known) -> MaltRow:
    batches = list({use.batch.id: use.batch for use in malt.uses}.values())
    listed = [index.link(batch) for batch in reversed(batches[-_LISTED:])]
    more = len(batches) - len(listed)
    left_out = [
        index.link(batch)
        for batch in malt.mostly
        if (result := index.result(batch, JUDGED)) and index.flagged(batch, result)
    ]
    return MaltRow(
        anchor=malt_anchor(malt.named),
        name=malt.name,
        used=_used(index, malt.uses, len(batches)),
        strips=tuple(strip(malt) for _, strip in columns.known()),
        told=tuple(_told(index, malt, columns.strip_of_efficiency(malt))),
        facts=malt.facts,
        labs=lab_groups(index, malt.values),
        batches=tuple(listed),
        earlier=Link(f"{more} earlier", filtered("malt", label_key(malt.named))) if more else Link(""),
        left_out=tuple(reversed(left_out[-_LISTED:])),
    )


def _used(index: Index, uses: Sequence[_Use], batches: int) -> str:
    """`12.60 kg in 3 batches`; what was not weighed is said, not counted as nothing."""
    if not uses:
        return "not used yet"
    weighed = [use.weight for use in uses if use.weight is not None]
    where = f"{batches} {'batch' if batches == 1 else 'batches'}"
    if not weighed:
        return f"in {where}, not weighed"
    some = "" if len(weighed) == len(uses) else f" ({len(uses) - len(weighed)} times not weighed)"
    return f"{quantity(sum(weighed), 0.0, 'kg', index.system).text} in {where}{some}"


def _facts(index: Index, malt: Malt) -> tuple[str, ...]:
    facts = [fact for fact in (malt.maltster, malt.kind) if fact]
    if malt.fine_coarse_difference is not None:
        shown = quantity(malt.fine_coarse_difference.value, malt.fine_coarse_difference.sd or 0.0, "1", index.system)
        facts.append(f"fine-coarse difference {shown.text}")
    if malt.price is not None:
        facts.append(f"{plain(malt.price.value, 2)} a kilogram")
    return tuple(facts)


def _known(index: Index) -> list[tuple[str, str, list[_Known]]]:
    """Every malt, by how it is described."""
    malts, effects = index.record.journal.malts, _effects(index)
    uses = {named: [use for use in found if not use.batch.planned] for named, found in _uses(index).items()}
    everywhere = _uses(index)
    lots = [
        # the lot by itself: what an entry states of it for one batch stands on that batch's page
        _Known(key, lot_name(index, key), _facts(index, malt), resolve(Grain(malt=key), "", malts), uses.get(key, []), effects.get(key, []))
        for key, malt in malts.by_key.items()
    ]
    others = {named: found for named, found in everywhere.items() if named not in malts.by_key}

    def alone(named: str) -> _Known:
        latest = others[named][-1]
        line = Grain(malt=named) if _is_kind(named, others[named]) else latest.line
        return _Known(named, named, (), resolve(line, latest.path, malts), uses[named], effects.get(named, []))

    kinds = [alone(named) for named in others if _is_kind(named, others[named])]
    described = [alone(named) for named in others if not _is_kind(named, others[named])]
    return [
        ("Lots", "Each as its sheet in malts.yaml has it; what the sheet leaves open is typical of the kind.", lots),
        ("Kinds without a sheet", "Named in entries by kind alone: typical values, common practice.", kinds),
        ("Described in the entries", "The values of the latest batch that used it.", described),
    ]


def malts_model(index: Index) -> MaltsModel:
    """Everything on the malts page."""
    known = _known(index)
    columns = _Columns(index, [malt for _, _, malts in known for malt in malts])
    return MaltsModel(
        frame=index.frame("Malts", "malts", "Every lot, where it was used, and what batches made of it gave."),
        moved=what_moved(index, brewhouse_views(index)[0]),
        columns=tuple(column for column, _ in columns.known()),
        groups=tuple(
            MaltGroup(words, remark, tuple(_row(index, columns, malt) for malt in malts))
            for words, remark, malts in known
            if malts
        ),
    )

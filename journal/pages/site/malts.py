"""Malts: a row a lot, with what its sheet says, what it gave against that, and the efficiencies of the batches made of it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from journal.frozen import dataclass
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
from journal.pages.parts.known_malts import KnownMalt, MaltUse, known_malts
from journal.pages.parts.malt_strips import MaltColumn, MaltColumns, lot_words
from journal.pages.paths import filter_path, malt_anchor
from journal.pages.verdict import JUDGED, what_moved
from journal.reading import Batch, MaltValues, resolve
from journal.reading.entry import Addition, Grain, name_of_line
from journal.reading.kinds import ingredient_named
from journal.reading.malts import Malt, may_bring_extract, sheet_name
from journal.reading.table import lines_of


#: The batches of a malt that are listed, the latest; the rest stand in the list of batches.
_LISTED = 12


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




@dataclass(frozen=True, kw_only=True)
class MaltsModel(Model):
    """Every malt of the journal; `moved` is what became of the first brewhouse's level."""

    moved: str
    columns: tuple[MaltColumn, ...]
    groups: tuple[MaltGroup, ...]



















def _told(index: Index, malt: KnownMalt, efficiency: StripPicture | None) -> Iterator[str]:
    """What it gave against its sheet, a sentence a brewhouse, and the efficiencies of its batches."""
    for house, effect in malt.effects:
        where = f" on {house}" if house else ""
        yield f"{lot_words(effect, index.system)}{where}."
    if efficiency:
        yield f"Brewhouse efficiency of the batches made mostly of it, {efficiency.words}."


def _row(index: Index, columns: MaltColumns, malt: KnownMalt) -> MaltRow:
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
        facts=(*malt.facts, *malt.counts_as),
        labs=lab_groups(index, malt.values),
        batches=tuple(listed),
        # batches are found by what the entries call it
        earlier=Link(f"{more} earlier", filter_path("malt", label_key(name_of_line(malt.uses[-1].line)))) if more else Link(""),
        left_out=tuple(reversed(left_out[-_LISTED:])),
    )


def _used(index: Index, uses: Sequence[MaltUse], batches: int) -> str:
    """`12.60 kg in 3 batches`; what was not weighed is said, not counted as nothing."""
    if not uses:
        return "not used yet"
    weighed = [use.weight for use in uses if use.weight is not None]
    where = f"{batches} {'batch' if batches == 1 else 'batches'}"
    if not weighed:
        return f"in {where}, not weighed"
    some = "" if len(weighed) == len(uses) else f" ({len(uses) - len(weighed)} times not weighed)"
    return f"{quantity(sum(weighed), 0.0, 'kg', index.system).text} in {where}{some}"






def malts_model(index: Index) -> MaltsModel:
    """Everything on the malts page."""
    known = known_malts(index)
    columns = MaltColumns(index, [malt for _, _, malts in known for malt in malts])
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

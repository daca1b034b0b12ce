"""What planned brews need beside malt and sugar: hops, yeast, salts, acids and finings, each added up as it is measured out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from journal.frozen import dataclass
from journal.measures import Measure, writing
from journal.measures.units import COUNT, VOLUME, WEIGHT
from journal.measures.wording import plain
from journal.pages.grist import lot_name, malt_link
from journal.pages.index import Index
from journal.pages.model import Link
from journal.pages.parts.sheet.words import unbroken
from journal.problems import in_words
from journal.reading import Batch
from journal.reading.entry import Addition, Hop, Yeast
from journal.reading.malts import may_bring_extract
from journal.reading.table import lines_of

_KINDS = (WEIGHT, VOLUME, COUNT)


@dataclass(frozen=True)
class ToFetch:
    """One thing: what each brew needs of it, empty where none, in all, and what that costs where its price is known."""

    thing: Link
    amounts: tuple[str, ...]
    total: str
    cost: str


@dataclass(frozen=True)
class ToFetchGroup:
    """Things of one kind, called `words` in the head and `thing` in the table; `cost` of all whose price is known."""

    words: str
    thing: str
    anchor: str
    rows: tuple[ToFetch, ...]
    cost: str


#: What a brew needs, a name and an amount that may not be stated each.
_Need = tuple[str, Measure | None]


def besides_needed(index: Index, planned: Sequence[Batch]) -> tuple[ToFetchGroup, ...]:
    """Hops, yeast and what else goes in, of the planned brews in their order; kinds of which nothing is needed are left out."""
    groups = (
        _group(index, ("Hops", "hop", "hops"), [list(_hops(batch)) for batch in planned]),
        _group(index, ("Yeast", "yeast", "yeast"), [list(_yeast(batch)) for batch in planned]),
        _group(index, ("Salts, acids and the rest", "what", "rest"), [list(_rest(index, batch)) for batch in planned]),
    )
    return tuple(group for group in groups if group.rows)


def _hops(batch: Batch) -> Iterator[_Need]:
    return ((hop.hop or "", hop.weight) for _, hop in lines_of(batch, Hop))


def _yeast(batch: Batch) -> Iterator[_Need]:
    yeast = batch.fermenter.yeast
    if yeast != Yeast():
        yield ", ".join(part for part in (yeast.strain, yeast.form) if part) or "yeast", yeast.amount


def _rest(index: Index, batch: Batch) -> Iterator[_Need]:
    for _, line in lines_of(batch, Addition):
        if not may_bring_extract(line, index.record.journal.malts):
            yield line.addition or "", line.weight or line.amount


def _group(index: Index, called: tuple[str, str, str], needs: list[list[_Need]]) -> ToFetchGroup:
    names = list(dict.fromkeys(name for need in needs for name, _ in need if name))
    rows = tuple(_row(index, name, [_of(name, need) for need in needs]) for name in names)
    cost = sum(_cost(index, name, [m for need in needs for m in _of(name, need)]) or 0.0 for name in names)
    return ToFetchGroup(*called, rows, plain(cost, 2) if any(row.cost for row in rows) else "")


def _of(name: str, need: Iterable[_Need]) -> list[Measure | None]:
    return [measure for other, measure in need if other == name]


def _row(index: Index, name: str, needs: list[list[Measure | None]]) -> ToFetch:
    known = name in index.record.journal.malts.by_key
    every = [measure for need in needs for measure in need]
    cost = _cost(index, name, every)
    return ToFetch(
        malt_link(name, lot_name(index, name)) if known else Link(name),
        tuple(_amount(need, index.system) if need else "" for need in needs),
        _amount(every, index.system),
        "" if cost is None else plain(cost, 2),
    )


def _amount(measures: Sequence[Measure | None], system: str) -> str:
    """Measures added up, weights, volumes and each sort of piece by itself; of what has none it says so."""
    stated = [measure for measure in measures if measure is not None]
    words = []
    for kind in _KINDS:
        for units in _alike(kind.written.values(), counted=kind is COUNT):
            of_kind = [measure for measure in stated if measure.unit in units]
            if of_kind:
                total = sum(measure.value for measure in of_kind)
                words.append(unbroken(writing.amount(total, of_kind[0].unit, system)))
    if len(stated) < len(measures):
        words.append("some" if not words else "more")
    return in_words(words)


def _alike(units: Iterable[str], *, counted: bool) -> list[set[str]]:
    """Units whose measures add up: pieces are no packets."""
    return [{unit} for unit in dict.fromkeys(units)] if counted else [set(units)]


def _cost(index: Index, name: str, measures: Iterable[Measure | None]) -> float | None:
    """By the price for a kilogram that its sheet states, of what is weighed."""
    sheet = index.record.journal.malts.by_key.get(name)
    if sheet is None or sheet.price is None:
        return None
    weighed = (measure.value for measure in measures if measure is not None and measure.unit in WEIGHT.written.values())
    return sum(weighed) * sheet.price.value

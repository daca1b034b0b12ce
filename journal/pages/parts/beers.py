"""The same beer brewed several times: its batches over one another, a strip for each thing that it is told by."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from journal.frozen import dataclass
from journal.measures.wording import Unit, unit_for
from journal.pages.beer import Beer, beer_of
from journal.pages.charts.axis import Axis, AxisTick
from journal.pages.charts.strip import StripAxis, StripPicture
from journal.pages.index import Index
from journal.pages.model import UNBROKEN
from journal.reading import Batch

_TICKS = 3


@dataclass(frozen=True)
class BeerColumn:
    """One thing that beers are told by, with the axis that all strips of a page share."""

    words: str
    axis: StripAxis


@dataclass(frozen=True)
class RepeatedBeer:
    """A beer with its batches: how many, and a strip a column, None where no batch has the value. The latest stands out."""

    title: str
    batches: int
    strips: tuple[StripPicture | None, ...]


@dataclass(frozen=True)
class _Told:
    """A thing that a beer is told by: what it is called, the value in the unit that it is shown in, and that unit."""

    words: str
    of: Callable[[Index, Batch, Beer], float | None]
    unit: str
    decimals: int


def _figure(name: str, unit: str) -> Callable[[Index, Batch, Beer], float | None]:
    def value(index: Index, _: Batch, beer: Beer) -> float | None:
        result = getattr(beer, name)
        return unit_for(unit, index.system).convert(result.value) if result else None

    return value


def _efficiency(index: Index, batch: Batch, _: Beer) -> float | None:
    result = None if batch.second_wort_of else index.result(batch, "brewhouse_efficiency")
    return 100 * result.value if result and not index.flagged(batch, result) else None


_TOLD = (
    _Told("original gravity", _figure("original_gravity", "SG"), "SG", 3),
    _Told("alcohol", _figure("alcohol_by_volume", "1"), "1", 1),
    _Told("brewhouse efficiency", _efficiency, "1", 0),
    _Told("score of 10", lambda _index, _batch, beer: None if beer.score is None else 10 * beer.score, "", 1),
)


def _unit(told: _Told, index: Index) -> Unit:
    return unit_for(told.unit, index.system) if told.unit else Unit("", told.decimals)


class Beers:
    """Beers of one page on shared axes; made of all its batches, in order of brewing."""

    def __init__(self, index: Index, batches: Iterable[Batch]) -> None:
        self.index = index
        self.values = {batch.id: self._values(batch) for batch in batches if not batch.planned}
        self.columns: list[BeerColumn | None] = [self._column(place, told) for place, told in enumerate(_TOLD)]

    def _values(self, batch: Batch) -> tuple[float | None, ...]:
        beer = beer_of(self.index.record, batch)
        return tuple(told.of(self.index, batch, beer) for told in _TOLD)

    def _column(self, place: int, told: _Told) -> BeerColumn | None:
        known = [value for values in self.values.values() if (value := values[place]) is not None]
        if not known:
            return None
        axis = Axis.around(known, least=0.01 if told.unit == "SG" else 1.0)
        sign = _unit(told, self.index).sign
        words = f"{told.words}, {sign}" if sign else told.words
        return BeerColumn(words, StripAxis(axis, axis.ticks(_TICKS), words))

    @property
    def known_columns(self) -> tuple[BeerColumn, ...]:
        """The columns that any batch has a value for."""
        return tuple(column for column in self.columns if column)

    def repeated(self, batches: Sequence[Batch]) -> tuple[RepeatedBeer, ...]:
        """Of some batches, in order of brewing, the beers that were brewed twice or more; the one brewed most first."""
        by_title: dict[str, list[Batch]] = {}
        for batch in batches:
            if batch.id in self.values and batch.title:
                by_title.setdefault(batch.title.casefold(), []).append(batch)
        several = sorted((each for each in by_title.values() if len(each) > 1), key=lambda each: -len(each))
        return tuple(self._beer(each) for each in several)

    def _beer(self, batches: list[Batch]) -> RepeatedBeer:
        strips = tuple(self._strip(place, column, batches) for place, column in enumerate(self.columns) if column)
        return RepeatedBeer(batches[-1].title or "", len(batches), strips)

    def _strip(self, place: int, column: BeerColumn, batches: list[Batch]) -> StripPicture | None:
        known = [(batch, value) for batch in batches if (value := self.values[batch.id][place]) is not None]
        if not known:
            return None
        told = ", ".join(f"batch{UNBROKEN}{batch.id} {self._shown(place, value)}" for batch, value in known)
        ticks: tuple[AxisTick, ...] = column.axis.ticks
        return StripPicture(
            column.axis.axis,
            f"{column.words}: {told}",
            latest=(known[-1][1],),
            earlier=tuple(value for _, value in known[:-1]),
            ticks=ticks,
        )

    def _shown(self, place: int, value: float) -> str:
        return f"{value:.{_TOLD[place].decimals}f}"

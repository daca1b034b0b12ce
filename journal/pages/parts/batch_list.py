"""A list of batches: what the beer came to, how good it was, and its efficiency as a dot on an axis that all rows share."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import groupby
from typing import NamedTuple

from journal.figures import Result
from journal.frozen import dataclass
from journal.measures.wording import show, unit_for
from journal.pages.beer import beer_of
from journal.pages.charts.axis import Axis
from journal.pages.charts.strip import SpotPicture, StripAxis
from journal.pages.counted import count_batches
from journal.pages.index import Index
from journal.pages.labels import KINDS
from journal.pages.model import Link, Number, When
from journal.pages.numbers import of_result
from journal.pages.paths import year_path
from journal.pages.words import day
from journal.reading import Batch

#: Numbers at the axis of efficiencies.
_TICKS = 4
#: What a batch is told by in a list, in order: the column's words, and the unit whose sign stands there as the brewery sees it.
_COLUMNS = (("OG", ""), ("FG", ""), ("ABV", "1"), ("", "IBU"), ("", "EBC"))


class Cell(NamedTuple):
    """A number in a table that can be sorted: as shown, and the plain number, both empty where there is none."""

    text: str
    key: str


_NONE = Cell("", "")
_NOWHERE = Link("")


@dataclass(frozen=True)
class BatchRow:
    """A batch in a list.

    `order` sorts ids as people do, `odd` says that a warning stands on it, `doubtful` that its readings contradict one another.
    `cells` are as the list's columns are; `spot` is the efficiency's dot. `keys` has by kind of label the keys of the batch.
    """

    id: str
    href: str
    order: int
    brewed: When
    title: str
    style: str
    planned: bool
    odd: bool
    doubtful: bool
    cells: tuple[Cell, ...]
    score: Cell
    efficiency: Number | None
    efficiency_key: str
    spot: SpotPicture | None
    tags: tuple[str, ...]
    keys: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class ListedYear:
    """The batches of one year, the latest first; `words` say how many there are, `more` leads to those that are not in `rows`."""

    year: Link
    words: str
    rows: tuple[BatchRow, ...]
    more: Link = _NOWHERE


@dataclass(frozen=True)
class BatchList:
    """Batches by year, the latest first: the columns' words with their units, and the axis of the efficiencies."""

    columns: tuple[str, ...]
    axis: StripAxis | None
    years: tuple[ListedYear, ...]

    @property
    def rows(self) -> tuple[BatchRow, ...]:
        """All of them."""
        return tuple(row for year in self.years for row in year.rows)


def _cell(result: Result | None, system: str) -> Cell:
    """A figure rounded as a brewer says it, to fewer digits than it has."""
    return Cell(show(result.value, 0.0, result.unit, system).value, f"{result.value:.6g}") if result else _NONE


def _efficiency(index: Index, batch: Batch) -> Result | None:
    # of two worts of one mash it stands where the grist does
    return None if batch.second_wort_of else index.result(batch, "brewhouse_efficiency")


def _axis(index: Index, batches: Iterable[Batch]) -> Axis | None:
    """What all dots lie on: those that are left out set no axis, unless there are no others."""
    known = [(batch, found) for batch in batches if (found := _efficiency(index, batch))]
    sound = [100 * found.value for batch, found in known if not index.flagged(batch, found)]
    values = sound or [100 * found.value for _, found in known]
    return Axis.around(values, least=10) if values else None


def _row(index: Index, batch: Batch, axis: Axis | None) -> BatchRow:
    beer, efficiency = beer_of(index.record, batch), _efficiency(index, batch)
    figures = (beer.original_gravity, beer.final_gravity, beer.alcohol_by_volume, beer.bitterness, beer.colour)
    return BatchRow(
        id=batch.id,
        href=index.paths[batch.file],
        order=index.order[batch.id],
        brewed=day(batch.day),
        title=batch.title or "",
        style=batch.style or "",
        planned=batch.planned,
        odd=bool(index.warnings_of(batch)),
        doubtful=index.doubtful(batch),
        cells=tuple(_cell(figure, index.system) for figure in figures),
        score=Cell(beer.score_text, f"{beer.score:.4f}") if beer.score is not None else _NONE,
        efficiency=of_result(efficiency, index.system) if efficiency else None,
        efficiency_key=f"{efficiency.value:.6f}" if efficiency else "",
        spot=SpotPicture(axis, 100 * efficiency.value, index.flagged(batch, efficiency))
        if efficiency and axis
        else None,
        tags=batch.tags,
        keys=tuple((kind.name, " ".join(key for key, _ in kind.of(index, batch))) for kind in KINDS),
    )


def batch_list(index: Index, batches: Sequence[Batch]) -> BatchList:
    """Batches, given in order of brewing, as a list."""
    axis = _axis(index, batches)
    years = []
    for year, of_year in groupby(reversed(batches), key=lambda batch: batch.day.year):
        listed = list(of_year)
        brewed, planned = (sum(batch.planned is which for batch in listed) for which in (False, True))
        words = ", ".join([count_batches(brewed)] * (brewed > 0) + [f"{planned} planned"] * (planned > 0))
        years.append(
            ListedYear(Link(str(year), year_path(year)), words, tuple(_row(index, batch, axis) for batch in listed))
        )
    signs = (unit_for(unit, index.system).sign if unit else "" for _, unit in _COLUMNS)
    columns = tuple(
        ", ".join(part for part in (words, sign) if part) for (words, _), sign in zip(_COLUMNS, signs, strict=True)
    )
    return BatchList(columns, StripAxis(axis, axis.ticks(_TICKS), "") if axis else None, tuple(years))


def cut_short(listed: BatchList, most: int) -> tuple[BatchList, tuple[BatchRow, ...]]:
    """A list of so many batches, the latest, whose years lead to the others, and the rows left out of it."""
    left, years = most, []
    others: list[BatchRow] = []
    for year in listed.years:
        kept, rest = year.rows[:left], year.rows[left:]
        left -= len(kept)
        others += rest
        words = f"{count_batches(len(rest)) if not kept else f'{len(rest)} more'} on the page of {year.year.words}"
        years.append(replace(year, rows=kept, more=Link(words, year.year.href) if rest else year.more))
    return replace(listed, years=tuple(years)), tuple(others)

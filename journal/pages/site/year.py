"""A year of brewing: how much, the best of it, what changed, and every batch with its numbers."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from journal.frozen import dataclass
from journal.figures import CATALOGUE
from journal.history.words import lever_label, setting_text
from journal.measures.wording import plain, show, unit_for
from journal.pages.beer import beer_of
from journal.pages.brewhouses import BrewhouseView, brewhouse_views
from journal.pages.charts.strip import StripAxis
from journal.pages.index import Index
from journal.pages.model import UNBROKEN, Link, Model, Number, When
from journal.pages.numbers import of_result
from journal.pages.parts.batch_list import BatchList, batch_list
from journal.pages.parts.courses import FIGURES
from journal.pages.parts.year_change import changes_of
from journal.pages.parts.year_strip import YEAR_AXIS, YearStrip, year_strip, years_of
from journal.pages.paths import year_path
from journal.pages.verdict import left_out
from journal.pages.words import day, figure_words
from journal.reading import Batch


#: The best beers of a year that are named, at most.
_BEST = 3


@dataclass(frozen=True)
class BestBeer:
    """A batch with the highest score of the year, and what its taster said."""

    batch: Link
    score: str
    words: str


@dataclass(frozen=True)
class ValuesRow:
    """A batch in the table of a year's values, a cell for each figure; None where the figure is absent."""

    id: str
    href: str
    brewed: When
    cells: tuple[Number | None, ...]
    flagged: tuple[bool, ...]


@dataclass(frozen=True)
class TastedRow:
    """A batch that was given a score, and what was done: mash temperature, attenuation, practice, empty where not known."""

    batch: Link
    brewed: When
    score: str
    mash: str
    attenuation: Number | None
    practice: str
    faults: str


@dataclass(frozen=True, kw_only=True)
class YearModel(Model):
    """What was brewed in a year: in all, the best of it, what changed, and every batch. `before` and `after` lead to other years."""

    year: int
    before: Link | None
    after: Link | None
    facts: tuple[str, ...]
    strip: YearStrip
    months: StripAxis
    best: tuple[BestBeer, ...]
    changed: tuple[str, ...]
    listed: BatchList
    columns: tuple[str, ...]
    rows: tuple[ValuesRow, ...]
    tasted: tuple[TastedRow, ...]


def _whole(index: Index, value: float, unit: str) -> str:
    """An amount to the whole of its unit."""
    how = unit_for(unit, index.system)
    return f"{plain(how.convert(value), 0)}{UNBROKEN}{how.sign}"


def _known_of(known: int, batches: int) -> str:
    """What a sum leaves out, so that an unknown is not counted as nothing."""
    return f" (known for {known} of {batches})" if known < batches else ""


def _facts(index: Index, brewed: Sequence[Batch]) -> Iterator[str]:
    """How many brews, how much beer, how much malt."""
    yield f"{len(brewed)} {'brew' if len(brewed) == 1 else 'brews'}"
    volumes = [beer.volume.value for batch in brewed if (beer := beer_of(index.record, batch)).volume]
    if volumes:
        yield f"{_whole(index, sum(volumes), 'L')} of beer{_known_of(len(volumes), len(brewed))}"
    weights = [
        sum(grain.weight.value for grain in batch.grains if grain.weight)
        for batch in brewed
        if batch.grains and all(grain.weight for grain in batch.grains)
    ]
    if weights:
        yield f"{_whole(index, sum(weights), 'kg')} of malt{_known_of(len(weights), len(brewed))}"


def _best(index: Index, brewed: Sequence[Batch]) -> tuple[BestBeer, ...]:
    """The batches with the highest score of the year; none where none was given."""
    scored = [(beer.score, batch, beer) for batch in brewed if (beer := beer_of(index.record, batch)).score is not None]
    best = max((score for score, _, _ in scored if score is not None), default=None)
    return tuple(
        BestBeer(index.link(batch), beer.score_text, (beer.tasting.words or "") if beer.tasting else "")
        for score, batch, beer in scored
        if score == best
    )[:_BEST]


def _beside(index: Index, year: int) -> tuple[Link | None, Link | None]:
    """The years before and after, as far as there are any."""
    years = sorted(years_of(index))
    place = years.index(year)
    around = (years[place - 1] if place else None, years[place + 1] if place + 1 < len(years) else None)
    before, after = (Link(str(each), year_path(each)) if each else None for each in around)
    return before, after


def _row(index: Index, house: BrewhouseView, batch: Batch, names: list[str]) -> ValuesRow:
    results = [index.result(batch, name) for name in names]
    return ValuesRow(
        id=batch.id,
        href=index.paths[batch.file],
        brewed=day(batch.day),
        cells=tuple(of_result(result, index.system) if result else None for result in results),
        flagged=tuple(result is not None and left_out(index, house, batch, result) for result in results),
    )


def _column(index: Index, figure: str) -> str:
    words, sign = figure_words(figure).removesuffix(" efficiency"), unit_for(CATALOGUE[figure].unit, index.system).sign
    return f"{words}, {sign}"


def _tasted(index: Index, batch: Batch) -> Iterator[TastedRow]:
    """The latest score that a batch was given, beside what was done; none where none was."""
    beer = beer_of(index.record, batch)
    if beer.score is None or beer.tasting is None:
        return
    temperature, attenuation = (index.result(batch, name) for name in ("mash_temperature", "apparent_attenuation"))
    practice = ", ".join(f"{lever_label(name)}: {setting_text(name, value)}" for name, value in batch.practice.items())
    yield TastedRow(
        index.link(batch),
        day(batch.day),
        beer.score_text,
        str(show(temperature.value, 0.0, "°C", index.system)) if temperature else "",
        of_result(attenuation, index.system) if attenuation else None,
        practice,
        ", ".join(beer.tasting.faults),
    )


def year_model(index: Index, year: int) -> YearModel:
    """Everything on a year's page."""
    brewed = [batch for batch in index.brewed if batch.day.year == year]
    houses = {batch.id: house for house in brewhouse_views(index) for batch in house.batches}
    names = [name for name in FIGURES if any(index.result(batch, name) for batch in brewed)]
    rows = [_row(index, houses[batch.id], batch, names) for batch in reversed(brewed)]
    before, after = _beside(index, year)
    return YearModel(
        frame=index.frame(str(year), "batches", f"What was brewed in {year}."),
        year=year,
        before=before,
        after=after,
        facts=tuple(_facts(index, brewed)),
        strip=year_strip(index, year),
        months=YEAR_AXIS,
        best=_best(index, brewed),
        changed=changes_of(index, year),
        listed=batch_list(index, [batch for batch in index.batches if batch.day.year == year]),
        columns=tuple(_column(index, name) for name in names),
        rows=tuple(row for row in rows if any(row.cells)),
        tasted=tuple(made for batch in reversed(brewed) for made in _tasted(index, batch)),
    )

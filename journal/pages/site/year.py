"""A year of brewing."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from journal.history.words import lever_label, setting_text
from journal.measures.wording import plain, show
from journal.pages.brewhouses import BrewhouseView, brewhouse_views
from journal.pages.index import Index
from journal.pages.model import Link, Model, Number, When
from journal.pages.numbers import of_result
from journal.pages.parts.courses import FIGURES
from journal.pages.verdict import left_out
from journal.pages.words import day, figure_words
from journal.reading import Batch


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
    """What was brewed in a year."""

    year: int
    columns: tuple[str, ...]
    rows: tuple[ValuesRow, ...]
    tasted: tuple[TastedRow, ...]


def _row(index: Index, house: BrewhouseView, batch: Batch, names: list[str]) -> ValuesRow:
    results = [index.result(batch, name) for name in names]
    return ValuesRow(
        id=batch.id,
        href=index.paths[batch.file],
        brewed=day(batch.day),
        cells=tuple(of_result(result, index.system) if result else None for result in results),
        flagged=tuple(result is not None and left_out(index, house, batch, result) for result in results),
    )


def _tasted(index: Index, batch: Batch) -> Iterator[TastedRow]:
    """The last score that a batch was given, beside what was done; none where none was."""
    scored = [tasting for tasting in batch.tasting if tasting.score is not None and tasting.out_of is not None]
    if not scored:
        return
    last = scored[-1]
    temperature, attenuation = (index.result(batch, name) for name in ("mash_temperature", "apparent_attenuation"))
    practice = ", ".join(f"{lever_label(name)}: {setting_text(name, value)}" for name, value in batch.practice.items())
    yield TastedRow(
        index.link(batch),
        day(batch.day),
        f"{plain(last.score.value, 0)} out of {plain(last.out_of.value, 0)}" if last.score and last.out_of else "",
        str(show(temperature.value, 0.0, "°C", index.system)) if temperature else "",
        of_result(attenuation, index.system) if attenuation else None,
        practice,
        ", ".join(last.faults),
    )


def year_model(index: Index, year: int) -> YearModel:
    """Everything on a year's page."""
    brewed = [batch for batch in index.brewed if batch.day.year == year]
    houses = {batch.id: house for house in brewhouse_views(index) for batch in house.batches}
    names = [name for name in FIGURES if any(index.result(batch, name) for batch in brewed)]
    rows = [_row(index, houses[batch.id], batch, names) for batch in reversed(brewed)]
    return YearModel(
        frame=index.frame(str(year), "batches", f"What was brewed in {year}."),
        year=year,
        columns=tuple(figure_words(name).removesuffix(" efficiency") for name in names),
        rows=tuple(row for row in rows if any(row.cells)),
        tasted=tuple(made for batch in reversed(brewed) for made in _tasted(index, batch)),
    )

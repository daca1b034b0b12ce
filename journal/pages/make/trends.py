"""Efficiencies and boil-off over time: points with their uncertainty, and no verdict."""

from __future__ import annotations

from journal.figures import CATALOGUE, Result
from journal.measures.wording import show_range, unit_for
from journal.pages.make.index import Index
from journal.pages.make.lead import how_many
from journal.pages.make.numbers import of_result
from journal.pages.models.common import UNBROKEN
from journal.pages.models.trends import Chart, Point, TrendRow, TrendsModel
from journal.pages.words import day, figure_words, month, sentence
from journal.reading import Batch

FIGURES = (
    "brewhouse_efficiency",
    "mash_efficiency",
    "conversion_efficiency",
    "lauter_efficiency",
    "transfer_efficiency",
    "boil_off",
)
#: Fewer batches than this get their points and no sentence on them.
FEWEST = 5


def _known(index: Index, name: str) -> list[tuple[Batch, Result]]:
    return [(batch, result) for batch in index.brewed if (result := index.result(batch, name)) is not None]


def _point(index: Index, batch: Batch, result: Result) -> Point:
    unit = unit_for(result.unit, index.system)
    return Point(
        day=batch.day.isoformat(),
        value=unit.convert(result.value),
        sd=abs(unit.convert_difference(result.sd)),
        batch=batch.id,
        href=index.paths[batch.file],
        words=f"{batch.id} {batch.title}, {day(batch.day).text}: {of_result(result, index.system).text}",
        flagged=index.flagged(batch, result),
    )


def chart(index: Index, name: str) -> Chart | None:
    """One figure over time, None where no batch has it."""
    known = _known(index, name)
    if not known:
        return None
    return Chart(
        figure=name,
        words=figure_words(name),
        unit=unit_for(CATALOGUE[name].unit, index.system).sign,
        summary=_summary(index, known),
        points=tuple(_point(index, batch, result) for batch, result in known),
    )


def _summary(index: Index, known: list[tuple[Batch, Result]]) -> str:
    latest = of_result(known[-1][1], index.system).text
    if len(known) == 1:
        return f"One batch so far, {known[0][0].id}: {latest}."
    return f"{len(known)} batches; the latest, batch {known[-1][0].id}, gave {latest}."


def trend_sentence(index: Index) -> str:
    """One sentence on the brewhouse efficiency; those with a warning on them are named and not counted in its range."""
    known = _known(index, "brewhouse_efficiency")
    sound = [(batch, result) for batch, result in known if not index.flagged(batch, result)]
    if len(known) < FEWEST or len(sound) < FEWEST:
        return ""
    values = [result.value for _, result in sound]
    latest = of_result(sound[-1][1], index.system).text
    shown = show_range(min(values), max(values), "1", index.system).replace(" ", UNBROKEN)
    odd = len(known) - len(sound)
    aside = f"; {how_many(odd)} with a warning on {'it' if odd == 1 else 'them'} left out" if odd else ""
    return sentence(
        f"From {month(sound[0][0].day)} to {month(sound[-1][0].day)}, {shown} of the malt’s "
        f"extract went into the fermenter, over {len(sound)} batches{aside}; in the latest, batch {sound[-1][0].id}, it was {latest}"
    )


def _outlook(index: Index) -> str:
    known = len(_known(index, "brewhouse_efficiency"))
    if known == 0:
        return (
            "No batch yet has the readings for an efficiency: the grist, and the volume and gravity in the fermenter."
        )
    if known < FEWEST:
        return (
            f"The points of the first {how_many(known)} stand here as they are. "
            f"With {how_many(FEWEST)} batches there will be a sentence on the range they lie in."
            if known > 1
            else f"The first batch stands here as it is. With {how_many(FEWEST)} there will be a sentence on the range they lie in."
        )
    return ""


def _row(index: Index, batch: Batch, names: list[str]) -> TrendRow:
    results = [index.result(batch, name) for name in names]
    return TrendRow(
        id=batch.id,
        href=index.paths[batch.file],
        brewed=day(batch.day),
        cells=tuple(of_result(result, index.system) if result else None for result in results),
        flagged=tuple(result is not None and index.flagged(batch, result) for result in results),
    )


def trends_model(index: Index) -> TrendsModel:
    """Everything on the trends page."""
    charts = tuple(made for name in FIGURES if (made := chart(index, name)))
    names = [made.figure for made in charts]
    rows = tuple(_row(index, batch, names) for batch in reversed(index.brewed))
    rows = tuple(row for row in rows if any(row.cells))
    return TrendsModel(
        frame=index.frame("Trends", "trends", "Efficiencies and boil-off over time."),
        sentence=trend_sentence(index),
        outlook=_outlook(index),
        charts=charts,
        columns=tuple(made.words.removesuffix(" efficiency") for made in charts),
        rows=rows,
    )

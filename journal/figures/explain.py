"""A figure explained as plain text.

Formula, the numbers put in, the result, its source, and who brings the uncertainty.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from textwrap import fill

from journal.figures.catalogue import CATALOGUE
from journal.figures.observe import observe
from journal.figures.resolve import BatchFigures, Result
from journal.figures.working import FigureWorking, Part, working_of
from journal.measures.wording import METRIC, show
from journal.reading import Batch, Brewery, Malts
from journal.reading.called import missing_words

_WIDTH = 100


def _lines(lead: str, text: str) -> str:
    return fill(text, _WIDTH, initial_indent=f"  {lead:<9}", subsequent_indent=" " * 11)


def _part(part: Part, batch: Batch) -> str:
    written = batch.written(str(part.source))
    place = f"  ({written}, line {batch.place(part.source.path).line})" if written else ""
    return f"           {part.share * 100:3.0f} %  {part.source}{place}"


def _working(working: FigureWorking, batch: Batch) -> Iterator[str]:
    yield f"{working.figure.label}: {working.result}"
    yield _lines("is", working.figure.meaning)
    yield _lines("formula", working.formula)
    if working.numbers != working.formula:
        yield _lines("numbers", working.numbers)
    for term in working.terms:
        if term.rows:
            yield _lines("with", f"{term.label}:")
            yield from (f"           - {row}" for row in term.rows)
    yield _lines("result", str(working.result))
    yield _lines("source", working.figure.source)
    if working.parts:
        yield "  the ± comes from"
        yield from (_part(part, batch) for part in working.parts)


def explain_figure(name: str, batch: Batch, figures: BatchFigures, brewery: Brewery, malts: Malts) -> str:
    """The working of one figure, or the readings that are missing for it."""
    working = working_of(name, figures, observe(batch, brewery, malts), brewery.units or METRIC)
    if working is not None:
        return "\n".join(_working(working, batch))
    figure = CATALOGUE[name]
    wanting = _wanting(figures.wanting[name])
    return "\n".join([f"{figure.label}: can't be worked out", _lines("is", figure.meaning), _lines("missing", wanting)])


def _wanting(paths: Iterable[str]) -> str:
    """Readings as an entry names them; of one in a list, which nobody counts from zero, in words too."""
    return ", ".join(f"{missing_words(path)} ({path})" if "[" in path else path for path in paths)


def explain_batch(
    batch: Batch, figures: BatchFigures, brewery: Brewery, best: Callable[[str], Result | None] | None = None
) -> str:
    """Every figure of a batch by group, and for those that are absent what is wanting; `best` finds the value that pages show."""
    lines, group = [f"Batch {batch.id}: {batch.title}, brewed {batch.day}"], ""
    groups = list(dict.fromkeys(figure.group for figure in CATALOGUE.values()))
    for figure in sorted(CATALOGUE.values(), key=lambda figure: groups.index(figure.group)):
        if figure.group != group:
            group = figure.group
            lines.append(f"\n{group}")
        result = (best or figures.get)(figure.name)
        if result is not None:
            shown = show(result.value, result.sd, result.unit, brewery.units or METRIC)
            lines.append(f"  {figure.name:<26} {shown}")
        else:
            lines.append(f"  {figure.name:<26} missing: {_wanting(figures.wanting[figure.name])}")
    reconciled = ", as recorded and as reconciled with the other readings" if best else ""
    lines.append(f"\n`wortbook explain {batch.id} FIGURE` shows how one of them came about{reconciled}.")
    return "\n".join(lines)

"""What changed from one year to the next: levels by the record's verdicts, malts used for the first time, practice."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from statistics import median

from journal.history.settings import Setting, lever_of, lot_shares, settings_of
from journal.history.words import lever_label, setting_text
from journal.pages.brewhouses import brewhouse_views
from journal.pages.grist import lot_name
from journal.pages.index import Index
from journal.pages.labels import malts_of
from journal.pages.parts.courses import courses_of
from journal.pages.verdict import step_words
from journal.pages.words import figure_words
from journal.reading import Batch

#: Batches of a year that record a setting, below which nothing is said of it.
_FEWEST = 3


def changes_of(index: Index, year: int) -> tuple[str, ...]:
    """What changed in a year, a sentence each."""
    of_year = [batch for batch in index.brewed if batch.day.year == year]
    before = [batch for batch in index.brewed if batch.day.year == year - 1]
    earlier = [batch for batch in index.brewed if batch.day.year < year]
    return (*_levels(index, year), *_practice(index, before, of_year), *_malts(index, earlier, of_year))


def _levels(index: Index, year: int) -> Iterator[str]:
    for house in brewhouse_views(index):
        where = f" on {house.name}" if house.name else ""
        for view in courses_of(index, house):
            for step in view.course.steps:
                first = view.batch(step.first)
                if first.day.year == year:
                    size = step_words(index, view.course, step)
                    yield f"{figure_words(view.course.figure).capitalize()} from batch {first.id} on: {size}{where}."


def _malts(index: Index, earlier: Sequence[Batch], of_year: Sequence[Batch]) -> Iterator[str]:
    if not earlier:
        return
    known = {malt for batch in earlier for malt in malts_of(batch)}
    new = dict.fromkeys(malt for batch in of_year for malt in malts_of(batch) if malt not in known)
    if new:
        # the names of lots have commas in them
        yield f"Used for the first time: {'; '.join(lot_name(index, malt) for malt in new)}."


def _usual(index: Index, batches: Sequence[Batch]) -> dict[str, Setting]:
    """How each lever was mostly set, of those that a brewer sets on purpose and recorded often enough."""
    found: dict[str, list[Setting]] = {}
    malts = index.record.journal.malts
    for batch in batches:
        for lever, setting in settings_of(batch, index.figures(batch), lot_shares(batch, malts)).items():
            if lever_of(lever).asked_for:
                found.setdefault(lever, []).append(setting)
    return {lever: _middle(settings) for lever, settings in found.items() if len(settings) >= _FEWEST}


def _middle(settings: Sequence[Setting]) -> Setting:
    numbers = [float(each) for each in settings if isinstance(each, int | float) and not isinstance(each, bool)]
    if len(numbers) == len(settings):
        return median(numbers)
    return Counter(settings).most_common(1)[0][0]


def _practice(index: Index, before: Sequence[Batch], of_year: Sequence[Batch]) -> Iterator[str]:
    then, now = _usual(index, before), _usual(index, of_year)
    for lever in (lever for lever in then if lever in now):
        if _differ(lever, then[lever], now[lever]):
            first, second = (setting_text(lever, usual[lever], index.system) for usual in (then, now))
            label = lever_label(lever)
            yield f"{label[:1].upper()}{label[1:]}: mostly {second}, the year before {first}."


def _differ(lever: str, then: Setting, now: Setting) -> bool:
    """Whether a change is one that a brewer would make on purpose."""
    if isinstance(then, str | bool) or isinstance(now, str | bool):
        return then != now
    useful = lever_of(lever).useful
    return abs(now - then) >= useful * (1 - 1e-9) if useful is not None else now != then

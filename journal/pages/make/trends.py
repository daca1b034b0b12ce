"""Efficiencies and boil-off over time, a section a brewhouse: points with their uncertainty, limits, changes, hits."""

from __future__ import annotations

from collections.abc import Iterator

from journal.figures import CATALOGUE, Result
from journal.history import FigureCourse
from journal.history.story import HitRate
from journal.history.story import Point as OwnPoint
from journal.history.words import lever_label, setting_text
from journal.history.worth import Worth
from journal.measures.wording import plain, show, show_range, unit_for
from journal.pages.brewhouses import BrewhouseView, brewhouse_views
from journal.pages.differences import HALF_WIDTH, between, change, join
from journal.pages.index import Index
from journal.pages.make.course import CourseView
from journal.pages.model import UNBROKEN, Link
from journal.pages.models.trends import (
    Chart,
    Foreseen,
    HitRow,
    Point,
    TastedRow,
    Trend,
    TrendRow,
    TrendSection,
    TrendsModel,
)
from journal.pages.numbers import of_result, quantity
from journal.pages.words import day, figure_words, how_many, month, sentence
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
#: How often an interval is meant to hold what comes.
_MEANT = 0.9


def _known(index: Index, house: BrewhouseView, name: str) -> list[tuple[Batch, Result]]:
    return [(batch, result) for batch in house.batches if (result := index.result(batch, name)) is not None]


def _course(house: BrewhouseView, name: str) -> FigureCourse | None:
    return house.story.course(name) if house.story else None


def _left_out(index: Index, house: BrewhouseView, batch: Batch, result: Result) -> bool:
    """Whether a batch is kept out of what is said of a figure; what the record's course counts, counts."""
    course = _course(house, result.name)
    counted = course is not None and batch.id in course.by_batch
    return not counted and index.flagged(batch, result)


def _own(house: BrewhouseView, batch: Batch, result: Result) -> OwnPoint | Result:
    """What a batch's readings say of a figure by themselves, where the record's course has it."""
    course = _course(house, result.name)
    return course.by_batch.get(batch.id, result) if course else result


def _point(index: Index, house: BrewhouseView, batch: Batch, result: Result) -> Point:
    unit = unit_for(result.unit, index.system)
    own = _own(house, batch, result)
    return Point(
        day=batch.day.isoformat(),
        value=unit.convert(own.value),
        sd=abs(unit.convert_difference(own.sd)),
        batch=batch.id,
        href=index.paths[batch.file],
        words=f"{batch.id} {batch.title}, {day(batch.day).text}: {quantity(own.value, own.sd, result.unit, index.system).text}",
        flagged=_left_out(index, house, batch, result),
    )


def _course_view(index: Index, house: BrewhouseView, name: str) -> CourseView | None:
    course = _course(house, name)
    return CourseView(index, course, {batch.id: batch for batch in house.batches}) if course and course.points else None


def _chart(index: Index, house: BrewhouseView, name: str) -> Chart | None:
    known = _known(index, house, name)
    if not known:
        return None
    view = _course_view(index, house, name)
    return Chart(
        figure=name,
        words=figure_words(name),
        unit=unit_for(CATALOGUE[name].unit, index.system).sign,
        summary=_summary(index, house, known),
        points=tuple(_point(index, house, batch, result) for batch, result in known),
        bands=view.bands() if view else (),
        steps=view.steps() if view else (),
        by_themselves=any(_own(house, batch, result) is not result for batch, result in known),
    )


def chart(index: Index, name: str) -> Chart | None:
    """One figure over time on the brewhouse with most batches, None where no batch has it."""
    return _chart(index, brewhouse_views(index)[0], name)


def _summary(index: Index, house: BrewhouseView, known: list[tuple[Batch, Result]]) -> str:
    batch, result = known[-1]
    own = _own(house, batch, result)
    latest = quantity(own.value, own.sd, result.unit, index.system).text
    if len(known) == 1:
        return f"One batch so far, {batch.id}: {latest}."
    whose = "" if own is result else " by its own readings"
    return f"{len(known)} batches; the latest, batch {batch.id}, gave {latest}{whose}."


def trend_sentence(index: Index) -> str:
    """One sentence on the brewhouse efficiency of the brewhouse with most batches."""
    return _sentence(index, brewhouse_views(index)[0])


def _sentence(index: Index, house: BrewhouseView) -> str:
    """One sentence on the brewhouse efficiency; those left out are counted and not in its range."""
    known = _known(index, house, "brewhouse_efficiency")
    sound = [(batch, result) for batch, result in known if not _left_out(index, house, batch, result)]
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


def _outlook(index: Index, house: BrewhouseView) -> str:
    known = len(_known(index, house, "brewhouse_efficiency"))
    if known == 0:
        return (
            "No batch yet has the readings for an efficiency: the grist, and the volume and gravity in the fermenter."
        )
    if known < FEWEST:
        return (
            f"The points of the first {how_many(known)} stand here as they are. "
            f"With {how_many(FEWEST)} batches there will be a sentence on the range they lie in, and limits that tell "
            "change from chance."
            if known > 1
            else f"The first batch stands here as it is. With {how_many(FEWEST)} there will be a sentence on the range "
            "they lie in, and limits that tell change from chance."
        )
    return ""


def _trend(index: Index, house: BrewhouseView, name: str) -> Trend | None:
    made = _chart(index, house, name)
    if made is None:
        return None
    view = _course_view(index, house, name)
    if view is None or len(house.batches) < FEWEST:
        return Trend(made, None, "", (), ())
    return Trend(made, view.left(), view.limits(), view.sentences(), view.signals())


def _foreseen(hits: tuple[HitRate, ...]) -> Foreseen | None:
    """How right the expectations were."""
    if not hits:
        return None
    rows = tuple(
        HitRow(
            Link(figure_words(each.figure), f"figures.html#{each.figure}"),
            each.right,
            each.of,
            f"{plain(100 * each.right / each.of, 0)}{UNBROKEN}%" if each.of >= FEWEST else "",
        )
        for each in hits
    )
    right, of = sum(each.right for each in hits), sum(each.of for each in hits)
    meant = f"{plain(100 * _MEANT, 0)}{UNBROKEN}%"
    return Foreseen(
        f"What was foreseen the evening before held for {right} of {of} values; nine in ten ({meant}) were meant to. "
        "Figures of one batch go up and down together, so these counts are less sure than their number.",
        rows,
    )


def _amount(index: Index, worth: Worth) -> str:
    """`2.8 kg of grain (1.0 to 4.5), 4.10 (1.50 to 6.60) at the prices in malts.yaml`."""
    least, most = sorted(sign * end.grain for end in (worth.least, worth.most) for sign in (_side(worth),))
    size = show(abs(worth.saved.grain), (most - least) / 2 / HALF_WIDTH, "kg", index.system)
    told = f"{join(size.value, size.unit)} of grain ({between(least, most, 'kg', index.system)})"
    if worth.saved.money is None or worth.least.money is None or worth.most.money is None:
        return told
    ends = sorted(_side(worth) * end for end in (worth.least.money, worth.most.money))
    money = join(plain(abs(worth.saved.money), 2), f"({plain(ends[0], 2)} to {plain(ends[1], 2)})")
    return f"{told}, {money} at the prices in malts.yaml"


def _side(worth: Worth) -> int:
    return 1 if worth.change >= 0 else -1


def worth_sentence(index: Index, worth: Worth, *, stepped: bool) -> str:
    """What a change of level saved or spent, in grain and, where prices are known, in money; or that nobody can tell yet.

    `stepped`: a step is found in the course itself.
    """
    since = f"Since batch {worth.since}, {how_many(worth.batches)} batches"
    level = change(worth.change, worth.low, worth.high, "1", index.system)
    if not worth.sure:
        return (
            f"{since} lay on average {level} of brewhouse efficiency from your own earlier level, grist and volumes allowed for: "
            "whether that saves grain can’t be told yet."
        )
    low, high = sorted((abs(worth.low), abs(worth.high)))
    size = join(show(abs(worth.change), (high - low) / 2 / HALF_WIDTH, "1", index.system).value, "points")
    return (
        f"{since} lay on average {size} ({between(low, high, '1', index.system)}) of brewhouse efficiency "
        f"{'above' if worth.change >= 0 else 'below'} your own earlier level, grist and volumes allowed for: "
        f"{_amount(index, worth)} {'saved' if worth.change >= 0 else 'spent'}.{'' if stepped else ' The course itself shows no step.'}"
    )


def _worth(index: Index, house: BrewhouseView) -> str:
    if house.story is None or house.story.worth is None:
        return ""
    course = house.story.course("brewhouse_efficiency")
    return worth_sentence(index, house.story.worth, stepped=bool(course and course.steps))


def _row(index: Index, house: BrewhouseView, batch: Batch, names: list[str]) -> TrendRow:
    results = [index.result(batch, name) for name in names]
    return TrendRow(
        id=batch.id,
        href=index.paths[batch.file],
        brewed=day(batch.day),
        cells=tuple(of_result(result, index.system) if result else None for result in results),
        flagged=tuple(result is not None and _left_out(index, house, batch, result) for result in results),
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


def _section(index: Index, house: BrewhouseView) -> TrendSection:
    trends = tuple(made for name in FIGURES if (made := _trend(index, house, name)))
    names = [made.chart.figure for made in trends]
    rows = tuple(_row(index, house, batch, names) for batch in reversed(house.batches))
    story = house.story
    return TrendSection(
        name=house.name,
        anchor=house.anchor,
        sentence=_sentence(index, house),
        outlook=_outlook(index, house),
        trends=trends,
        worth=_worth(index, house),
        foreseen=_foreseen(story.hits) if story else None,
        columns=tuple(made.chart.words.removesuffix(" efficiency") for made in trends),
        tasted=tuple(made for batch in reversed(house.batches) for made in _tasted(index, batch)),
        rows=tuple(row for row in rows if any(row.cells)),
    )


def trends_model(index: Index) -> TrendsModel:
    """Everything on the trends page."""
    return TrendsModel(
        frame=index.frame("Trends", "trends", "Efficiencies and boil-off over time."),
        sections=tuple(_section(index, house) for house in brewhouse_views(index)),
    )

"""The brewhouses: what the record says of each vessel and how it works, over time, beside what brewery.yaml states."""

# ruff: noqa: E501  # sentences for readers, one to a line

from __future__ import annotations

from collections.abc import Iterator

from journal.frozen import dataclass
from journal.history.brewhouse import DISAGREES_FROM, LearntValue
from journal.history.learn import FEWEST_TO_LEARN
from journal.measures.wording import show, unit_for
from journal.pages.brewhouses import BrewhouseView, brewhouse_views
from journal.pages.charts.control import LINKED
from journal.pages.charts.over_time import DayLink, LevelBand, TimeDot, TimePanel, TimePicture
from journal.pages.index import Index
from journal.pages.model import UNBROKEN, Model, Number
from journal.pages.numbers import quantity
from journal.pages.parts.checks import CheckLine, check_lines
from journal.pages.paths import slug
from journal.pages.verdict import what_moved
from journal.pages.counted import count_batches, how_many


@dataclass(frozen=True)
class Learnt:
    """One thing learnt: what it is and rests on, the spread between the batches that it is learnt from, and what is stated."""

    anchor: str
    words: str
    meaning: str
    rests: str
    spread: Number
    batches: int
    stated: str
    disagrees: bool


@dataclass(frozen=True)
class BrewhouseSection:
    """One brewhouse; `outlook` says what will come where nothing is learnt yet, `moved` what became of its level."""

    name: str
    anchor: str
    summary: str
    moved: str
    outlook: str
    picture: TimePicture | None
    learnt: tuple[Learnt, ...]


@dataclass(frozen=True, kw_only=True)
class BrewhouseModel(Model):
    """Every brewhouse, the one with most batches first; what the instruments were checked with, the earliest first."""

    sections: tuple[BrewhouseSection, ...]
    checks: tuple[CheckLine, ...]


@dataclass(frozen=True)
class _Meaning:
    """What a thing is called, what it is, and what it rests on."""

    words: str
    meaning: str
    rests: str


_MEANINGS = {
    "boil_off": _Meaning("Boil-off", "The water that an hour’s boil drives off.", "Volumes and gravities before and after the boil, and its time."),
    "dead_space": _Meaning("Dead space", "Wort that stays under the false bottom and in hoses after the run-off.", "Liquor, volumes and gravities on both sides of the run-off; it can hardly be separated from the water that the grain holds, so it moves little from what you state or what is common."),
    "kettle_loss": _Meaning("Kettle loss", "Wort that stays in the kettle with the trub: what settles of protein and hops.", "Volumes at knockout and in the fermenter."),
    "conversion": _Meaning("Conversion", "How much of what the malt’s sheet promises the mash dissolves.", "The strength of the first wort, the liquor and the grist; the rest of the balance counts too."),
    "absorption": _Meaning("Absorption", "The liquor that went in minus the wort that came out, for each kilogram of grain, as the trade calculates it.", "Liquor, the volume before the boil, the dead space of the mash tun and the grist."),
    "water_held": _Meaning("Water held", "The water that a kilogram of grain keeps in the end, by weight: what a model of the run-off takes. It is more than the absorption, since the extract adds volume and the grain brings moisture.", "Liquor, volumes and gravities on both sides of the run-off."),
    "shortfall": _Meaning("Shortfall of the bed", "How much more of the dissolved extract the run-off leaves with the grain than a bed would that is perfectly stirred between run-offs. Below zero it leaves less.", "The kettle’s extract against that of the mash, with the volumes run off."),
}  # fmt: skip


def _text(index: Index, value: float, sd: float, unit: str) -> str:
    return str(show(value, sd, unit, index.system)).replace(" ", UNBROKEN)


def _words(found: LearntValue) -> str:
    said = _MEANINGS[found.name].words
    return f"{said}, {found.method}" if found.method else said


def _panel(index: Index, house: BrewhouseView, found: LearntValue) -> TimePanel:
    """Each batch's word on one thing, the level and the scatter of those that it is learnt from, and what is stated."""
    how = unit_for(found.unit, index.system)
    level, days = found.level, [house.by_id[batch].day.toordinal() for batch, _ in found.course]
    values = [(how.convert(each.value), abs(how.convert_difference(each.sd))) for _, each in found.course]
    ends = [how.convert(end) for end in (level.mean - level.spread, level.mean, level.mean + level.spread)]
    name = _words(found)
    return TimePanel(
        words=f"{name}, {how.sign}" if how.sign else name,
        latest=_text(index, level.mean, level.error, found.unit),
        dots=tuple(TimeDot(day, value, sd) for day, (value, sd) in zip(days, values, strict=True)),
        bands=(LevelBand(days[-level.batches :][0], days[-1], *ends),),
        stated=how.convert(found.stated.value) if found.stated else None,
    )


def _picture(index: Index, house: BrewhouseView, learnt: tuple[LearntValue, ...]) -> TimePicture | None:
    if not learnt:
        return None
    panels = tuple(_panel(index, house, found) for found in learnt)
    summary = "; ".join(f"{panel.words}: {panel.latest}" for panel in panels)
    return TimePicture("What each batch says of the brewhouse", f"{summary}.", panels, tuple(_links(index, house, learnt)))


def _links(index: Index, house: BrewhouseView, learnt: tuple[LearntValue, ...]) -> Iterator[DayLink]:
    """The newest batches, each with its word on all things."""
    said: dict[str, list[str]] = {}
    for found in learnt:
        for batch, each in found.course[-LINKED:]:
            said.setdefault(batch, []).append(f"{_words(found).lower()} {_text(index, each.value, each.sd, found.unit)}")
    newest = sorted((house.by_id[each] for each in said), key=lambda each: index.order[each.id])[-LINKED:]
    for brewed in newest:
        words = f"{brewed.id} {brewed.title}: {', '.join(said[brewed.id])}"
        yield DayLink(brewed.day.toordinal(), words, index.paths[brewed.file])


def _stated(index: Index, found: LearntValue, *, doubted: bool) -> str:
    """What brewery.yaml says, and whether the record agrees; `doubted`: an instrument that moved may be what speaks."""
    if found.stated is None:
        return ""
    stated = _text(index, found.stated.value, found.stated.sd or 0.0, found.unit)
    batches = found.level.batches
    if found.disagrees and doubted:
        return f"You state {stated} in brewery.yaml; whether the vessel changed or what reads it is open, see above."
    if found.disagrees:
        says = _text(index, found.level.mean, found.level.error, found.unit)
        return f"You state {stated} in brewery.yaml; your last {batches} batches say {says}."
    if batches < DISAGREES_FROM:
        return f"You state {stated} in brewery.yaml; {how_many(batches)} batches are too few to hold against it."
    return f"You state {stated} in brewery.yaml, and the record does not contradict it."


def _learnt(index: Index, house: BrewhouseView, found: LearntValue) -> Learnt:
    said = _MEANINGS[found.name]
    doubted = house.story is not None and house.story.moved.doubts(found.name)
    name = f"{found.name} {found.method}".strip()
    return Learnt(
        anchor=f"{house.anchor}-{slug(name).lower()}",
        words=_words(found),
        meaning=said.meaning,
        rests=said.rests,
        spread=quantity(found.level.spread, 0.0, found.unit, index.system),
        batches=found.level.batches,
        stated=_stated(index, found, doubted=doubted),
        disagrees=found.disagrees and not doubted,
    )


def _as_written(house: BrewhouseView) -> str:
    """That the levels are not corrected, where the record corrects what they are learnt from."""
    corrects = house.story is not None and any(move.corrects for move in house.story.moved.moves)
    return " The levels below are those of the readings as written." if corrects else ""


def _section(index: Index, house: BrewhouseView) -> BrewhouseSection:
    values = house.story.record.learnt if house.story else ()
    learnt = tuple(_learnt(index, house, found) for found in values)
    disagree = [each.words.lower() for each in learnt if each.disagrees]
    says = f"{count_batches(len(house.batches))} brewed."
    if disagree:
        says += f" The record contradicts what you state of {', '.join(disagree)}."
    outlook = (
        ""
        if learnt
        else f"Nothing is learnt yet. Each thing takes {how_many(FEWEST_TO_LEARN)} batches with the readings it rests on."
    )
    return BrewhouseSection(
        house.name or "The brewhouse",
        house.anchor,
        says,
        f"{what_moved(index, house)}{_as_written(house)}",
        outlook,
        _picture(index, house, values),
        learnt,
    )


def brewhouse_model(index: Index) -> BrewhouseModel:
    """Everything on the page on the brewhouses."""
    return BrewhouseModel(
        frame=index.frame("Brewhouse", "brewhouse", "What the record says of the vessels and how they work."),
        sections=tuple(_section(index, house) for house in brewhouse_views(index)),
        checks=check_lines(index.record.journal.brewery),
    )

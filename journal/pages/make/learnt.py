"""What the record says of a brewhouse, each thing with its course and beside what brewery.yaml states."""

# ruff: noqa: E501  # sentences for readers, one to a line

from __future__ import annotations

from dataclasses import dataclass

from journal.history.brewhouse import DISAGREES_FROM, LearntValue
from journal.history.learn import FEWEST_TO_LEARN
from journal.measures.wording import show
from journal.pages.brewhouses import BrewhouseView, brewhouse_views
from journal.pages.index import Index
from journal.pages.model import UNBROKEN, Link
from journal.pages.models.brewhouse import BrewhouseModel, BrewhouseSection, Dot, Learnt, Line, SmallCourse
from journal.pages.numbers import quantity
from journal.pages.paths import slug
from journal.pages.words import count_batches, how_many
from journal.reading import Batch


@dataclass(frozen=True)
class _Meaning:
    """What a thing is called, what it is, and what it rests on."""

    words: str
    meaning: str
    rests: str


_MEANINGS = {
    "boil_off": _Meaning("Boil-off", "The water that an hour’s boil drives off.", "Volumes and gravities before and after the boil, and its time."),
    "dead_space": _Meaning("Dead space", "Wort that stays under the false bottom and in hoses after lautering.", "Liquor, volumes and gravities on both sides of the run-off; it is hardly told from the water that the grain holds, so it moves little from what you state or what is common."),
    "kettle_loss": _Meaning("Kettle loss", "Wort that stays in the kettle with the trub: what settles of protein and hops.", "Volumes at knockout and in the fermenter."),
    "conversion": _Meaning("Conversion", "How much of what the malt’s sheet promises the mash dissolves.", "The strength of the first wort, the liquor and the grist; the rest of the balance bears on it too."),
    "absorption": _Meaning("Absorption", "Liquor in less wort out by weight of grain, as the trade reckons it.", "Liquor, the volume before the boil, the dead space of the mash tun and the grist."),
    "water_held": _Meaning("Water held", "The water that a kilogram of grain keeps in the end, by weight: what a model of the run-off takes. It is more than the absorption, since the extract adds volume and the grain brings moisture.", "Liquor, volumes and gravities on both sides of the run-off."),
    "shortfall": _Meaning("Shortfall of the bed", "How far lautering, the run-off of wort from the grain, stays behind a bed that is perfectly stirred between run-offs, as a share of the dissolved extract. Below nought it did better.", "The kettle’s extract against that of the mash, with the volumes run off."),
}  # fmt: skip
#: Pixels: height of a small picture, and what is kept free above and below.
_HEIGHT, _EDGE = 84, 8
#: Room above and below what the values and their uncertainties reach, as a share of that; and how far beyond all values an
#: uncertainty is drawn, as a share of their range, lest one vague batch leave no picture of the others.
_ROOM, _BEYOND = 0.05, 2.0


def _scale(found: LearntValue) -> tuple[float, float]:
    """The values that the picture's top and bottom stand for."""
    own = [evidence for _, evidence in found.course]
    ends = found.level.mean - found.level.spread, found.level.mean + found.level.spread
    least, most = min(*(each.value for each in own), ends[0]), max(*(each.value for each in own), ends[1])
    beyond = _BEYOND * (most - least)
    low = max(min(least, *(each.value - each.sd for each in own)), least - beyond)
    high = min(max(most, *(each.value + each.sd for each in own)), most + beyond)
    room = _ROOM * (high - low) or 1.0
    return high + room, low - room


def _course(index: Index, found: LearntValue, batches: dict[str, Batch]) -> SmallCourse:
    top, bottom = _scale(found)

    def y(value: float) -> float:
        share = (top - min(max(value, bottom), top)) / (top - bottom)
        return round(_EDGE + share * (_HEIGHT - 2 * _EDGE), 1)

    count = len(found.course)
    dots = tuple(
        Dot(
            x=round(2 + 96 * (place + 0.5) / count, 2),
            y=y(evidence.value),
            low=y(evidence.value - evidence.sd),
            high=y(evidence.value + evidence.sd),
            batch=Link(
                f"batch {batch}: {_text(index, evidence.value, evidence.sd, found.unit)}",
                index.paths[batches[batch].file],
            ),
        )
        for place, (batch, evidence) in enumerate(found.course)
    )
    above, below = y(found.level.mean + found.level.spread), y(found.level.mean - found.level.spread)
    stated = found.stated.value if found.stated else None
    level = _text(index, found.level.mean, found.level.error, found.unit)
    return SmallCourse(
        height=_HEIGHT,
        top=_EDGE,
        bottom=_HEIGHT - _EDGE,
        level=Line(y(found.level.mean)),
        spread_top=above,
        spread_height=round(below - above, 1),
        stated=Line(y(stated)) if stated is not None and bottom < stated < top else None,
        dots=dots,
        summary=f"{count} batches in order of brewing, about {level}; the band is what they scatter by.",
    )


def _text(index: Index, value: float, sd: float, unit: str) -> str:
    return str(show(value, sd, unit, index.system)).replace(" ", UNBROKEN)


def _stated(index: Index, found: LearntValue) -> str:
    """What brewery.yaml says, and whether the record agrees."""
    if found.stated is None:
        return ""
    stated = _text(index, found.stated.value, found.stated.sd or 0.0, found.unit)
    batches = found.level.batches
    if found.disagrees:
        says = _text(index, found.level.mean, found.level.error, found.unit)
        return f"You state {stated} in brewery.yaml; your last {batches} batches say {says}."
    if batches < DISAGREES_FROM:
        return f"You state {stated} in brewery.yaml; {how_many(batches)} batches are too few to hold against it."
    return f"You state {stated} in brewery.yaml, and the record does not contradict it."


def _learnt(index: Index, house: BrewhouseView, found: LearntValue) -> Learnt:
    said = _MEANINGS[found.name]
    name = f"{found.name} {found.method}".strip()
    return Learnt(
        anchor=f"{house.anchor}-{slug(name).lower()}",
        words=f"{said.words}, {found.method}" if found.method else said.words,
        meaning=said.meaning,
        rests=said.rests,
        number=quantity(found.level.mean, found.level.error, found.unit, index.system),
        spread=quantity(found.level.spread, 0.0, found.unit, index.system),
        batches=found.level.batches,
        stated=_stated(index, found),
        disagrees=found.disagrees,
        course=_course(index, found, {batch.id: batch for batch in house.batches}),
    )


def _section(index: Index, house: BrewhouseView) -> BrewhouseSection:
    learnt = tuple(_learnt(index, house, found) for found in house.story.record.learnt) if house.story else ()
    count = len(house.batches)
    disagree = [each.words.lower() for each in learnt if each.disagrees]
    says = f"{count_batches(count)} brewed."
    if disagree:
        says += f" The record contradicts what you state of {', '.join(disagree)}."
    outlook = (
        ""
        if learnt
        else f"Nothing is learnt yet. Each thing takes {how_many(FEWEST_TO_LEARN)} batches with the readings it rests on."
    )
    return BrewhouseSection(house.name or "The brewhouse", house.anchor, says, outlook, learnt)


def brewhouse_model(index: Index) -> BrewhouseModel:
    """Everything on the page on the brewhouses."""
    return BrewhouseModel(
        frame=index.frame("Brewhouse", "brewhouse", "What the record says of the vessels and how they work."),
        sections=tuple(_section(index, house) for house in brewhouse_views(index)),
    )

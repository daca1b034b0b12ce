"""What a batch's own entry says of how it is brewed: the grist and the aim of a plan for it, or for one like it."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from journal.figures import BatchFigures
from journal.figures.added import joins_late, water_in
from journal.frozen import dataclass
from journal.history.plan.aim import Aim, GristLine
from journal.problems import in_words
from journal.reading import Batch, Brewhouse, Malts, resolve
from journal.reading.entry import Addition, Grain
from journal.reading.table import lines_of
from journal.science import wort

#: What a brew is planned by where nothing is known (common practice): L/kg, min of boil, the method, a grain's moisture.
LIQUOR_TO_GRIST, BOIL, MOISTURE = 3.0, 60.0, 0.04
FIRST_METHOD = "batch sparge"


@dataclass(frozen=True)
class Unusable:
    """Why nothing can be drafted, and what would help, each a sentence."""

    why: str
    hint: str


class Joining(NamedTuple):
    """kg of extract and of water that join at one place."""

    extract: float
    water: float


def as_is(line: Grain | Addition, path: str, malts: Malts) -> tuple[float, float] | None:
    """Extract as is and moisture, fractions; None where the extract is not known."""
    values = resolve(line, path, malts)
    moisture = values.moisture.value if values.moisture else MOISTURE
    if values.extract_as_is is not None:
        return values.extract_as_is.value, moisture
    return None if values.extract is None else (values.extract.value * (1 - moisture), moisture)


def grist_lines(grains: Iterable[Grain], malts: Malts, whose: str = "") -> list[GristLine] | Unusable:
    """The lines of a grist by their weights, or by their shares where no weight is stated; `whose` it is, such as `batch 7`."""
    lines, where = [], f" in {whose}" if whose else ""
    for place, grain in enumerate(grains):
        known, amount = as_is(grain, f"grains[{place}]", malts), grain.weight or grain.share
        if amount is None or known is None:
            missing = "weight" if amount is None else "extract"
            return Unusable(
                f"the {missing} of {grain.malt}{where} is not known", f"Write its {missing} into the entry first."
            )
        lines.append(GristLine(amount.value, *known))
    if sum(line.weight for line in lines) <= 0:
        return Unusable(f"{whose or 'the grist'} has no grain", "Choose a batch whose entry says what was mashed.")
    return lines


#: What joins beside the grist before the yeast, by where: each a figure that is absent where one addition's extract is not known.
BROUGHT = ("mash_added_extract", "kettle_early_extract", "kettle_added_extract", "fermenter_added_extract")


def unknown_additions(batch: Batch, figures: BatchFigures) -> tuple[str, ...]:
    """The additions whose extract or weight nobody knows, by name, and which leave nothing to foresee after them."""
    wanting = (path for name in BROUGHT if name not in figures.results for path in figures.wanting.get(name, ()))
    lines = dict(lines_of(batch, Addition))
    named = (lines[path.rpartition(".")[0]].addition for path in wanting if path.rpartition(".")[0] in lines)
    return tuple(dict.fromkeys(name for name in named if name))


def of_extract_alone(batch: Batch, figures: BatchFigures) -> bool:
    """Whether all extract of a batch comes from malt extract and sugars: nothing is mashed or steeped."""
    return not batch.grains and any((found := figures.get(name)) and found.value > 0.0 for name in BROUGHT)


def _joining(figures: BatchFigures, figure: str, lines: Iterable[Addition], times: float) -> Joining:
    """What additions bring by a figure, multiplied."""
    known = figures.get(figure)
    extract = known.value if known else 0.0
    weights = [line.weighed.value for line in lines if line.weighed]
    return Joining(extract * times, water_in(weights, extract) * times)


def aim_like(
    batch: Batch,
    figures: BatchFigures,
    brewhouse: Brewhouse,
    target: tuple[float, float],
    times: tuple[float, float] = (1.0, 1.0),
) -> Aim | Unusable:
    """How a batch is brewed, as an aim for a gravity, SG, and a volume, L at 20 °C.

    `times` is what its volume and its extract are multiplied by; `brewhouse` is where it is to be brewed.
    """
    by_volume, by_extract = times
    before = [line for line in batch.fermenter.additions if not joins_late(batch, line)]
    groups = (
        batch.mash.additions,
        (*batch.lauter.additions, *batch.boil.before.additions),
        batch.boil.additions,
        (*batch.stand.additions, *before),
    )
    unknown = unknown_additions(batch, figures)
    if unknown:
        hint = "Write what it brings into the entry first, such as extract_as_is: 70 %."
        return Unusable(f"what {in_words(unknown)} brings is not known", hint)
    found = [_joining(figures, figure, lines, by_extract) for figure, lines in zip(BROUGHT, groups, strict=True)]
    in_mash, early, in_kettle, in_fermenter = found
    kettle_water, fermenter_water = (
        _top_up(figures, name) * by_volume * wort.density(0.0) for name in ("kettle_top_up", "fermenter_top_up")
    )
    thickness, time = figures.get("liquor_to_grist"), batch.boil.time
    tun, kettle = brewhouse.mash_tun, brewhouse.kettle
    return Aim(
        gravity=target[0],
        volume=target[1],
        liquor_to_grist=thickness.value if thickness else LIQUOR_TO_GRIST,
        boil=(BOIL if time is None else time.value) / 60.0,
        sugar=in_kettle.extract,
        method=batch.lauter.method or FIRST_METHOD,
        mash_tun=tun.volume.value if tun.volume else None,
        kettle=kettle.volume.value if kettle.volume else None,
        kettle_water=in_kettle.water + kettle_water,
        fermenter_sugar=in_fermenter.extract,
        fermenter_water=in_fermenter.water + fermenter_water,
        mash_sugar=in_mash.extract,
        mash_water=in_mash.water,
        early_sugar=early.extract,
        early_water=early.water,
        fillings=max(len(batch.lauter.fillings), 1),
    )


def _top_up(figures: BatchFigures, name: str) -> float:
    found = figures.get(name)
    return found.value if found else 0.0

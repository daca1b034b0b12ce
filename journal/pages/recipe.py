"""What a batch was made of: grist, hops, whatever else was added, and yeast, wherever in the entry they stand."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

from journal.frozen import dataclass
from journal.measures import Measure
from journal.reading import Batch, Malts
from journal.reading.lines import Addition, Hop
from journal.reading.malts import alpha_of
from journal.reading.table import lines_of

#: Where something may go in, in the order of the work: the group of the entry, and what that is called.
STAGES = (
    ("mash", "mash"),
    ("lauter", "run-off"),
    ("boil.before", "full kettle"),
    ("boil", "boil"),
    ("stand", "stand"),
    ("fermenter", "fermenter"),
    ("package", "package"),
)


@dataclass(frozen=True)
class RecipeGrain:
    """A line of the grist: where it stands, the malt as the entry names it, kg, and its share of the grist's weight."""

    path: str
    malt: str
    weight: float | None
    share: float | None


@dataclass(frozen=True)
class RecipeHop:
    """Hops that went in at a stage: kg, alpha acid as a fraction of 1, and the minutes they boiled or stood.

    `on` and `off` are the days they lay in the fermenter, `first_wort` says that they met the wort before the boil.
    """

    path: str
    hop: str
    weight: float | None
    alpha: float | None
    at: str
    minutes: float | None
    on: datetime | None = None
    off: datetime | None = None
    first_wort: bool = False


@dataclass(frozen=True)
class RecipeAddition:
    """Anything else that went in at a stage: kg where it was weighed, in which unit, the amount as the brewer wrote it, and when, if
    that is said.
    """

    path: str
    addition: str
    weight: float | None
    unit: str
    written: str
    at: str
    on: datetime | None


@dataclass(frozen=True)
class Recipe:
    """All that went in, each kind in the order of the work; `yeast` is empty where none is named."""

    grains: tuple[RecipeGrain, ...]
    hops: tuple[RecipeHop, ...]
    additions: tuple[RecipeAddition, ...]
    yeast: str


def _value(measure: Measure | None) -> float | None:
    return None if measure is None else measure.value


def _stage(path: str) -> str:
    """The group that a line stands in: `boil` for `boil.hops[0]`."""
    return path.rpartition("[")[0].rpartition(".")[0]


def _grains(batch: Batch) -> Iterator[RecipeGrain]:
    weights = [_value(grain.weight) for grain in batch.grains]
    known = [weight for weight in weights if weight is not None]
    whole = sum(known) if len(known) == len(weights) else 0.0
    for place, (grain, weight) in enumerate(zip(batch.grains, weights, strict=True)):
        share = weight / whole if weight is not None and whole else _value(grain.share) if weight is None else None
        yield RecipeGrain(f"grains[{place}]", grain.malt or "", weight, share)


def _hop(path: str, hop: Hop, malts: Malts) -> RecipeHop:
    return RecipeHop(
        path=path,
        hop=hop.hop or "",
        weight=_value(hop.weight),
        alpha=_value(alpha_of(hop, malts)),
        at=_stage(path),
        minutes=_value(hop.boiled if hop.boiled is not None else hop.stood),
        on=hop.on,
        off=hop.off if isinstance(hop.off, datetime) else None,
        first_wort=bool(hop.with_first_wort),
    )


def _additions(batch: Batch) -> Iterator[RecipeAddition]:
    for path, line in lines_of(batch, Addition):
        written = batch.written(f"{path}.{line.weight_field}")
        unit = line.weighed.unit if line.weighed else ""
        yield RecipeAddition(path, line.addition or "", _value(line.weighed), unit, written, _stage(path), line.on)
    priming = batch.package.priming
    if priming.addition:
        path = "package.priming.weight"
        written = batch.written(path)
        unit = priming.weight.unit if priming.weight else ""
        yield RecipeAddition(path, priming.addition, _value(priming.weight), unit, written, "package", None)


def recipe_of(batch: Batch, malts: Malts) -> Recipe:
    """The recipe of a batch, as far as it is written down; a hop's alpha acid by its sheet where the entry states none."""
    yeast = batch.fermenter.yeast
    return Recipe(
        grains=tuple(_grains(batch)),
        hops=tuple(_hop(path, hop, malts) for path, hop in lines_of(batch, Hop)),
        additions=tuple(_additions(batch)),
        yeast=", ".join(part for part in (yeast.strain, yeast.form) if part),
    )

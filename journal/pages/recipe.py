"""What a batch was made of: grist, hops, whatever else was added, and yeast, wherever in the entry they stand."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from typing import Any

from journal.measures import Measure
from journal.reading import Batch

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
    on: date | None = None
    off: date | None = None
    first_wort: bool = False


@dataclass(frozen=True)
class RecipeAddition:
    """Anything else that went in at a stage: kg where it was weighed, and the amount as the brewer wrote it."""

    path: str
    addition: str
    weight: float | None
    written: str
    at: str


@dataclass(frozen=True)
class Recipe:
    """All that went in, each kind in the order of the work; `yeast` is empty where none is named."""

    grains: tuple[RecipeGrain, ...]
    hops: tuple[RecipeHop, ...]
    additions: tuple[RecipeAddition, ...]
    yeast: str
    yeast_path: str


def _group(batch: Batch, path: str) -> Any:
    """A group of the entry by its path; None where the format has none of that name."""
    found: Any = batch
    for name in path.split("."):
        found = getattr(found, name, None)
    return found


def _value(measure: Any) -> float | None:
    return measure.value if isinstance(measure, Measure) else None


def _grains(batch: Batch) -> Iterator[RecipeGrain]:
    whole = sum(grain.weight.value for grain in batch.grains if grain.weight)
    weighed = all(grain.weight for grain in batch.grains)
    for place, grain in enumerate(batch.grains):
        share = _value(getattr(grain, "share", None))
        if grain.weight and weighed and whole:
            share = grain.weight.value / whole
        yield RecipeGrain(f"grains[{place}]", grain.malt or "", _value(grain.weight), share)


def _hops(batch: Batch) -> Iterator[RecipeHop]:
    for stage, _ in STAGES:
        for place, hop in enumerate(getattr(_group(batch, stage), "hops", ())):
            minutes = _value(getattr(hop, "boiled", None))
            yield RecipeHop(
                path=f"{stage}.hops[{place}]",
                hop=hop.hop or "",
                weight=_value(hop.weight),
                alpha=_value(hop.alpha),
                at=stage,
                minutes=_value(getattr(hop, "stood", None)) if minutes is None else minutes,
                on=getattr(hop, "on", None),
                off=off if isinstance(off := getattr(hop, "off", None), date) else None,
                first_wort=bool(getattr(hop, "with_first_wort", False)),
            )


def _additions(batch: Batch) -> Iterator[RecipeAddition]:
    for stage, _ in STAGES:
        for place, line in enumerate(getattr(_group(batch, stage), "additions", ())):
            path = f"{stage}.additions[{place}]"
            written = batch.written(f"{path}.weight") or batch.written(f"{path}.amount")
            yield RecipeAddition(path, line.addition or "", _value(getattr(line, "weight", None)), written, stage)
    priming = batch.package.priming
    if priming.addition:
        path = "package.priming"
        yield RecipeAddition(path, priming.addition, _value(priming.weight), batch.written(f"{path}.weight"), "package")


def _yeast(batch: Batch) -> tuple[str, str]:
    """What the yeast is called, and where that stands: a text, or a group that names the strain."""
    path, yeast = "fermenter.yeast", batch.fermenter.yeast
    if yeast is None or isinstance(yeast, str):
        return yeast or "", path
    strain, form = (getattr(yeast, name, None) or "" for name in ("strain", "form"))
    return ", ".join(part for part in (strain, form) if part), path


def recipe_of(batch: Batch) -> Recipe:
    """The recipe of a batch, as far as it is written down."""
    yeast, path = _yeast(batch)
    return Recipe(tuple(_grains(batch)), tuple(_hops(batch)), tuple(_additions(batch)), yeast, path)

"""Volumes that are no readings of the balance, weighed or dipped, as the litres that they are: of rests, and of the target."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from journal.measures import Gravity, Measure, Scale
from journal.measures.units import is_depth, is_weight
from journal.reading.brewery import Brewery
from journal.reading.entry import Batch, Rest
from journal.reading.vessel_dip import dip_of
from journal.science import wort
from journal.science.vessel import dipped_volume

#: What a refractometer shows of a wort, times its °P (common practice).
_WORT_FACTOR = 1.04


def with_litres(batch: Batch, brewery: Brewery) -> Batch:
    """The batch with these volumes in L, at the temperature they were read at; what no table makes a volume of is left out, and
    `find_unknown_dips` tells of it. What the brewer wrote stays where it stands.
    """
    volumes = dict(_other_volumes(batch))
    if not any(is_weight(each.unit) or is_depth(each.unit) for each in volumes.values()):
        return batch
    known = {path: _litres(batch, brewery, path, each) for path, each in volumes.items()}

    def rest(place: int, held: Rest) -> Rest:
        parts = {name: known.get(f"mash.rests[{place}].{name}") for name in ("infusion", "decoction")}
        return replace(held, **parts)

    rests = tuple(rest(place, held) for place, held in enumerate(batch.mash.rests))
    target = replace(batch.target, volume=known.get("target.volume"))
    return replace(batch, mash=replace(batch.mash, rests=rests), target=target)


def _other_volumes(batch: Batch) -> Iterator[tuple[str, Measure]]:
    for place, rest in enumerate(batch.mash.rests):
        for name in ("infusion", "decoction"):
            volume: Measure | None = getattr(rest, name)
            if volume is not None:
                yield f"mash.rests[{place}].{name}", volume
    if batch.target.volume is not None:
        yield "target.volume", batch.target.volume


def _litres(batch: Batch, brewery: Brewery, path: str, volume: Measure) -> Measure | None:
    if is_weight(volume.unit):
        held = _strength(batch.target.gravity) if path.startswith("target") else 0.0
        density = wort.density(held) if held is not None else 0.0
        return Measure(volume.value / density, "litre") if density else None
    if not is_depth(volume.unit):
        return volume
    table = dip_of(batch, brewery, path).table
    if table is None or not table[0].depth <= volume.value <= table[-1].depth:
        return None
    return Measure(dipped_volume(volume.value, table), "litre", None, volume.at)


def _strength(gravity: Gravity | None) -> float | None:
    """°P of the wort that one is after; None where the target states no gravity."""
    if gravity is None:
        return None
    if gravity.scale is Scale.HYDROMETER:
        return wort.plato_from_gravity(gravity.value)
    return gravity.value / (_WORT_FACTOR if gravity.scale is Scale.BRIX else 1.0)

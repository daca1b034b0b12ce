"""What a brewer can vary, as one batch had it: the levers that the record is searched for."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from journal.figures import BatchFigures
from journal.figures.grist import extract_of
from journal.figures.observe import GrainExtract
from journal.measures import Measure
from journal.reading import Batch, Malts, resolve
from journal.reading.entry import Lauter, Mash

Setting = float | str | bool

#: The unit of an effect, by lever: per unit of the lever's own figure. The brewer's own numbers are per one.
UNITS: dict[str, str] = {
    "crush": "1/mm",
    "mash_ph": "1/pH",
    "mash_temperature": "1/K",
    "mash_time": "1/min",
    "liquor_to_grist": "kg/L",
    "hulls": "1",
    "huskless": "1",
    "mixing": "",
    "stuck": "1/min",
    "lauter_time": "1/min",
    "lauter_method": "",
    "malt_lot": "",
    "diastatic_power": "1/WK",
}


def _value(measure: Measure | None) -> float | None:
    return None if measure is None else measure.value


def lot_shares(batch: Batch, malts: Malts) -> dict[str, float]:
    """Share of the grist's extract that each lot of malts.yaml, or each kind without a sheet, brings."""
    parts: dict[str, float] = {}
    for index, grain in enumerate(batch.grains):
        values = resolve(grain, f"grains[{index}]", malts)
        stated = values.extract or values.extract_as_is
        if stated is None or grain.weight is None:
            continue
        moisture = values.moisture.value if values.extract and values.moisture else None
        name = values.key or values.kind or values.name
        parts[name] = parts.get(name, 0.0) + extract_of(GrainExtract(grain.weight.value, stated.value, moisture))
    whole = sum(parts.values())
    return {name: part / whole for name, part in parts.items()} if whole > 0 else {}


def _all(batch: Batch, figures: BatchFigures, lots: Mapping[str, float]) -> Iterator[tuple[str, Setting | None]]:
    mash, lauter = batch.mash or Mash(), batch.lauter or Lauter()
    yield "crush", _value(batch.crush)
    for name, figure in (
        ("mash_ph", "mash_ph"),
        ("liquor_to_grist", "liquor_to_grist"),
        ("diastatic_power", "diastatic_power"),
        ("mash_temperature", "mash_temperature"),
        ("mash_time", "mash_time"),
        ("hulls", "hulls_share"),
        ("huskless", "huskless_share"),
    ):
        result = figures.get(figure)
        yield name, result.value if result else None
    yield "mixing", mash.mixing
    yield "stuck", _value(mash.stuck)
    yield "lauter_time", _value(lauter.time)
    yield "lauter_method", lauter.method
    largest = max(lots, key=lambda lot: lots[lot], default=None)
    yield "malt_lot", largest if largest is not None and lots[largest] > 0.5 else None
    yield from batch.practice.items()


def settings_of(batch: Batch, figures: BatchFigures, lots: Mapping[str, float]) -> dict[str, Setting]:
    """Every lever that the batch's entry records, by name; the brewer's own names under `practice` are levers too.

    `lots` are its `lot_shares`.
    """
    return {name: value for name, value in _all(batch, figures, lots) if value is not None}

"""What a brewer can vary, as one batch had it: the levers that the record is searched for."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from journal.figures import BatchFigures
from journal.figures.grist import extract_of
from journal.figures.observe import GrainExtract
from journal.measures import Measure
from journal.reading import Batch, Malts, resolve
from journal.reading.entry import Lauter, Mash
from journal.reading.kinds import KINDS

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


#: A rest this hot or hotter, degC, is a mash-out: it thins the wort and ends the enzymes' work (common practice).
MASH_OUT = 75.0


def _value(measure: Measure | None) -> float | None:
    return None if measure is None else measure.value


def mash_rests(mash: Mash) -> tuple[float | None, float | None]:
    """Mean temperature weighted by time, degC, and the whole time, min; a mash-out aside, if there is more than that."""
    every = [(rest.temperature.value, rest.time.value) for rest in mash.rests if rest.temperature and rest.time]
    steps = [(temperature, time) for temperature, time in every if temperature < MASH_OUT] or every
    minutes = sum(time for _, time in steps)
    return (sum(t * time for t, time in steps) / minutes, minutes) if minutes > 0 else (None, None)


def _shares(batch: Batch, malts: Malts) -> tuple[float | None, float | None]:
    """Shares of the grist by weight: hulls, and grain that brings no husk."""
    weights, hulls, huskless = 0.0, 0.0, 0.0
    for index, grain in enumerate(batch.grains):
        if grain.weight is None:
            return None, None
        kind = KINDS.get(resolve(grain, f"grains[{index}]", malts).kind)
        weights += grain.weight.value
        hulls += grain.weight.value if kind and kind.name == "hulls" else 0.0
        huskless += grain.weight.value if kind and kind.huskless else 0.0
    return (hulls / weights, huskless / weights) if weights > 0 else (None, None)


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


def _all(
    batch: Batch, figures: BatchFigures, malts: Malts, lots: Mapping[str, float]
) -> Iterator[tuple[str, Setting | None]]:
    mash, lauter = batch.mash or Mash(), batch.lauter or Lauter()
    temperature, minutes = mash_rests(mash)
    hulls, huskless = _shares(batch, malts)
    yield "crush", _value(batch.crush)
    for name, figure in (
        ("mash_ph", "mash_ph"),
        ("liquor_to_grist", "liquor_to_grist"),
        ("diastatic_power", "diastatic_power"),
    ):
        result = figures.get(figure)
        yield name, result.value if result else None
    yield "mash_temperature", temperature
    yield "mash_time", minutes
    yield "hulls", hulls
    yield "huskless", huskless
    yield "mixing", mash.mixing
    yield "stuck", _value(mash.stuck)
    yield "lauter_time", _value(lauter.time)
    yield "lauter_method", lauter.method
    largest = max(lots, key=lambda lot: lots[lot], default=None)
    yield "malt_lot", largest if largest is not None and lots[largest] > 0.5 else None
    yield from batch.practice.items()


def settings_of(batch: Batch, figures: BatchFigures, malts: Malts, lots: Mapping[str, float]) -> dict[str, Setting]:
    """Every lever that the batch's entry records, by name; the brewer's own names under `practice` are levers too.

    `lots` are its `lot_shares`.
    """
    return {name: value for name, value in _all(batch, figures, malts, lots) if value is not None}

"""The brewer's instruments: how far each may be off, and the checks it was put to."""

from __future__ import annotations

from datetime import date
from typing import Any

from journal.frozen import dataclass
from journal.measures import Measure, MeasureKind
from journal.measures.units import NUMBER, REFRACTION, TEMPERATURE, TEMPERATURE_DIFFERENCE, VOLUME, WEIGHT
from journal.reading.instrument_checks import (
    GravityCheck,
    PhCheck,
    RefractionCheck,
    TemperatureCheck,
    VolumeCheck,
    WeightCheck,
    checks_field,
)
from journal.reading.located_yaml import Node, Scalar
from journal.reading.mixed_scales import on_other_scale
from journal.reading.table import Group, entry_field
from journal.reading.values import Context, Day, ListOf, Quantity


@dataclass(frozen=True)
class OrUncertainty(Group):
    """An instrument: a group of fields, or just its uncertainty."""

    kind: MeasureKind

    @property
    def words(self) -> str:
        """Its uncertainty by an example, or a group."""
        return f"its uncertainty, such as {self.kind.example}, or a group of fields"

    def read(self, node: Node, path: str, context: Context) -> Any:
        """The record."""
        if not isinstance(node, Scalar):
            return super().read(node, path, context)
        uncertainty = Quantity(self.kind).read(node, path, context)
        return None if uncertainty is None else self.record(uncertainty=uncertainty)


@dataclass(frozen=True, kw_only=True)
class Hydrometer:
    """A hydrometer."""

    uncertainty: Measure | None = entry_field(
        Quantity(NUMBER.such_as("0.0007")), "standard uncertainty of a reading, in gravity"
    )
    calibrated_at: Measure | None = entry_field(
        Quantity(TEMPERATURE.such_as("20 degC")), "the temperature it is made for; 20 degC if not stated"
    )
    checks: tuple[GravityCheck, ...] = checks_field(GravityCheck)


@dataclass(frozen=True, kw_only=True)
class Refractometer:
    """A refractometer."""

    uncertainty: Measure | None = entry_field(Quantity(REFRACTION), "standard uncertainty of a reading")
    wort_factor: Measure | None = entry_field(
        Quantity(NUMBER.such_as("1.03 ± 0.01")), "what a reading of wort is divided by"
    )
    checks: tuple[RefractionCheck, ...] = checks_field(RefractionCheck)


@dataclass(frozen=True, kw_only=True)
class Thermometer:
    """A thermometer."""

    uncertainty: Measure | None = entry_field(Quantity(TEMPERATURE_DIFFERENCE), "standard uncertainty of a reading")
    checks: tuple[TemperatureCheck, ...] = checks_field(TemperatureCheck)


@dataclass(frozen=True, kw_only=True)
class Scales:
    """A pair of scales."""

    uncertainty: Measure | None = entry_field(Quantity(WEIGHT.such_as("20 g")), "standard uncertainty of a weight")
    checks: tuple[WeightCheck, ...] = checks_field(WeightCheck)


@dataclass(frozen=True, kw_only=True)
class LiquorMeasure:
    """The jug, bucket or meter that liquor is measured with."""

    uncertainty: Measure | None = entry_field(Quantity(VOLUME.such_as("0.2 L")), "standard uncertainty of a volume")
    checks: tuple[VolumeCheck, ...] = checks_field(VolumeCheck)


@dataclass(frozen=True, kw_only=True)
class PhMeter:
    """A pH meter."""

    uncertainty: Measure | None = entry_field(Quantity(NUMBER.such_as("0.03")), "standard uncertainty of a reading")
    calibrated: tuple[date, ...] = entry_field(ListOf(Day()), "days it was calibrated, which end what checks said")
    checks: tuple[PhCheck, ...] = checks_field(PhCheck)


@dataclass(frozen=True)
class Instruments:
    """The brewer's instruments, with their standard uncertainties; the default of common practice where none is stated."""

    malt_scale: Scales = entry_field(OrUncertainty(Scales, WEIGHT.such_as("20 g")), "the scale for malt and sugar")
    hop_scale: Scales = entry_field(OrUncertainty(Scales, WEIGHT.such_as("1 g")), "the scale for hops and salts")
    volume: LiquorMeasure = entry_field(
        OrUncertainty(LiquorMeasure, VOLUME.such_as("0.25 L")),
        "uncertainty of every volume; its checks are of the measure that liquor is measured with",
    )
    hydrometer: Hydrometer = entry_field(OrUncertainty(Hydrometer, NUMBER.such_as("0.0007")), "the hydrometer")
    refractometer: Refractometer = entry_field(OrUncertainty(Refractometer, REFRACTION), "the refractometer")
    thermometer: Thermometer = entry_field(OrUncertainty(Thermometer, TEMPERATURE_DIFFERENCE), "the thermometer")
    ph_meter: PhMeter = entry_field(OrUncertainty(PhMeter, NUMBER.such_as("0.03")), "the pH meter")


#: Larger than any such instrument's uncertainty, in its kept unit (common practice).
_MOST = {
    "malt_scale": (1.0, "1 kg"),
    "hop_scale": (0.05, "50 g"),
    "volume": (5.0, "5 L"),
    "hydrometer": (0.01, "0.010"),
    "refractometer": (2.0, "2 °Bx"),
    "thermometer": (5.0, "5 K"),
    "ph_meter": (0.5, "0.5"),
}


#: degC that hydrometers are made for, at the least and at the most (common practice).
_MADE_FOR = (10.0, 35.0)


def report_doubtful(instruments: Instruments, context: Context) -> None:
    """Say of every uncertainty that is larger than such an instrument can have, and of a scale's temperature in the wrong unit."""
    path = "instruments.hydrometer.calibrated_at"
    if made_for := instruments.hydrometer.calibrated_at:
        span = context.places[path]
        written = context.source.text[span.start : span.end]
        if other := on_other_scale(made_for, written, *_MADE_FOR):
            message = f"`{path}: {written}` can hardly be meant here"
            context.report("temperature-doubtful", message, f"Check the unit: {other}?", span, path)
    for name, (most, words) in _MOST.items():
        uncertainty: Measure | None = getattr(instruments, name).uncertainty
        if uncertainty is None or uncertainty.value <= most:
            continue
        group = f"instruments.{name}"
        path = group if f"{group}.uncertainty" not in context.places else f"{group}.uncertainty"
        span = context.places[path]
        written = context.source.text[span.start : span.end]
        message = f"`{path}` is {written}, more than such an instrument can be off"
        hint = f"It is how far one reading may lie beside the truth, below {words} in any case; not what was weighed or read."
        context.report("uncertainty-doubtful", message, hint, span, path)

"""The working of a figure.

Its formula in words, the same with the numbers put in, and where its uncertainty comes from.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from math import fsum
from typing import Any, NamedTuple

from journal.figures.as_read import GravityReading, Observed, VolumeReading
from journal.figures.catalogue import CATALOGUE, Figure
from journal.figures.observe import READINGS
from journal.figures.propagate import contributions, nominal
from journal.figures.resolve import BatchFigures
from journal.figures.uncertain import ErrorSource
from journal.measures import Scale
from journal.measures.wording import METRIC, Shown, show, show_spread

#: Words and units of what a record of readings holds.
_COLUMNS = {
    "weight": ("weight", "kg"),
    "volume": ("volume", "L"),
    "plato": ("strength", "°P"),
    "extract": ("extract", "1"),
    "moisture": ("moisture", "1"),
    "amount": ("amount", ""),
    "equivalents": ("equivalents", ""),
    "pressure": ("pressure", "bar"),
    "at": ("at", "°C"),
    "brings": ("extract it brings", "kg"),
    "alpha": ("alpha acid", "1"),
    "boiled": ("boiled", "min"),
    "stood": ("stood, in minutes of boil", "min"),
    "temperature": ("temperature", "°C"),
    "time": ("time", "min"),
    "end": ("end", "°P"),
    "drop": ("fall", "°P"),
    "rate": ("rate", "1/day"),
    "middle": ("middle", "days"),
    "wanted": ("carbonation wanted", "g/L"),
    "dissolved": ("end", "kg/kg"),
    "start": ("start", "min"),
    "constant": ("time constant", "min"),
    "beta_glucanase": ("beta-glucanase", "min"),
    "protease": ("proteases", "min"),
    "beta_amylase": ("beta-amylase", "min"),
    "alpha_amylase": ("alpha-amylase", "min"),
    "mesh": ("mesh", "mm"),
    "gives": ("of what is typical of it", "1"),
    "share": ("share", "1"),
}
_VALUE_UNITS = {
    "grain_moistures": ("moisture", "1"),
    "grain_powers": ("power", "WK"),
    "grain_colours": ("colour", "EBC of malt"),
    "added_colours": ("colour", "EBC of malt"),
}


class FormulaTerm(NamedTuple):
    """One thing a formula takes: `figure` is its name if it is a figure itself, `rows` its parts if it is a list."""

    label: str
    text: str
    figure: str = ""
    rows: tuple[str, ...] = ()


class Part(NamedTuple):
    """What one source of error brings to the uncertainty: that in the figure's unit, and its share of the variance."""

    source: ErrorSource
    sd: str
    share: float


@dataclass(frozen=True)
class FigureWorking:
    """How one figure of one batch came about."""

    figure: Figure
    formula: str
    numbers: str
    terms: tuple[FormulaTerm, ...]
    result: Shown
    parts: tuple[Part, ...]


def label_of(name: str) -> str:
    """What a figure or reading is called in a formula."""
    return READINGS[name].words if name in READINGS else CATALOGUE[name].label


@cache
def formula_text(figure: Figure) -> str:
    """The formula with the names of what it takes as words."""
    return re.sub(r"{(\w+)}", lambda match: label_of(match[1]), figure.formula)


def _number(value: Any, unit: str, system: str) -> str:
    sd = fsum(part * part for part in contributions(value).values()) ** 0.5
    return str(show(nominal(value), sd, unit, system))


def _record(record: Any, name: str, system: str) -> str:
    if isinstance(record, VolumeReading):
        at = "" if record.at is None else f" at {_number(record.at, '°C', system)}"
        return _number(record.volume, "L", system) + at
    if isinstance(record, GravityReading):
        unit = "SG" if record.scale == Scale.HYDROMETER.value else record.scale
        at = "" if record.at is None else f" at {_number(record.at, '°C', system)}"
        factor = "" if record.wort_factor is None else f", wort factor {_number(record.wort_factor, '', system)}"
        return _number(record.value, unit, system) + at + factor
    words = []
    for column, value in record._asdict().items():
        if isinstance(value, str):
            words += [value] if value else []
            continue
        label, unit = _VALUE_UNITS[name] if column == "value" else _COLUMNS[column]
        unit = "g" if name in {"hot_hops", "mash_salts"} and column == "weight" else unit
        if value is not None:
            words.append(f"{label} {_number(value, unit, system)}")
    return ", ".join(words)


def _reading_term(name: str, observed: Observed, system: str) -> FormulaTerm:
    label, unit = READINGS[name]
    label = observed.told or label
    value = observed.value
    if name == "mash_ph_reading":
        return FormulaTerm(label, f"{_number(value[0], 'pH', system)} at {_number(value[1], '°C', system)}")
    if hasattr(value, "_asdict"):
        return FormulaTerm(label, _record(value, name, system))
    if isinstance(value, tuple):
        rows = tuple(
            _record(part, name, system) if isinstance(part, tuple) else _number(part, unit, system) for part in value
        )
        return FormulaTerm(label, label if rows else "none", rows=rows)
    return FormulaTerm(label, _number(value, unit, system))


def working_of(
    name: str, figures: BatchFigures, observed: Mapping[str, Observed], system: str = METRIC
) -> FigureWorking | None:
    """The working of a figure that could be computed; None for one that could not."""
    result = figures.get(name)
    if result is None:
        return None
    figure = CATALOGUE[name]
    terms: dict[str, FormulaTerm] = {}
    told = observed[name].told if name in observed else ""
    for parameter in () if told else figure.parameters:
        known = figures.get(parameter) if parameter not in READINGS else None
        if known is not None:
            shown = show(known.value, known.sd, known.unit, system)
            terms[parameter] = FormulaTerm(label_of(parameter), str(shown), figure=parameter)
        elif parameter in observed and not observed[parameter].wanting:
            terms[parameter] = _reading_term(parameter, observed[parameter], system)

    def put_in(match: re.Match[str]) -> str:
        term = terms.get(match[1])
        return "—" if term is None else f"({term.text})" if "±" in term.text else term.text

    variance = result.sd**2 or 1.0
    shares = [(source, sd, sd**2 / variance) for source, sd in result.parts]
    parts = tuple(
        Part(source, str(show_spread(sd, result.unit, system)), share) for source, sd, share in shares if share >= 0.005
    )
    return FigureWorking(
        figure,
        told or formula_text(figure),
        told or re.sub(r"{(\w+)}", put_in, figure.formula),
        tuple(terms.values()),
        show(result.value, result.sd, result.unit, system),
        parts,
    )

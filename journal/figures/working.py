"""The working of a figure.

Its formula in words, the same with the numbers put in, and where its uncertainty comes from.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from functools import cache
from typing import Any, NamedTuple

from journal.figures.as_read import GravityReading, Observed, VolumeReading
from journal.figures.catalogue import CATALOGUE, Figure
from journal.figures.observe import READINGS
from journal.figures.propagate import deviation, nominal
from journal.figures.resolve import BatchFigures, Result
from journal.figures.uncertain import ErrorSource
from journal.measures import Scale
from journal.measures.wording import METRIC, Shown, show, unit_for

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

#: Of the variance. What brings less is not listed.
_LEAST_SHARE = 0.005


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


class FigureWorking(NamedTuple):
    """How one figure of one batch came about."""

    figure: Figure
    formula: str
    numbers: str
    terms: tuple[FormulaTerm, ...]
    result: Shown
    parts: tuple[Part, ...]


@cache
def label_of(name: str) -> str:
    """What a figure or reading is called in a formula."""
    return READINGS[name].words if name in READINGS else CATALOGUE[name].label


@cache
def formula_text(figure: Figure) -> str:
    """The formula with the names of what it takes as words."""
    return _put_in(figure, label_of)


@cache
def _cut(formula: str) -> tuple[tuple[str, str], ...]:
    """A formula's words in order, each with the name that stands behind it; empty for the last."""
    parts = [*re.split(r"{(\w+)}", formula), ""]
    return tuple(zip(parts[::2], parts[1::2], strict=True))


def _put_in(figure: Figure, said: Callable[[str], str]) -> str:
    """A formula with what is said of each name in its place."""
    return "".join([words + (said(name) if name else "") for words, name in _cut(figure.formula)])


def _number(value: Any, unit: str, system: str) -> str:
    return str(show(nominal(value), deviation(value), unit, system))


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


class BatchWorkings:
    """The workings of one batch's figures; what several formulas take is put into words once."""

    def __init__(self, figures: BatchFigures, observed: Mapping[str, Observed], system: str = METRIC) -> None:
        self._figures, self._observed, self._system = figures, observed, system
        self._terms: dict[tuple[str, str], FormulaTerm | None] = {}

    def of(self, name: str) -> FigureWorking | None:
        """The working of a figure that could be computed; None for one that could not."""
        result = self._figures.get(name)
        if result is None:
            return None
        figure = CATALOGUE[name]
        told = self._observed[name].told if name in self._observed else ""
        named = () if told else figure.parameters
        system = METRIC if figure.metric else self._system
        terms = {parameter: term for parameter in named if (term := self._term(parameter, system)) is not None}
        shown = show(result.value, result.sd, result.unit, self._system)
        by_formula = show(result.value, result.sd, result.unit, system)

        def put_in(parameter: str) -> str:
            term = terms.get(parameter)
            return "—" if term is None else f"({term.text})" if "±" in term.text else term.text

        return FigureWorking(
            figure,
            told or formula_text(figure),
            told or _put_in(figure, put_in) + (f" = {by_formula}" if by_formula != shown else ""),
            tuple(terms.values()),
            shown,
            tuple(self._parts(result)),
        )

    def _parts(self, result: Result) -> Iterator[Part]:
        variance, how = result.sd**2 or 1.0, unit_for(result.unit, self._system)
        sign = f" {how.sign}" if how.sign else ""
        for source, sd in result.parts:
            share = sd**2 / variance
            if share >= _LEAST_SHARE:
                yield Part(source, how.spread(sd) + sign, share)

    def _term(self, parameter: str, system: str) -> FormulaTerm | None:
        if (parameter, system) not in self._terms:
            self._terms[parameter, system] = self._put_into_words(parameter, system)
        return self._terms[parameter, system]

    def _put_into_words(self, parameter: str, system: str) -> FormulaTerm | None:
        known = None if parameter in READINGS else self._figures.get(parameter)
        if known is not None:
            shown = show(known.value, known.sd, known.unit, system)
            return FormulaTerm(label_of(parameter), str(shown), figure=parameter)
        observed = self._observed.get(parameter)
        if observed is None or observed.wanting:
            return None
        return _reading_term(parameter, observed, system)


def working_of(
    name: str, figures: BatchFigures, observed: Mapping[str, Observed], system: str = METRIC
) -> FigureWorking | None:
    """The working of one figure that could be computed; None for one that could not."""
    return BatchWorkings(figures, observed, system).of(name)

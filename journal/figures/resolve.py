"""Figures by name: what can be computed is, and of the rest it is known what is wanting."""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple

from journal.figures.as_read import Observed
from journal.figures.catalogue import CATALOGUE, Figure
from journal.figures.observe import observe
from journal.figures.parts import Parts
from journal.figures.propagate import contributions, nominal, propagate
from journal.figures.uncertain import ErrorKind, ErrorSource, Uncertain, combine, source
from journal.reading import Batch, Brewery, Malts


class Result(NamedTuple):
    """A figure of one batch as plain numbers: value and standard uncertainty (k = 1) in the figure's unit.

    `parts` are sources of error with what each brings to the standard uncertainty, largest first; `inputs` are the
    figures it was computed from, by name.
    """

    name: str
    unit: str
    value: float
    sd: float
    parts: Sequence[tuple[ErrorSource, float]]
    inputs: tuple[str, ...]


@dataclass(frozen=True)
class BatchFigures:
    """What could be computed of a batch, and for every other figure the readings that are wanting."""

    results: Mapping[str, Result]
    wanting: Mapping[str, tuple[str, ...]]

    def __getitem__(self, name: str) -> Result:
        return self.results[name]

    def __contains__(self, name: str) -> bool:
        return name in self.results

    def get(self, name: str) -> Result | None:
        """The figure, or None where it is absent."""
        return self.results.get(name)


class Resolver:
    """Computes figures of one batch, each once; keeps the correlations between them as long as it lives."""

    def __init__(self, observed: Mapping[str, Observed]) -> None:
        self.observed = observed
        self.found: dict[str, Observed] = {}

    def find(self, name: str) -> Observed:
        """A reading's or a figure's value, or what is wanting for it."""
        found = self.found.get(name)
        if found is None:
            found = self.observed[name] if name in self.observed else self._compute(CATALOGUE[name])
            self.found[name] = found
        return found

    def _compute(self, figure: Figure) -> Observed:
        arguments: dict[str, Any] = {}
        wanting: list[str] = []
        for name in figure.needs:
            found = self.find(name)
            arguments[name] = found.value
            wanting += found.wanting
        for name in figure.given:
            wanting += self.find(name).wanting
        for name in figure.optional:
            found = self.find(name)
            arguments[name] = None if found.wanting else found.value
        if figure.either and all(any(self.find(name).wanting for name in group) for group in figure.either):
            wanting.extend(path for name in figure.either[0] for path in self.find(name).wanting)
        if wanting:
            return Observed(wanting=tuple(dict.fromkeys(wanting)))
        try:
            value = propagate(figure.function, arguments)
        except (ArithmeticError, ValueError):
            # readings that contradict each other so far that the mathematics ends; the checks of readings say so
            return Observed(wanting=("readings that agree with each other",))
        return Observed(self._with_model(figure, value))

    @staticmethod
    def _with_model(figure: Figure, value: Any) -> Any:
        model = figure.model or figure.model_share * abs(nominal(value))
        if not model:
            return value
        known = [(value, 1.0)] if isinstance(value, Uncertain) else []
        return combine(nominal(value), [*known, (source(0.0, model, ErrorSource(figure.name, ErrorKind.MODEL)), 1.0)])

    def result(self, name: str) -> Result | None:
        """A figure as plain numbers, None where something is wanting."""
        found = self.find(name)
        if found.wanting:
            return None
        figure = CATALOGUE[name]
        parts = contributions(found.value)
        sd = math.hypot(*parts.values())
        # one that is another batch's was not worked out from what this one has
        own = () if name in self.observed else figure.parameters
        inputs = tuple([n for n in own if n in CATALOGUE and not self.found[n].wanting])
        return Result(name, figure.unit, nominal(found.value), sd, Parts(parts) if parts else (), inputs)


def figures_of(
    batch: Batch, brewery: Brewery, malts: Malts, asked_for: Collection[str] = CATALOGUE.keys()
) -> BatchFigures:
    """Every figure of a batch that its readings allow, or those of them that are `asked_for`."""
    resolver = Resolver(observe(batch, brewery, malts))
    results, wanting = {}, {}
    for name in CATALOGUE:
        if name not in asked_for:
            continue
        result = resolver.result(name)
        if result is None:
            wanting[name] = resolver.find(name).wanting
        else:
            results[name] = result
    return BatchFigures(results, wanting)

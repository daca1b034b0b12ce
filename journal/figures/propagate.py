"""Uncertainty through any function of plain numbers, correlations kept.

Each figure is followed back to the readings it came from, so that two figures from one reading move together (GUM, JCGM
100:2008, section 5.2). Arguments are numbers, or records and lists of numbers with None and texts among them passed through.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from math import fsum
from typing import Any

from journal.figures.uncertain import ErrorSource, Uncertain, combine
from journal.numerics import gradient


def _like(record: Any, parts: list[Any]) -> Any:
    return record._make(parts) if hasattr(record, "_make") else tuple(parts)


def _uncertain(argument: Any) -> Iterator[Uncertain]:
    """Every uncertain number in an argument, in order."""
    if isinstance(argument, Uncertain):
        yield argument
    elif isinstance(argument, tuple):
        for part in argument:
            yield from _uncertain(part)


def _with(argument: Any, values: Iterator[float]) -> Any:
    """An argument whose uncertain numbers are plain ones, taken in order."""
    if isinstance(argument, Uncertain):
        return next(values)
    if isinstance(argument, tuple):
        return _like(argument, [_with(part, values) for part in argument])
    return argument


def propagate(function: Callable[..., Any], arguments: dict[str, Any]) -> Any:
    """`function(**arguments)` with the uncertainty of its arguments.

    Numbers, (named) tuples of numbers, None, texts.
    """
    single = [name for name, argument in arguments.items() if isinstance(argument, Uncertain)]
    numbers = list(_uncertain(tuple(arguments.values())))
    at = [number.value for number in numbers]
    given = dict(arguments)

    def value_of_single(moved: list[float]) -> Any:
        given.update(zip(single, moved, strict=True))
        return function(**given)

    def value(moved: list[float]) -> Any:
        values = iter(moved)
        return function(**{name: _with(argument, values) for name, argument in arguments.items()})

    # most figures take no record, and then nothing needs to be put together anew
    shown = value_of_single if len(single) == len(numbers) else value
    return combine(shown(at), zip(numbers, gradient(shown, at), strict=True))


def nominal(value: Any) -> float:
    """The value without its uncertainty."""
    return float(value.value if isinstance(value, Uncertain) else value)


def deviation(value: Any) -> float:
    """Its combined standard uncertainty, added up exactly, so that no order of the sources shows; 0 of a plain number."""
    return fsum(part * part for part in value.parts.values()) ** 0.5 if isinstance(value, Uncertain) else 0.0


def contributions(value: Any) -> dict[ErrorSource, float]:
    """How much of the standard uncertainty each source brings, largest first.

    Their squares add up to its square. Those that differ in their last digits alone stand in order of name: on another version of
    Python or of its libraries they may differ the other way.
    """
    if not isinstance(value, Uncertain):
        return {}
    parts = [(abs(part), of) for of, part in value.parts.items() if part]
    return {of: part for part, of in sorted(parts, key=lambda found: (-float(f"{found[0]:.6g}"), found[1]))}

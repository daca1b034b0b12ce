"""Uncertainty through any function of plain numbers, correlations kept.

Each figure is followed back to the readings it came from, so that two figures from one reading move together (GUM, JCGM
100:2008, section 5.2). Arguments are numbers, or records and lists of numbers with None and texts among them passed through.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from journal.figures.uncertain import Uncertain, combined

#: Step of the central difference, as a share of the number: its error is of the order of the square.
_STEP = 1e-5
_LEAST_STEP = 1e-8


def _plain(argument: Any) -> Any:
    if isinstance(argument, Uncertain):
        return argument.value
    if isinstance(argument, tuple):
        return _like(argument, [_plain(part) for part in argument])
    return argument


def _like(record: Any, parts: list[Any]) -> Any:
    return record._make(parts) if hasattr(record, "_make") else tuple(parts)


def _varied(argument: Any, plain: Any) -> Iterator[tuple[Uncertain, float, Any, Any]]:
    """Each uncertain number in an argument, its step, and the plain argument with it a step up and a step down."""
    if isinstance(argument, Uncertain):
        step = max(abs(plain) * _STEP, _LEAST_STEP)
        yield argument, step, plain + step, plain - step
    elif isinstance(argument, tuple):
        for index, part in enumerate(argument):
            for number, step, up, down in _varied(part, plain[index]):
                before, after = list(plain[:index]), list(plain[index + 1 :])
                yield number, step, _like(plain, [*before, up, *after]), _like(plain, [*before, down, *after])


def propagate(function: Callable[..., Any], arguments: dict[str, Any]) -> Any:
    """`function(**arguments)` with the uncertainty of its arguments.

    Numbers, (named) tuples of numbers, None, texts.
    """
    numbers = {name: _plain(argument) for name, argument in arguments.items()}
    value = function(**numbers)
    slopes = []
    for name, argument in arguments.items():
        for number, step, up, down in _varied(argument, numbers[name]):
            rise = function(**{**numbers, name: up}) - function(**{**numbers, name: down})
            slopes.append((number, rise / (2.0 * step)))
    return combined(value, slopes)


def nominal(value: Any) -> float:
    """The value without its uncertainty."""
    return float(value.value if isinstance(value, Uncertain) else value)


def contributions(value: Any) -> dict[str, float]:
    """How much of the standard uncertainty each reading brings, by tag, largest first.

    Their squares add up to its square.
    """
    if not isinstance(value, Uncertain):
        return {}
    parts = [(abs(part), tag) for tag, part in value.parts.items() if part]
    return {tag: part for part, tag in sorted(parts, key=lambda found: (-found[0], found[1]))}

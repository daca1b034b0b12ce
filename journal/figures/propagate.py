"""Uncertainty through any function of plain numbers, correlations kept.

Each figure is followed back to the readings it came from, so that two figures from one reading move together (GUM, JCGM
100:2008, section 5.2). Arguments are numbers, or records and lists of numbers with None and texts among them passed through.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from journal.figures.uncertain import ErrorSource, Uncertain, combine
from journal.numerics import slope

#: Where a number stands in an argument: at it, or at a place of the tuple, at a place of what stands there, and so on.
_Path = tuple[int, ...]


def _like(record: Any, parts: list[Any]) -> Any:
    return record._make(parts) if hasattr(record, "_make") else tuple(parts)


def _plain(argument: Any, path: _Path, found: list[tuple[Uncertain, _Path]]) -> Any:
    """An argument with plain numbers for its uncertain ones, each of which is `found` with its place, in order."""
    if isinstance(argument, Uncertain):
        found.append((argument, path))
        return argument.value
    if isinstance(argument, tuple):
        before = len(found)
        parts = [_plain(part, (*path, place), found) for place, part in enumerate(argument)]
        return _like(argument, parts) if len(found) > before else argument
    return argument


def _with(argument: Any, path: _Path, number: float) -> Any:
    """A plain argument with another number at one place."""
    if not path:
        return number
    place, *further = path
    parts = list(argument)
    parts[place] = _with(parts[place], tuple(further), number)
    return _like(argument, parts)


def propagate(function: Callable[..., Any], arguments: dict[str, Any]) -> Any:
    """`function(**arguments)` with the uncertainty of its arguments.

    Numbers, (named) tuples of numbers, None, texts.
    """
    plain: dict[str, Any] = {}
    uncertain: list[tuple[str, Uncertain, _Path]] = []
    for name, argument in arguments.items():
        found: list[tuple[Uncertain, _Path]] = []
        plain[name] = _plain(argument, (), found)
        uncertain += [(name, number, path) for number, path in found]
    value = function(**plain)
    slopes = [(number, _slope_by(function, plain, name, path, number.value)) for name, number, path in uncertain]
    return combine(value, slopes)


def _slope_by(function: Callable[..., Any], plain: dict[str, Any], name: str, path: _Path, at: float) -> float:
    """How a function moves with one number of its plain arguments; only what that number stands in is put together anew."""
    given, argument = dict(plain), plain[name]

    def moved(to: float) -> float:
        given[name] = _with(argument, path, to)
        found: float = function(**given)
        return found

    return slope(moved, at)


def nominal(value: Any) -> float:
    """The value without its uncertainty."""
    return float(value.value if isinstance(value, Uncertain) else value)


def contributions(value: Any) -> dict[ErrorSource, float]:
    """How much of the standard uncertainty each source brings, largest first.

    Their squares add up to its square. Those that differ in their last digits alone stand in order of name: on another version of
    Python or of its libraries they may differ the other way.
    """
    if not isinstance(value, Uncertain):
        return {}
    parts = [(abs(part), of) for of, part in value.parts.items() if part]
    return {of: part for part, of in sorted(parts, key=lambda found: (-float(f"{found[0]:.6g}"), found[1]))}

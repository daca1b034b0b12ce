"""Uncertainty through any function of plain numbers, correlations kept.

Each figure is followed back to the readings it came from, so that two figures from one reading move together (GUM, JCGM
100:2008, section 5.2). Arguments are numbers, or records and lists of numbers with None and texts among them passed through.
"""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from math import fsum
from operator import itemgetter
from typing import Any

from journal.figures.uncertain import ErrorSource, Uncertain, combine
from journal.numerics import slope

#: Two parts of which the smaller is no more than this share of the larger differ in six digits.
_ALIKE = 1.0 - 1.1e-5
_SIZE: Callable[[tuple[float, ErrorSource]], float] = itemgetter(0)
#: Where a number stands in an argument: at it, or at a place of the tuple, at a place of what stands there, and so on.
_Path = tuple[int, ...]


def _like(record: tuple[Any, ...], parts: list[Any]) -> Any:
    """Other parts in a record of the same kind: `_make` of a named tuple is this too, only slower."""
    return tuple.__new__(type(record), parts)


def _plain(argument: tuple[Any, ...], path: _Path, found: list[tuple[Uncertain, _Path]]) -> Any:
    """A tuple with plain numbers for its uncertain ones, each of which is `found` with its place, in order."""
    before, parts = len(found), list(argument)
    for place, part in enumerate(argument):
        if isinstance(part, Uncertain):
            found.append((part, (*path, place)))
            parts[place] = part.value
        elif isinstance(part, tuple):
            parts[place] = _plain(part, (*path, place), found)
    return _like(argument, parts) if len(found) > before else argument


def _with(argument: Any, path: _Path, number: float, depth: int = 0) -> Any:
    """A plain argument with another number at one place."""
    if depth == len(path):
        return number
    parts = list(argument)
    parts[path[depth]] = _with(parts[path[depth]], path, number, depth + 1)
    return _like(argument, parts)


def propagate(function: Callable[..., Any], arguments: dict[str, Any]) -> Any:
    """`function(**arguments)` with the uncertainty of its arguments.

    Numbers, (named) tuples of numbers, None, texts.
    """
    plain = dict(arguments)
    uncertain: list[tuple[str, Uncertain, _Path]] = []
    for name, argument in arguments.items():
        if isinstance(argument, Uncertain):
            uncertain.append((name, argument, ()))
            plain[name] = argument.value
        elif isinstance(argument, tuple):
            found: list[tuple[Uncertain, _Path]] = []
            plain[name] = _plain(argument, (), found)
            uncertain += [(name, number, path) for number, path in found]
    value = function(**plain)
    return combine(value, [(number, _slope_by(function, plain, name, path)) for name, number, path in uncertain])


def _slope_by(function: Callable[..., Any], plain: dict[str, Any], name: str, path: _Path) -> float:
    """How a function moves with one number of its plain arguments; only what that number stands in is put together anew."""
    argument = at = plain[name]
    for place in path:
        at = at[place]

    def moved(to: float) -> float:
        plain[name] = _with(argument, path, to) if path else to
        found: float = function(**plain)
        return found

    found = slope(moved, at)
    plain[name] = argument
    return found


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
    parts.sort(key=_SIZE, reverse=True)
    # to round each takes a twentieth of all figures, and hardly ever changes their order
    if any(smaller > _ALIKE * larger for (larger, _), (smaller, _) in pairwise(parts)):
        parts.sort(key=lambda found: (-float(f"{found[0]:.6g}"), found[1]))
    return {of: part for part, of in parts}

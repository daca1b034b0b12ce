"""The catalogue: each derived value is one function of plain numbers, found by its name.

A figure's parameters are names of other figures or of readings (the entry's path with underscores:
`lauter_last_runnings`). A parameter with a default may be absent. From the one definition come the value, its
uncertainty, the data file, the working on the pages, and the page that lists all figures.
"""

from __future__ import annotations

import ast
import inspect
import re
from collections.abc import Callable, Collection
from dataclasses import dataclass
from functools import cache, cached_property
from pathlib import Path
from typing import Any

from journal.measures.wording import UNITS
from journal.problems import did_you_mean

#: A formula of plain numbers; None where, of several things it could start from, none is there.
Formula = Callable[..., float | None]


@cache
def _docs_of(file: str) -> dict[str, str]:
    """The docstring of each function of a source file."""
    tree = ast.parse(Path(file).read_text("utf-8"))
    return {node.name: ast.get_docstring(node) or "" for node in ast.walk(tree) if isinstance(node, ast.FunctionDef)}


def _doc_in_source(function: Callable[..., Any]) -> str:
    try:
        return _docs_of(function.__code__.co_filename).get(function.__name__, "")
    except (AttributeError, OSError):
        return ""


@dataclass(frozen=True)
class Figure:
    """One derived value.

    `formula` is written for people, with the parameters in braces; `source` names where the relation stands; `model` is
    the standard uncertainty of the relation itself, absolute in the figure's unit, `model_share` the same as a share of
    the value. Of the groups of parameters in `either`, one at least is needed whole. What is `given` has to be there, though the
    function takes none of it. `metric`: whether constants of the formula hold for metric quantities alone, so that its numbers
    are shown in these whatever the journal's units.
    """

    name: str
    unit: str
    group: str
    formula: str
    source: str
    function: Formula
    needs: tuple[str, ...]
    optional: tuple[str, ...]
    either: tuple[tuple[str, ...], ...] = ()
    given: tuple[str, ...] = ()
    model: float = 0.0
    model_share: float = 0.0
    metric: bool = False

    @property
    def label(self) -> str:
        """The name as words."""
        return self.name.replace("_", " ")

    @cached_property
    def meaning(self) -> str:
        """What it is, from the function's docstring; where Python was told to drop those (`-OO`), from its source."""
        return " ".join((inspect.getdoc(self.function) or _doc_in_source(self.function)).split())

    @property
    def parameters(self) -> tuple[str, ...]:
        """Every name the function takes."""
        return self.needs + self.optional


#: Every figure by name, in the order of the work.
CATALOGUE: dict[str, Figure] = {}


def enter(new: Figure) -> None:
    """Put a figure into the catalogue.

    Its unit is one of `UNITS`, "1" for what is said in per cent. Raises ValueError for an unknown unit, for a formula that
    names what the function does not take, and for a name that is taken.
    """
    if new.unit not in UNITS:
        raise ValueError(f"{new.name} is kept in {new.unit!r}, which journal/measures/wording.py can't show")
    unnamed = set(re.findall(r"{(\w+)}", new.formula)) - {*new.parameters}
    if unnamed:
        raise ValueError(f"the formula of {new.name} names {', '.join(sorted(unnamed))}, which it does not take")
    if new.name in CATALOGUE:
        raise ValueError(f"a figure {new.name} is in the catalogue already")
    CATALOGUE[new.name] = new


def figure(*, unit: str, group: str, formula: str, source: str, **more: Any) -> Callable[[Formula], Formula]:
    """Put a function into the catalogue under its own name.

    `more` are the other fields of `Figure`. Raises ValueError as `enter` does.
    """

    def register(function: Formula) -> Formula:
        parameters = inspect.signature(function).parameters.values()
        needs = tuple(p.name for p in parameters if p.default is p.empty)
        optional = tuple(p.name for p in parameters if p.default is not p.empty)
        enter(Figure(function.__name__, unit, group, formula, source, function, needs, optional, **more))
        return function

    return register


def refuse_unknown(readings: Collection[str]) -> None:
    """Raise ValueError where a figure takes what is neither a figure nor one of the `readings`, or bears a reading's name."""
    for each in CATALOGUE.values():
        for name in (*each.parameters, *each.given):
            if name not in CATALOGUE and name not in readings:
                hint = did_you_mean(name, [*CATALOGUE, *readings], "A reading is named where it is observed.")
                raise ValueError(f"{each.name} takes {name}, which is neither a figure nor a reading. {hint}")
        if each.name in readings:
            raise ValueError(f"{each.name} is a reading, so no figure can have the name")

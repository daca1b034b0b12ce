"""One thing that goes into a beer, by the name the trade gives it."""

from __future__ import annotations

from collections.abc import Iterator
from enum import Enum
from typing import NamedTuple

from journal.frozen import dataclass


class Sort(Enum):
    """What sort of thing it is, which says what it brings."""

    MALT = "malt"
    GRAIN = "unmalted grain"
    SUGAR = "sugar"
    FRUIT = "fruit"
    SALT = "salt"
    ACID = "acid"
    OTHER = "other"


@dataclass(frozen=True)
class Ingredient:
    """Typical values: extract fraction (dry basis, fine grind; or as is, for what is not mashed), moisture fraction, WK, EBC.

    `also` are other names of it. `huskless` grain brings no husk to the bed: naked, flaked or dehusked. `source` is how good
    the values are: `typical`, or `guess` for what varies widely or is rarely measured.
    """

    name: str
    sort: Sort
    moisture: float = 0.0
    diastatic_power: float = 0.0
    colour: float = 0.0
    extract: float | None = None
    extract_as_is: float | None = None
    huskless: bool = False
    also: tuple[str, ...] = ()
    source: str = "typical"

    @property
    def brings_extract(self) -> bool:
        """Whether it has any."""
        return (self.extract or self.extract_as_is or 0.0) > 0.0


def split_names(names: str) -> tuple[str, ...]:
    """Other names, from a text that has commas between them."""
    return tuple(name.strip() for name in names.split(",") if name.strip())


class IngredientRow(NamedTuple):
    """One row of a table of ingredients: what is said of it in `numbers`, and in single words, its `marks`."""

    name: str
    numbers: tuple[float, ...]
    marks: frozenset[str]
    also: tuple[str, ...]

    @property
    def source(self) -> str:
        """How good its values are."""
        return "guess" if "guess" in self.marks else "typical"

    def share(self, place: int) -> float:
        """One of its percentages as a fraction."""
        return self.numbers[place] / 100


def rows_of(table: str) -> Iterator[IngredientRow]:
    """The rows of a table, `name; numbers and marks; other names`; a line that begins with spaces goes on with the one above."""
    for line in table.strip().replace("\n    ", " ").splitlines():
        name, facts, names, *_ = (*(part.strip() for part in line.split(";")), "")
        marks = frozenset(fact for fact in facts.split() if fact.isalpha())
        numbers = tuple(float(fact) for fact in facts.split() if fact not in marks)
        yield IngredientRow(name, numbers, marks, split_names(names))

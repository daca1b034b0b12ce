"""One thing that goes into a beer, by the name the trade gives it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum


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


def also(names: str) -> tuple[str, ...]:
    """Other names, from a text that has commas between them."""
    return tuple(name.strip() for name in names.split(",") if name.strip())

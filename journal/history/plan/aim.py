"""What the next brew is after, what it is brewed from, and the plan that comes of both."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import field
from math import fsum
from typing import NamedTuple

from journal.balance.vessels import Vessel
from journal.frozen import dataclass
from journal.reading.entry import WITHOUT_SPARGE
from journal.science.mash import run_offs_of

#: Weakest and strongest wort that can be planned, SG.
WEAKEST, STRONGEST = 1.001, 1.150


class GristLine(NamedTuple):
    """One line of a grist: kg, extract as is and moisture as fractions of its weight."""

    weight: float
    extract: float
    moisture: float


@dataclass(frozen=True)
class Grist:
    """A grist by the kilogram: extract as is and moisture, fractions of its weight."""

    extract: float
    moisture: float

    @classmethod
    def of(cls, lines: Iterable[GristLine]) -> Grist:
        """The grist that lines make up, weighted by their weights; raises ValueError where they weigh nothing."""
        lines = tuple(lines)
        total = fsum(line.weight for line in lines)
        if total <= 0:
            raise ValueError("a grist weighs something")
        extract, moisture = (fsum(line.weight * line[column] for line in lines) / total for column in (1, 2))
        return cls(extract, moisture)


@dataclass(frozen=True)
class Aim:
    """What is wanted in the fermenter, and how it is brewed.

    `gravity` SG 20/20, `volume` L at 20 °C; `liquor_to_grist` L/kg, of no account where nothing is sparged; `boil` hours;
    `method` as entries name it. What joins after the run-off: `sugar` kg of extract and `kettle_water` kg of water in the
    kettle (a top-up, and what sugars bring), the same in the fermenter. What joins before: the same in the mash, and `early` in
    the full kettle as it is read. `mash_tun` and `kettle` are what the vessels hold, L; None where that is not known.
    `mash_liquor` and `sparge_liquor`, L at 20 °C, are those that the brewer has settled; None where the plan is to find them.
    With both of them settled, or the one of a mash that isn't rinsed, the volume follows, and `volume` is of no account. The
    sparge is poured in `fillings`, each run off in turn. `rinsed` says that the grain is rinsed though its method is one that
    mostly goes without, such as a bag.
    """

    gravity: float
    volume: float
    liquor_to_grist: float
    boil: float
    sugar: float = 0.0
    method: str = "batch sparge"
    mash_tun: float | None = None
    kettle: float | None = None
    kettle_water: float = 0.0
    fermenter_sugar: float = 0.0
    fermenter_water: float = 0.0
    mash_sugar: float = 0.0
    mash_water: float = 0.0
    early_sugar: float = 0.0
    early_water: float = 0.0
    mash_liquor: float | None = None
    sparge_liquor: float | None = None
    rinsed: bool = False
    fillings: int = 1

    @property
    def settled(self) -> tuple[float, float] | None:
        """Mash and sparge liquor where the brewer has settled all of it."""
        if self.mash_liquor is None or (self.sparges and self.sparge_liquor is None):
            return None
        return self.mash_liquor, (self.sparge_liquor or 0.0) if self.sparges else 0.0

    @property
    def sparges(self) -> bool:
        """Whether the grain is rinsed."""
        return self.rinsed or self.method not in WITHOUT_SPARGE

    @property
    def run_offs(self) -> int:
        """Rinses that the sparge counts for, as the balance has it."""
        return run_offs_of(self.method, self.fillings)


@dataclass(frozen=True)
class Plan:
    """Grain kg, liquors L at 20 °C, and what to expect on the way: SG 20/20, vessels, L/h, L, fractions."""

    grain: float
    mash_liquor: float
    sparge_liquor: float
    first_wort: float
    kettle: Vessel
    knockout: Vessel
    boil_off: float
    kettle_loss: float
    conversion: float
    lauter_efficiency: float
    lines: tuple[GristLine, ...] = field(default=())

    @property
    def mash_efficiency(self) -> float:
        """Share of the grist's extract that reaches the kettle."""
        return self.conversion * self.lauter_efficiency

    @property
    def total_liquor(self) -> float:
        """L at 20 °C that go through the grain."""
        return self.mash_liquor + self.sparge_liquor

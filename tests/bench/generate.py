"""Write a journal of invented batches, the same bytes for the same seed.

`python tests/bench/generate.py N FOLDER [--seed S]` fills FOLDER/entries with brewery.yaml, malts.yaml and one entry a batch
in folders by year; N is 1,000 if not given. The first batches of a longer journal are those of a shorter one.
"""

from __future__ import annotations

import argparse
import sys
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path
from random import Random

sys.path.insert(0, str(Path(__file__).parent.parent))

from bench.brewday import BREWHOUSES, Brewhouse, Grain, brew
from bench.notebook import (
    Entry,
    Instruments,
    fermentation_log,
    keeps_fermentation_log,
    keeps_mash_log,
    mash_log,
)
from bench.prose import prose

FIRST_DAY = date(2001, 1, 6)
#: A sack of base malt lasts this many batches.
BATCHES_A_LOT = 50

_STYLES = ("bitter", "porter", "golden ale", "brown ale", "wheat beer")
_PLACES = ("Sallow", "Marram", "Slate", "Heron", "Thistle")
_THINGS = ("Gate", "Lamp", "Furrow", "Bell")

_BREWERY = """\
name: Marram Loft
units: metric
address: https://example.org/marram-loft
instruments:
  malt_scale: 20 g
  hop_scale: 1 g
  volume: 0.25 L
  hydrometer: {uncertainty: 0.0007, calibrated_at: 20 degC}
  refractometer: {uncertainty: 0.15 °Bx, wort_factor: 1.04 ± 0.01}
  thermometer: 0.5 degC
  ph_meter: {uncertainty: 0.03, calibrated: [2001-01-02, 2001-07-01]}
brewhouses:
"""

_SPECIALS = """\
loft-amber:
  name: Amber, loose
  maltster: Brackwater Maltings
  kind: amber malt
  extract: 76.0 %
  moisture: 3.5 %
  colour: 65 EBC
  price: 2.20
  source: datasheet
loft-caramel:
  name: Caramel, dark
  maltster: Brackwater Maltings
  kind: caramel malt
  extract_as_is: 72.0 %
  moisture: 4.5 %
  colour: 140 EBC
  price: 2.30
  source: datasheet
"""


def _brewhouse(house: Brewhouse) -> str:
    dead_space = f", dead_space: {house.dead_space} L" if house.dead_space else ""
    return f"""\
  {house.key}:
    name: {house.name}
    mash_tun: {{volume: {house.tun} L{dead_space}}}
    kettle: {{volume: {house.kettle} L, loss: {house.loss} L}}
    boil_off: {house.boil_off} L/h
    absorption: {house.absorption} L/kg
"""


@dataclass(frozen=True)
class Lot:
    """A sack's certificate, and what it truly gives: fractions of 1."""

    kind: str
    number: int
    extract: float
    moisture: float
    true_extract: float

    @property
    def key(self) -> str:
        return f"brackwater-{self.kind}-{self.number:04d}"

    def sheet(self) -> str:
        """Its part of malts.yaml."""
        return f"""\
{self.key}:
  name: Brackwater {self.kind} malt
  maltster: Brackwater Maltings
  lot: "{self.number:04d}"
  kind: {self.kind} malt
  extract: {self.extract:.1%}
  fine_coarse_difference: {1 + self.number % 7 / 10} %
  moisture: {self.moisture:.1%}
  diastatic_power: {220 + self.number % 8 * 10} WK
  colour: {4 + self.number % 5 / 2} EBC
  price: {1.4 + self.number / 100:.2f}
  source: certificate
"""

    def grain(self, weight: float) -> Grain:
        return Grain(self.key, weight, self.true_extract, self.moisture)


def _lot(seed: int, kind: str, number: int) -> Lot:
    rng = Random(f"{seed} lot {kind} {number}")
    extract, moisture = rng.uniform(0.805, 0.82), rng.uniform(0.038, 0.046)
    return Lot(kind, number, extract, moisture, true_extract=rng.gauss(extract, 0.002))


def _lot_in_use(batch: int) -> int:
    return batch // BATCHES_A_LOT + 1


def _grist(seed: int, number: int, house: Brewhouse, rng: Random) -> tuple[Grain, ...]:
    size, lot = house.grist * rng.uniform(0.9, 1.05), _lot_in_use(number)
    grains = [_lot(seed, "pale", lot).grain(size * 0.8), _lot(seed, "pilsner", lot).grain(size * 0.12)]
    grains.append(
        Grain("loft-amber", size * 0.05, 0.76, 0.035)
        if number % 2
        else Grain("loft-caramel", size * 0.05, 0.72 / 0.955, 0.045)
    )
    if number % 3 == 0:
        sheet = {"moisture": "4 %", "diastatic_power": "0 WK", "colour": "400 EBC", "source": "guess"}
        lab = {"extract_as_is": "69.1 %", **sheet} if number % 2 else {"extract": "72 %", **sheet}
        grains.append(Grain("roasted at home", size * 0.02, 0.72, 0.04, lab))
    else:
        grains.append(Grain("munich malt", size * 0.04, 0.80, 0.045))
    if number % 4 == 1:
        grains.append(Grain("hulls", 0.1, 0.0, 0.09))
    return tuple(grains)


def _beer(number: int) -> str:
    return f"{_PLACES[number * 2 % len(_PLACES)]} {_THINGS[number * 3 % len(_THINGS)]}"


def _title(number: int) -> str:
    return f"{_beer(number)} {number}"


def entry_path(number: int) -> Path:
    """An entry's path under entries/."""
    year = (FIRST_DAY + timedelta(days=number - 1)).year
    return Path(str(year)) / f"{number:05d}-{_beer(number).lower().replace(' ', '-')}.md"


def _links(number: int, rng: Random) -> list[tuple[str, str]]:
    """One or two earlier entries, as this one would link to them."""
    if number == 1:
        return []
    earlier = sorted({rng.randint(max(1, number - 60), number - 1) for _ in range(rng.randint(1, 2))})
    here = entry_path(number).parent
    paths = [(other, entry_path(other)) for other in earlier]
    return [(_title(other), path.name if path.parent == here else f"../{path}") for other, path in paths]


def _write_batch(entries: Path, seed: int, number: int) -> None:
    rng = Random(f"{seed} batch {number}")
    house = BREWHOUSES[number % len(BREWHOUSES)]
    day = brew(number, _grist(seed, number, house, rng), house, rng)
    read = Instruments(
        rng,
        us=number % 5 == 2,
        scale=("hydrometer", "hydrometer", "plato", "refractometer")[number % 4],
        with_uncertainty=number % 7 == 4,
    )
    brewed = FIRST_DAY + timedelta(days=number - 1)
    entry = Entry(number, _title(number), rng.choice(_STYLES), brewed, day, read)
    path = entries / entry_path(number)
    path.parent.mkdir(exist_ok=True)
    text = f"---\n{entry.front_matter()}---\n{prose(rng, number, _links(number, rng))}"
    path.write_bytes(text.encode())
    if keeps_mash_log(number):
        (path.parent / f"{number:05d}-mash.csv").write_bytes(mash_log(day, rng).encode())
    if keeps_fermentation_log(number):
        (path.parent / f"{number:05d}-fermentation.csv").write_bytes(fermentation_log(day, brewed, rng).encode())


def generate(count: int, folder: Path, seed: int = 1) -> None:
    """Write a journal of `count` batches into `folder`, which has no entries/ yet."""
    entries = folder / "entries"
    entries.mkdir(parents=True)
    lots = range(1, _lot_in_use(count) + 1)
    sheets = "".join(_lot(seed, kind, lot).sheet() for lot in lots for kind in ("pale", "pilsner"))
    (entries / "brewery.yaml").write_bytes((_BREWERY + "".join(map(_brewhouse, BREWHOUSES))).encode())
    (entries / "malts.yaml").write_bytes((sheets + _SPECIALS).encode())
    for number in range(1, count + 1):
        _write_batch(entries, seed, number)


def main() -> None:
    """The command."""
    parser = argparse.ArgumentParser(description="Write a journal of invented batches.")
    parser.add_argument("count", nargs="?", type=int, default=1000, metavar="N", help="how many batches")
    parser.add_argument("folder", type=Path, metavar="FOLDER", help="where to write it; it must have no entries/ yet")
    parser.add_argument("--seed", type=int, default=1, help="another seed, another journal")
    given = parser.parse_args()
    generate(given.count, given.folder, given.seed)


if __name__ == "__main__":
    main()

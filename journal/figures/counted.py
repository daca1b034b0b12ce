"""What a reading counts as: volumes at 20 °C, gravities as SG 20/20, a pH at 20 °C, each with its standard uncertainty."""

from __future__ import annotations

from functools import cached_property
from math import fsum
from typing import Any, NamedTuple

from journal.figures.as_read import GravityReading as ReadGravity
from journal.figures.beer_gravities import beer_gravity
from journal.figures.corrected import gravity, litres
from journal.figures.observe import Observer
from journal.figures.poured import observe_fermentation
from journal.figures.propagate import contributions, nominal, propagate
from journal.measures import Gravity, Measure, Scale
from journal.reading import Batch, Brewery, Malts
from journal.reading.known_readings import PH, VOLUME
from journal.science import mash

#: Where what is read is beer and no longer wort.
_OF_BEER = ("readings", "package")


class Counted(NamedTuple):
    """A number with its standard uncertainty (k = 1), and its unit; `checks` are those of instruments that corrected it."""

    value: float
    sd: float
    unit: str
    checks: tuple[str, ...] = ()


def sg_of_strength(plato: float) -> float:
    """SG 20/20 of a wort of so many °P."""
    return gravity(ReadGravity(Scale.PLATO.value, plato, None, 20.0, None, None))


def _unit(scale: Scale) -> str:
    return "SG" if scale is Scale.HYDROMETER else scale.value


def _counted(number: Any, unit: str) -> Counted:
    parts = contributions(number)
    checks = tuple(of.path for of in parts if of.path.endswith("]") and ".checks[" in of.path)
    return Counted(nominal(number), fsum(part * part for part in parts.values()) ** 0.5, unit, checks)


class Recordings:
    """A batch's readings, each looked up by its path in the entry."""

    def __init__(self, batch: Batch, brewery: Brewery) -> None:
        self.observer = Observer(batch, brewery, Malts())

    @cached_property
    def _of_beer(self) -> dict[str, Any]:
        """SG of the beer by the path of its reading; one that can't be understood is missing."""
        known, package = observe_fermentation(self.observer), self.observer.batch.package
        found = {beer.path: beer.gravity for beer in known.gravities}
        if package.gravity and not package.on:
            observed = self.observer.gravity(package.gravity, "package.gravity", fermented=True).value
            found["package.gravity"] = beer_gravity(observed, known.wort)
        return {path: sg for path, sg in found.items() if sg is not None}

    def gravity(self, reading: Gravity, path: str) -> Counted:
        """SG 20/20; on its own scale where that can't be known, as of beer by a refractometer without the wort's strength."""
        observed = self.observer.gravity(reading, path)
        try:
            if path.startswith(_OF_BEER):
                return _counted(self._of_beer[path], "SG")
            return _counted(propagate(gravity, {"reading": observed.value}), "SG")
        except (KeyError, ArithmeticError, ValueError):
            return Counted(reading.value, self.observer.deviations.gravity(reading), _unit(reading.scale))

    def measure(self, reading: Measure, path: str, unit: str) -> Counted | None:
        """A quantity in `unit`, brought to 20 °C where it is a volume or a pH; None of a volume that was weighed or dipped and
        can't be known, as of wort whose strength is missing.
        """
        if unit == VOLUME:
            seen = self.observer.volume(reading, path)
            return None if seen.wanting else _counted(propagate(litres, {"reading": seen.value}), unit)
        if unit == PH:
            sample, at = self.observer.ph(reading, path).value
            of_beer = path.startswith(_OF_BEER)
            return _counted(sample if of_beer else propagate(mash.ph_at_20, {"ph": sample, "temperature": at}), unit)
        read = {"kg": self.observer.weight, "g": self.observer.hop_weight, "°C": self.observer.warmth}.get(unit)
        if read is None or not reading.value:
            return Counted(reading.value, reading.sd or 0.0, unit)
        return _counted(read(reading, path).value, unit)

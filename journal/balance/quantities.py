"""What a state of the model comes to, by name: the figures that readings become, and the efficiencies."""

from __future__ import annotations

from collections.abc import Callable

from journal.balance.vessels import BrewState
from journal.reading.known_readings import AT_STATIONS, GRAVITY, KnownReading

#: A number that follows from the unknowns, by name, and the state that they lead to.
Quantity = Callable[[dict[str, float], BrewState], float]


def _at_station(reading: KnownReading) -> Quantity:
    if reading.unit == GRAVITY:
        return lambda u, s: s.gravity_at(reading.station)
    return lambda u, s: getattr(s, reading.station).volume


def _brewhouse_efficiency(u: dict[str, float], s: BrewState) -> float:
    sugar = (s.early + u["kettle_sugar"]) * s.fermenter_share + u["fermenter_sugar"]
    return (s.fermenter.extract - sugar) / s.sheet


#: The share of the grist's own extract, not the sheet's, that reached the kettle: what is expected where no mash was recorded.
RUN_OFF_SHARE = "run_off_share"
#: Efficiencies are by the sheet's potential extract. Whatever is not here is an unknown of its name.
QUANTITIES: dict[str, Quantity] = {
    "conversion_efficiency": lambda u, s: s.dissolved / s.sheet,
    "lauter_efficiency": lambda u, s: (s.kettle.extract - s.early) / s.dissolved,
    "mash_efficiency": lambda u, s: (s.kettle.extract - s.early) / s.sheet,
    "brewhouse_efficiency": _brewhouse_efficiency,
    RUN_OFF_SHARE: lambda u, s: (s.kettle.extract - s.early) / s.potential,
    **{reading.figure: _at_station(reading) for reading in AT_STATIONS},
}


def quantity_of(name: str) -> Quantity:
    """The quantity of a name: one of QUANTITIES, else the unknown that is called so."""
    return QUANTITIES.get(name) or (lambda u, s: u[name])


def quantity_shown(reading: KnownReading) -> str:
    """The name of the quantity that a reading of the balance shows: L, SG, or kg of extract."""
    return reading.unknown or reading.figure

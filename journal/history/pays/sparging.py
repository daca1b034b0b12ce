"""Sparge volume against run-offs: what the brewhouse would give, as a table."""

from __future__ import annotations

from dataclasses import replace

from journal.history.pays.account import HABITS, Brewing
from journal.history.pays.alter import LEAST_BOIL_OFF, more_sparge, usual_brew
from journal.history.pays.answer import SpargeTable
from journal.history.pays.habitual import Habitual
from journal.measures.units import convert
from journal.measures.wording import US
from journal.reading.entry import WITHOUT_SPARGE

#: Steps to each side of the usual sparge, how many and of how much, L or gallons; and the fillings looked at.
STEPS, STEP_L, STEP_GALLONS = 3, 2.0, 0.5
RUN_OFFS = (1, 2, 3, 4)
#: h; nobody boils wort for less on purpose (common practice).
SHORTEST_BOIL = 0.5


def sparge_table(habitual: Habitual, method: str, system: str) -> SpargeTable | None:
    """Brewhouse efficiency of the usual brews by sparge volume and number of fillings; None where nothing is sparged, or as a trickle,
    or hardly boiled.

    Each brew has as much more or less sparge as its row, and boils as much longer or shorter as that takes, no brew under half an hour.
    """
    usual = usual_brew(habitual)
    boil_off = float(habitual.habits.mean[HABITS.index("boil_off")])
    if method in WITHOUT_SPARGE or method == "fly sparge" or usual.sparge_liquor <= 0.0 or boil_off < LEAST_BOIL_OFF:
        return None
    step = convert(STEP_GALLONS, "us_gallon", "litre") if system == US else STEP_L
    least = min(brewing[0]["sparge_liquor"] for brewing in habitual.brewings)
    hours = min(float(brewing[1].hours) for brewing in habitual.brewings)
    more = [
        step * place
        for place in range(-STEPS, STEPS + 1)
        if place == 0 or (least + step * place > 0.0 and hours + step * place / boil_off >= SHORTEST_BOIL)
    ]
    efficiency = tuple(tuple(_efficiency(habitual, litres, fillings) for fillings in RUN_OFFS) for litres in more)
    return SpargeTable(
        sparge=tuple(usual.sparge_liquor + litres for litres in more),
        run_offs=RUN_OFFS,
        efficiency=efficiency,
        minutes=tuple(60.0 * litres / boil_off for litres in more),
        now=(more.index(0.0), min(usual.run_offs, RUN_OFFS[-1]) - 1),
    )


def _efficiency(habitual: Habitual, litres: float, fillings: int) -> float:
    def altered(brewing: Brewing) -> Brewing:
        u, facts = more_sparge(litres)(brewing)
        return u, replace(facts, run_offs=fillings)

    return habitual.brewhouse_efficiency(altered)

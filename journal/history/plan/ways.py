"""How a brewhouse brews where nobody says how: as its latest batch was brewed, or else by common practice."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from journal.figures import BatchFigures
from journal.frozen import dataclass
from journal.history.plan.from_batch import BOIL, FIRST_METHOD, LIQUOR_TO_GRIST
from journal.reading import Journal
from journal.reading.entry import STEEP

#: degC of a single rest, and what it lasts, min (common practice).
MASH, REST = 66.5, 60.0


@dataclass(frozen=True)
class Ways:
    """Lautering method, L/kg of mash liquor, min of boil, degC of the first rest; `batch` is whose they are, empty for common practice."""

    method: str = FIRST_METHOD
    liquor_to_grist: float = LIQUOR_TO_GRIST
    boil: float = BOIL
    mash: float = MASH
    batch: str = ""


def usual_ways(journal: Journal, figures: Mapping[str, BatchFigures], brewhouse: str, day: date) -> Ways:
    """The ways of the latest batch of a brewhouse before a day whose mash is known; those of common practice where there is none."""
    for batch in reversed(journal.by_brewhouse.get(brewhouse, [])):
        thickness, method = figures[batch.id].get("liquor_to_grist"), batch.lauter.method
        if batch.day > day or thickness is None or method in (None, STEEP) or batch.shares_mash:
            continue
        time, rests = batch.boil.time, batch.mash.rests
        return Ways(
            method=method or FIRST_METHOD,
            liquor_to_grist=thickness.value,
            boil=time.value if time else BOIL,
            mash=rests[0].temperature.value if rests and rests[0].temperature else MASH,
            batch=batch.id,
        )
    return Ways()

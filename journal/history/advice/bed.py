"""Notes on the run-off: what hot, alkaline or weak sparges draw out of the husks."""

from __future__ import annotations

from journal.history.advice.advice import COMMON, Advice, AdvisedBatch
from journal.science.mash import ph_at_20

#: degC.
HOTTEST_SPARGE = 78.0
HIGHEST_PH = 6.0
#: SG.
WEAKEST_RUNNINGS = 1.008


def hot_sparge(advised: AdvisedBatch) -> Advice | None:
    """Sparge liquor that is hotter than usual."""
    liquor = advised.batch.lauter.liquor_temperature
    if liquor is None or liquor.value <= HOTTEST_SPARGE:
        return None
    return Advice(
        "hot-sparge",
        f"The sparge liquor had {advised.shown(liquor.value, '°C')}; {advised.shown(HOTTEST_SPARGE, '°C')} is as hot as is usual.",
        "Hotter liquor draws tannins from the husks, and starch that no enzyme is left to convert.",
        COMMON,
        "lauter.liquor_temperature",
    )


def high_ph(advised: AdvisedBatch) -> Advice | None:
    """Last runnings that have grown alkaline."""
    read = advised.batch.lauter.ph
    if read is None:
        return None
    ph = read.value if read.at is None else ph_at_20(read.value, read.at)
    if ph <= HIGHEST_PH:
        return None
    return Advice(
        "sparge-ph-high",
        f"The last runnings had pH {advised.shown(ph, 'pH')}; most brewers stop below 6.",
        "Above that husks give off tannins more readily; a little acid in the sparge liquor holds it down.",
        COMMON,
        "lauter.ph",
    )


def weak_runnings(advised: AdvisedBatch) -> Advice | None:
    """Last runnings that carry more harshness than extract."""
    gravity = advised.value("last_runnings_gravity")
    if gravity is None or gravity >= WEAKEST_RUNNINGS:
        return None
    return Advice(
        "weak-runnings",
        f"The last runnings were down to {advised.shown(gravity, 'SG')}; most brewers stop at 1.008 to 1.010.",
        "What runs off after that is thin, less acid, and richer in tannins and silicates.",
        COMMON,
        "lauter.last_runnings",
    )


RULES = (hot_sparge, high_ph, weak_runnings)

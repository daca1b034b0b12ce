"""The grain bed: what it kept of the extract, and what a bed mixed evenly would have kept."""

from __future__ import annotations

from math import fsum

from journal.figures.catalogue import figure
from journal.science import mash, water

GROUP = "Extract account"


@figure(
    unit="kg",
    group=GROUP,
    formula="{dissolved_extract} − extract that runs off from {mash_liquor} + {grain_moisture}, then from {run_offs} equal rinses of"
    " {sparge_liquor}, where {wort_left} − {unlautered_extract} of water stay each time",
    source="mass balance of a bed mixed evenly; a fly sparge counts as three run-offs, common practice",
)
def extract_left_well_mixed(
    dissolved_extract: float,
    mash_liquor: float,
    sparge_liquor: float,
    grain_moisture: float,
    wort_left: float,
    unlautered_extract: float,
    run_offs: float,
) -> float:
    """Dissolved extract that would have stayed with the grain and in the dead space, had bed and liquor mixed evenly."""
    sparges = round(run_offs) if sparge_liquor > 0 else 0
    poured = [grain_moisture + mash_liquor * water.density(20.0)]
    poured += [sparge_liquor * water.density(20.0) / max(sparges, 1)] * sparges
    runnings = mash.run_off(poured, 1.0, wort_left - unlautered_extract, dissolved_extract, 0.0)
    return dissolved_extract - fsum(extract for _, extract in runnings)


@figure(unit="kg", group=GROUP, formula="{unlautered_extract} − {extract_left_well_mixed}", source="definition")
def lauter_shortfall_extract(unlautered_extract: float, extract_left_well_mixed: float) -> float:
    """Extract that stayed with the grain beyond what a well-mixed bed keeps: channels, dry pockets, poor mixing."""
    return unlautered_extract - extract_left_well_mixed


@figure(unit="1", group=GROUP, formula="{lauter_shortfall_extract} / {dissolved_extract}", source="definition")
def lauter_shortfall(lauter_shortfall_extract: float, dissolved_extract: float) -> float:
    """Share of the dissolved extract that stayed with the grain beyond what a well-mixed bed keeps."""
    return lauter_shortfall_extract / dissolved_extract

"""Attenuation and alcohol."""

from __future__ import annotations

from math import fsum

from journal.figures.added import JoinedLate
from journal.figures.catalogue import figure
from journal.science import beer, ethanol, fermentation, wort

GROUP = "Fermentation"
#: How far 34 beers whose alcohol was distilled lie from it, root mean square, fraction by volume: L. M. Tolman & J. G. Riley,
#: USDA Bulletin 493 (1917). Published relations differ among themselves by 0.001.
ALCOHOL_MODEL = 0.0014


@figure(unit="kg", group=GROUP, formula="Σ extract it brings, over {late_additions}", source="definition")
def late_extract(late_additions: tuple[JoinedLate, ...]) -> float:
    """Extract that joined during fermentation."""
    return fsum(late.brings for late in late_additions)


@figure(
    unit="°P",
    group=GROUP,
    formula="{original_extract} with {late_additions} as if they had been in the {fermenter_volume} of wort",
    source="mass balance of extract and of all that is weighed",
)
def original_extract_all_told(
    original_extract: float, late_additions: tuple[JoinedLate, ...], fermenter_volume: float | None = None
) -> float:
    """Strength that the wort pitched would have had with all that joined it during fermentation."""
    if not late_additions or fermenter_volume is None:
        return original_extract
    late = [beer.LateExtract(each.weight, each.brings, fermenter_volume) for each in late_additions]
    return beer.original_extract_all_told(original_extract, late)


@figure(unit="°P", group=GROUP, formula="P({final_gravity})", source="ASBC table's cubic")
def apparent_extract(final_gravity: float) -> float:
    """What a hydrometer makes of the beer's extract, the alcohol in it unseen."""
    return wort.plato_from_gravity(final_gravity)


@figure(
    unit="°P",
    group=GROUP,
    formula="solved from {original_extract_all_told} and {apparent_extract}",
    source="Tabarié's principle with the OIML R 22 alcohol table, and Balling's relation",
)
def real_extract(original_extract_all_told: float, apparent_extract: float) -> float:
    """The beer's extract, the alcohol accounted for."""
    return beer.real_extract(original_extract_all_told, apparent_extract)


@figure(
    unit="1",
    group=GROUP,
    formula="({original_extract_all_told} − {apparent_extract}) / {original_extract_all_told}",
    source="definition",
)
def apparent_attenuation(original_extract_all_told: float, apparent_extract: float) -> float:
    """Share of the extract that seems to be gone."""
    return beer.apparent_attenuation(original_extract_all_told, apparent_extract)


@figure(
    unit="1",
    group=GROUP,
    formula="({original_extract_all_told} − {real_extract}) / {original_extract_all_told}",
    source="definition",
)
def real_attenuation(original_extract_all_told: float, real_extract: float) -> float:
    """Share of the extract that is gone."""
    return beer.real_attenuation(original_extract_all_told, real_extract)


@figure(
    unit="1",
    group=GROUP,
    formula="({original_extract_all_told} − {real_extract}) / (2.0665 − 0.010665 × {original_extract_all_told}) / 100",
    source="C. J. N. Balling 1865; its ± by 34 beers with distilled alcohol, L. M. Tolman & J. G. Riley, USDA Bulletin 493 (1917)",
    model=ALCOHOL_MODEL * ethanol.density(1.0),
)
def alcohol_by_weight(original_extract_all_told: float, real_extract: float) -> float:
    """Alcohol by weight of beer."""
    return beer.alcohol_by_weight(original_extract_all_told, real_extract)


@figure(
    unit="1",
    group=GROUP,
    formula="{alcohol_by_weight} × ρ({final_gravity}) / ρ(ethanol)",
    source="density of ethanol at 20 °C: OIML R 22",
)
def alcohol_by_volume(alcohol_by_weight: float, final_gravity: float) -> float:
    """Alcohol by volume at 20 °C."""
    return beer.alcohol_by_volume(alcohol_by_weight, final_gravity)


@figure(
    unit="1",
    group=GROUP,
    formula="({original_extract_all_told} − {real_extract}) / {original_extract_all_told} / (1 − 0.005161 × {real_extract})",
    source="common practice, the real degree of fermentation as the ASBC has it",
)
def real_degree_of_fermentation(original_extract_all_told: float, real_extract: float) -> float:
    """Share of the extract that is gone, counted with the weight lost as carbon dioxide and yeast (RDF)."""
    return beer.real_degree_of_fermentation(original_extract_all_told, real_extract)


@figure(
    unit="kcal/100 mL",
    group=GROUP,
    formula="(6.9 × 100 × {alcohol_by_weight} + 4.0 × ({real_extract} − 0.1)) × {final_gravity}",
    source="ASBC, as in the Oxford Companion to Beer; ash taken as 0.1 g in 100 g",
)
def energy(alcohol_by_weight: float, real_extract: float, final_gravity: float) -> float:
    """Food energy of 100 mL of beer; 4.184 kJ to the kcal."""
    return beer.energy(alcohol_by_weight, real_extract, final_gravity)


@figure(
    unit="million/(mL·°P)",
    group=GROUP,
    formula="{yeast_cells} / {fermenter_volume} / {original_extract}",
    source="definition; about 0.75 for ales and 1.5 for lagers, common practice",
)
def pitching_rate(yeast_cells: float, fermenter_volume: float, original_extract: float) -> float:
    """Yeast pitched, to each mL and °P of the wort."""
    return fermentation.pitching_rate(yeast_cells, fermenter_volume, original_extract)


@figure(unit="h", group=GROUP, formula="{clock_minutes} / 60", source="definition")
def brew_day(clock_minutes: float) -> float:
    """How long the day was, from the first time of its clock to the last."""
    return clock_minutes / 60.0

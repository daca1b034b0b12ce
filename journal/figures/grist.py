"""What the grist offers, and the liquor it meets."""

from __future__ import annotations

from math import fsum

from journal.figures.brought import enter_readings
from journal.figures.catalogue import figure
from journal.figures.mashing import SortedGrain
from journal.figures.observe import GrainExtract, Weighted
from journal.science import malt

GROUP = "Grist and liquor"


def extract_of(grain: GrainExtract) -> float:
    """kg of extract in one grain or sugar, by its laboratory value."""
    dry = 1.0 if grain.moisture is None else 1.0 - grain.moisture
    return float(grain.weight * grain.extract * dry)


@figure(unit="kg", group=GROUP, formula="Σ weight, over {grain_weights}", source="definition")
def grain_weight(grain_weights: tuple[float, ...]) -> float:
    """Weight of the grist as milled."""
    return fsum(grain_weights)


@figure(
    unit="kg",
    group=GROUP,
    formula="Σ weight × (1 − moisture) × extract, over {grain_extracts}",
    source="EBC Analytica 4.5.1: extract of malt by the Congress mash, fine grind, dry basis",
)
def potential_extract(grain_extracts: tuple[GrainExtract, ...]) -> float:
    """What the laboratory's fine-grind mash would dissolve from the grist."""
    return fsum(extract_of(grain) for grain in grain_extracts)


@figure(unit="kg", group=GROUP, formula="Σ weight × moisture, over {grain_moistures}", source="definition")
def grain_moisture(grain_moistures: tuple[Weighted, ...]) -> float:
    """Water that the grain itself brings into the mash."""
    return fsum(grain.weight * grain.value for grain in grain_moistures)


@figure(
    unit="WK",
    group=GROUP,
    formula="Σ weight × power / Σ weight, over {grain_powers} (grains that have extract)",
    source="mean by weight, common practice; °WK = 3.5 °Lintner − 16: Oxford Companion to Beer (2011), “diastatic power”",
)
def diastatic_power(grain_powers: tuple[Weighted, ...]) -> float:
    """The grist's power to turn starch into sugar; grains without extract don't count, and it is never below 0."""
    power = fsum(grain.weight * max(grain.value, 0.0) for grain in grain_powers)
    return float(power / fsum(grain.weight for grain in grain_powers))


enter_readings(GROUP)


@figure(unit="L", group=GROUP, formula="{mash_liquor} + {sparge_liquor}", source="definition")
def total_liquor(mash_liquor: float, sparge_liquor: float) -> float:
    """All liquor that went through the grain."""
    return mash_liquor + sparge_liquor


@figure(unit="L/kg", group=GROUP, formula="{mash_liquor} / {grain_weight}", source="definition")
def liquor_to_grist(mash_liquor: float, grain_weight: float) -> float:
    """Liquor by weight of grain in the mash."""
    return mash_liquor / grain_weight


@figure(
    unit="°Lintner",
    group=GROUP,
    formula="({diastatic_power} + 16) / 3.5; without enzymes 0",
    source="°WK = 3.5 °Lintner − 16: Oxford Companion to Beer (2011), “diastatic power”",
)
def diastatic_power_lintner(diastatic_power: float) -> float:
    """The grist's diastatic power in the other unit of the trade."""
    # the units' zeros lie apart: of a grist without enzymes the relation says nothing
    return malt.lintner_from_wk(diastatic_power) if diastatic_power else 0.0


def _share(grains: tuple[SortedGrain, ...], sort: str) -> float:
    of_sort = fsum(grain.weight for grain in grains if sort in grain.sort.split(", "))
    return float(of_sort / fsum(grain.weight for grain in grains))


@figure(unit="1", group=GROUP, formula="weight without husk / Σ weight, over {grain_sorts}", source="definition")
def huskless_share(grain_sorts: tuple[SortedGrain, ...]) -> float:
    """Grain that brings no husk to the bed, naked or flaked, by weight of the grist."""
    return _share(grain_sorts, "huskless")


@figure(unit="1", group=GROUP, formula="weight of hulls / Σ weight, over {grain_sorts}", source="definition")
def hulls_share(grain_sorts: tuple[SortedGrain, ...]) -> float:
    """Hulls by weight of the grist."""
    return _share(grain_sorts, "hulls")


@figure(
    unit="1",
    group=GROUP,
    formula="weight of 400 EBC and darker / Σ weight, over {grain_sorts}",
    source="definition; what counts as roasted is common practice",
)
def roasted_share(grain_sorts: tuple[SortedGrain, ...]) -> float:
    """Roasted grain by weight of the grist."""
    return _share(grain_sorts, "roasted")

"""From the fermenter into the package: volume, the last line of the extract account, and carbonation."""

from __future__ import annotations

from journal.figures.brought import enter_readings
from journal.figures.catalogue import figure
from journal.figures.poured import GasOver, Primed, PrimingPlan
from journal.science import carbonation as gas
from journal.science import wort

GROUP = "Package"
#: What beer holds beside what it should, as a share: how long it stood, how it was moved (common practice).
_RESIDUAL_MODEL = 0.10
#: Of the carbonation by pressure: tables and measurements lie so far apart, as a share.
_PRESSURE_MODEL = 0.04
_STOICHIOMETRY = "stoichiometry of alcoholic fermentation, by molar mass"


enter_readings(GROUP)


@figure(unit="L", group=GROUP, formula="{fermenter_volume} + {package_top_up} − {package_volume}", source="definition")
def package_loss(fermenter_volume: float, package_top_up: float, package_volume: float) -> float:
    """Beer that did not reach the package: with the yeast, in samples and hoses."""
    return fermenter_volume + package_top_up - package_volume


@figure(
    unit="1", group=GROUP, formula="({package_volume} − {package_top_up}) / {fermenter_volume}", source="definition"
)
def packaged_share(package_volume: float, package_top_up: float, fermenter_volume: float) -> float:
    """How much of what was in the fermenter reached the package."""
    return (package_volume - package_top_up) / fermenter_volume


@figure(
    unit="kg",
    group=GROUP,
    formula="{fermenter_extract} × (1 − {packaged_share})",
    source="definition, as the wort had it before yeast",
)
def fermenter_left_extract(fermenter_extract: float, packaged_share: float) -> float:
    """Extract of the wort that stayed behind in the fermenter."""
    return fermenter_extract * (1.0 - packaged_share)


@figure(
    unit="kg",
    group=GROUP,
    formula="{package_volume} × ρ({apparent_extract}) × {real_extract} / 100",
    source="extract = V₂₀·ρ·RE/100: ρ by ICUMSA SPS-4",
)
def packaged_extract(package_volume: float, apparent_extract: float, real_extract: float) -> float:
    """Extract in the packaged beer: what is left in the glass."""
    return package_volume * wort.density(apparent_extract) * real_extract / 100.0


@figure(
    unit="kg",
    group=GROUP,
    formula="{fermenter_extract} × {packaged_share} − {packaged_extract}",
    source="definition; alcohol, carbon dioxide and yeast came of it",
)
def fermented_extract(fermenter_extract: float, packaged_share: float, packaged_extract: float) -> float:
    """Extract of the packaged beer's wort that fermented."""
    return fermenter_extract * packaged_share - packaged_extract


@figure(
    unit="g/L",
    group=GROUP,
    formula="0.92 × what water holds under 1 bar at {warmest_temperature}",
    source="R. F. Weiss, Marine Chemistry 2 (1974) 203; a lager's share of it: Liger-Belair & Cilindre, ACS Omega 6 (2021) 9672",
    model_share=_RESIDUAL_MODEL,
    given=("vented",),
)
def residual_carbonation(warmest_temperature: float) -> float:
    """Carbon dioxide left in the beer when fermentation ended, in a vessel without pressure."""
    return gas.residual(warmest_temperature)


@figure(
    unit="g/L",
    group=GROUP,
    formula="{residual_carbonation} + what {priming_given} gives in {package_volume}",
    source=_STOICHIOMETRY,
)
def carbonation(residual_carbonation: float, priming_given: Primed, package_volume: float) -> float:
    """Carbon dioxide in the package once the priming sugar has fermented, if nothing else was left to ferment."""
    gives = 1.0 if priming_given.gives is None else priming_given.gives
    return residual_carbonation + gives * gas.from_sugar(priming_given.weight, package_volume, priming_given.sugar)


@figure(
    unit="kg",
    group=GROUP,
    formula="({priming_plan} − {residual_carbonation}) × {package_volume} / what a kilogram gives",
    source=_STOICHIOMETRY,
)
def priming_sugar(priming_plan: PrimingPlan, residual_carbonation: float, package_volume: float) -> float:
    """Sugar that brings the packaged beer to the carbonation wanted, given that its gravity has been level for three days.

    Below 0 where it holds more already.
    """
    gives = 1.0 if priming_plan.gives is None else priming_plan.gives
    return gas.priming(priming_plan.wanted, residual_carbonation, package_volume, priming_plan.sugar) / gives


@figure(
    unit="g/L",
    group=GROUP,
    formula="0.92 × what water holds under {package_gas}",
    source="Henry's law: R. F. Weiss, Marine Chemistry 2 (1974) 203; the trade's tables lie 1 to 4 % higher",
    model_share=_PRESSURE_MODEL,
)
def pressure_carbonation(package_gas: GasOver) -> float:
    """Carbon dioxide in beer that has come to rest with the gas over it."""
    return gas.from_pressure(package_gas.pressure, package_gas.at, package_gas.share)

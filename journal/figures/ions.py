"""The mash liquor: what is dissolved in it, with the salts and acids that were added."""

from __future__ import annotations

from math import fsum

from journal.figures.catalogue import figure
from journal.figures.mashing import AddedAcid, AddedSalt
from journal.science import acids, water_chemistry

GROUP = "Water"
_SOURCE = "shares of the salts' molar mass, atomic weights of the IUPAC; all of it is taken to dissolve, which chalk hardly does"


def _facts(ion: str, acids_too: bool = False) -> dict[str, str]:
    added = f"Σ weight × share of {ion}, over {{mash_salts}}"
    if acids_too:
        added = f"({added} and {{mash_{ion}_acids}})"
    formula = f"{{water_{ion}}} of the water + {added}, / {{mash_liquor}}"
    return {"unit": "mg/L", "group": GROUP, "formula": formula, "source": _SOURCE}


def _with_salts(of_water: float, salts: tuple[AddedSalt, ...], liquor: float, ion: str) -> float:
    return of_water + fsum(water_chemistry.dissolved_ion(salt, ion, weight, liquor) for weight, salt in salts)


def _of_acids(found: tuple[AddedAcid, ...], liquor: float, ion: str) -> float:
    return fsum(acids.brought_ion(each.acid, ion, each.amount * each.equivalents, liquor) for each in found)


@figure(**_facts("calcium"))
def calcium(water_calcium: float, mash_salts: tuple[AddedSalt, ...], mash_liquor: float) -> float:
    """Calcium of the mash liquor with its salts."""
    return _with_salts(water_calcium, mash_salts, mash_liquor, "calcium")


@figure(**_facts("magnesium"))
def magnesium(water_magnesium: float, mash_salts: tuple[AddedSalt, ...], mash_liquor: float) -> float:
    """Magnesium of the mash liquor with its salts."""
    return _with_salts(water_magnesium, mash_salts, mash_liquor, "magnesium")


@figure(**_facts("sodium"))
def sodium(water_sodium: float, mash_salts: tuple[AddedSalt, ...], mash_liquor: float) -> float:
    """Sodium of the mash liquor with its salts."""
    return _with_salts(water_sodium, mash_salts, mash_liquor, "sodium")


@figure(**_facts("sulfate", acids_too=True))
def sulfate(
    water_sulfate: float,
    mash_salts: tuple[AddedSalt, ...],
    mash_sulfate_acids: tuple[AddedAcid, ...],
    mash_liquor: float,
) -> float:
    """Sulfate of the mash liquor with its salts and acids."""
    salted = _with_salts(water_sulfate, mash_salts, mash_liquor, "sulfate")
    return salted + _of_acids(mash_sulfate_acids, mash_liquor, "sulfate")


@figure(**_facts("chloride", acids_too=True))
def chloride(
    water_chloride: float,
    mash_salts: tuple[AddedSalt, ...],
    mash_chloride_acids: tuple[AddedAcid, ...],
    mash_liquor: float,
) -> float:
    """Chloride of the mash liquor with its salts and acids."""
    salted = _with_salts(water_chloride, mash_salts, mash_liquor, "chloride")
    return salted + _of_acids(mash_chloride_acids, mash_liquor, "chloride")


@figure(
    unit="meq/L",
    group=GROUP,
    formula="Σ amount × equivalents at pH 5.4, over {mash_acids}, / {mash_liquor}",
    source="dissociation by the law of mass action, constants at 25 °C: Chemistry LibreTexts, Reference Tables, E1",
)
def alkalinity_neutralised(mash_acids: tuple[AddedAcid, ...], mash_liquor: float) -> float:
    """Alkalinity that the acids in the mash take away, to the litre of its liquor."""
    return acids.alkalinity_neutralised(fsum(acid.amount * acid.equivalents for acid in mash_acids), mash_liquor)


@figure(
    unit="mg/L as CaCO3",
    group=GROUP,
    formula="{water_alkalinity} of the water + Σ weight × share of alkalinity, over {mash_salts}, / {mash_liquor}"
    " − 50.04 × {alkalinity_neutralised}",
    source=_SOURCE,
)
def alkalinity(
    water_alkalinity: float, mash_salts: tuple[AddedSalt, ...], mash_liquor: float, alkalinity_neutralised: float
) -> float:
    """Alkalinity of the mash liquor with its salts and acids; below 0 where there is more acid than that."""
    salted = _with_salts(water_alkalinity, mash_salts, mash_liquor, "alkalinity")
    return salted - alkalinity_neutralised / water_chemistry.equivalents_of_alkalinity(1.0)


@figure(
    unit="mg/L as CaCO3",
    group=GROUP,
    formula="{alkalinity} − hardness of {calcium} / 3.5 − hardness of {magnesium} / 7, all as CaCO3",
    source="P. Kolbach (1953), of cast-out wort from a thin mash: it compares liquors and foretells no mash's pH",
)
def residual_alkalinity(alkalinity: float, calcium: float, magnesium: float) -> float:
    """Alkalinity of the mash liquor that its calcium and magnesium leave, salts and acids counted."""
    return water_chemistry.residual_alkalinity(calcium, magnesium, alkalinity)


@figure(
    unit="mg/L as CaCO3",
    group=GROUP,
    formula="{water_alkalinity} − hardness of {water_calcium} / 3.5 − hardness of {water_magnesium} / 7, all as CaCO3",
    source="P. Kolbach (1953), of cast-out wort from a thin mash: it compares liquors and foretells no mash's pH",
)
def liquor_residual_alkalinity(water_alkalinity: float, water_calcium: float, water_magnesium: float) -> float:
    """Residual alkalinity of the liquor as it comes, before any acid or salt."""
    return water_chemistry.residual_alkalinity(water_calcium, water_magnesium, water_alkalinity)


@figure(
    unit="°dH",
    group=GROUP,
    formula="{residual_alkalinity} / 17.848",
    source="definition, 1 °dH is 10 mg/L of CaO",
)
def residual_alkalinity_degrees(residual_alkalinity: float) -> float:
    """Residual alkalinity in German degrees."""
    return water_chemistry.german_degrees(residual_alkalinity)

"""Salts and acids by the names of the trade; what they do to a water stands in `science`, by the same names.

Calcium chloride is sold as the dihydrate, Epsom salt and gypsum with their water, where nothing else is said (common
practice). An acid's strength follows its name, such as `lactic acid 80 %`, and is read apart.
"""

from __future__ import annotations

from journal.reading.kinds.ingredient import Ingredient, Sort, split_names


def _nothing(name: str, sort: Sort, names: str) -> Ingredient:
    return Ingredient(name, sort, extract_as_is=0.0, huskless=True, also=split_names(names))


SALTS: tuple[Ingredient, ...] = tuple(
    _nothing(name, Sort.SALT, names)
    for name, names in (
        ("gypsum", "CaSO4, CaSO4·2H2O, calcium sulfate, calcium sulfate dihydrate, brewers gypsum"),
        ("calcium chloride dihydrate", "calcium chloride, CaCl2, CaCl2·2H2O, calcium chloride flakes"),
        ("calcium chloride, anhydrous", "anhydrous calcium chloride, calcium chloride anhydrous, anhydrous CaCl2"),
        ("Epsom salt", "Epsom salts, Epsom, MgSO4, MgSO4·7H2O, magnesium sulfate, magnesium sulfate heptahydrate"),
        ("magnesium chloride", "MgCl2, MgCl2·6H2O, magnesium chloride hexahydrate"),
        ("table salt", "salt, NaCl, sodium chloride, sea salt, kitchen salt, non-iodised salt"),
        ("chalk", "CaCO3, calcium carbonate, precipitated chalk"),
        ("baking soda", "NaHCO3, sodium bicarbonate, sodium hydrogen carbonate, bicarbonate of soda"),
        ("slaked lime", "Ca(OH)2, calcium hydroxide, pickling lime, hydrated lime, lime (calcium hydroxide)"),
    )
)

ACIDS: tuple[Ingredient, ...] = tuple(
    _nothing(name, Sort.ACID, names)
    for name, names in (
        ("lactic acid", ""),
        ("phosphoric acid", "orthophosphoric acid, H3PO4"),
        ("citric acid", "anhydrous citric acid"),
        ("citric acid monohydrate", ""),
        ("malic acid", ""),
        ("tartaric acid", ""),
        ("sulfuric acid", "H2SO4"),
        ("hydrochloric acid", "HCl"),
    )
)

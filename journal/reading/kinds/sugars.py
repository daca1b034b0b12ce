"""What brings its extract ready: sugars, syrups, extracts of malt.

Extract and moisture are parts of the weight as sold, common practice; what has a formula has its molar mass: dextrose is
glucose with a molecule of water, 180.16 parts in 198.17, lactose 342.30 in 360.31. The rest of a syrup is water; of brown
sugars and treacle a little is ash. Lactose and most of maltodextrin stay in the beer. Colours are round figures in EBC.
"""

from __future__ import annotations

from journal.reading.kinds.ingredient import Ingredient, Sort, also


def _sugar(name: str, as_is: float, moisture: float, colour: float, names: str = "") -> Ingredient:
    return Ingredient(
        name, Sort.SUGAR, moisture / 100, colour=colour, extract_as_is=as_is / 100, huskless=True, also=also(names)
    )


_CRYSTALS = (
    _sugar(
        "sucrose",
        100.0,
        0.0,
        0.0,
        "table sugar, white sugar, granulated sugar, cane sugar, beet sugar, caster sugar, household sugar, sugar",
    ),
    _sugar(
        "dextrose",
        91.0,
        9.0,
        0.0,
        "corn sugar, brewing sugar, dextrose monohydrate, glucose monohydrate, grape sugar, priming sugar",
    ),
    _sugar("glucose", 100.0, 0.0, 0.0, "anhydrous glucose, anhydrous dextrose, glucose anhydrous, dextrose anhydrous"),
    _sugar("fructose", 100.0, 0.0, 0.0, "fruit sugar"),
    _sugar(
        "brown sugar",
        97.0,
        2.0,
        40.0,
        "soft brown sugar, light brown sugar, demerara sugar, demerara, turbinado, raw sugar",
    ),
    _sugar("dark brown sugar", 96.0, 3.0, 100.0, "muscovado sugar, muscovado, dark muscovado sugar"),
    _sugar("palm sugar", 94.0, 4.0, 60.0, "jaggery, coconut sugar, panela, piloncillo, rapadura"),
    _sugar(
        "candi sugar", 99.0, 1.0, 0.0, "candy sugar, white candi sugar, clear candi sugar, rock candi sugar, rock sugar"
    ),
    _sugar("amber candi sugar", 99.0, 1.0, 150.0, "brown candi sugar, amber candy sugar"),
    _sugar("dark candi sugar", 99.0, 1.0, 500.0, "dark candy sugar, black candi sugar"),
    _sugar("lactose", 95.0, 5.0, 0.0, "milk sugar, lactose monohydrate"),
    _sugar("maltodextrin", 95.0, 5.0, 0.0, "malto-dextrin, malto-dextrine, maltodextrine"),
    _sugar("maltose", 95.0, 5.0, 0.0, "maltose monohydrate"),
)

_SYRUPS = (
    _sugar("invert syrup", 80.0, 20.0, 2.0, "invert sugar, invert sugar syrup, inverted sugar"),
    _sugar("golden syrup", 82.0, 18.0, 20.0, "light treacle"),
    _sugar("treacle", 78.0, 20.0, 300.0, "black treacle, dark treacle"),
    _sugar("molasses", 76.0, 22.0, 250.0, "blackstrap molasses, light molasses, dark molasses"),
    _sugar("maple syrup", 67.0, 33.0, 70.0),
    _sugar("agave syrup", 76.0, 23.0, 10.0, "agave nectar, agave"),
    _sugar("candi syrup", 78.0, 22.0, 0.0, "candy syrup, clear candi syrup"),
    _sugar("dark candi syrup", 78.0, 22.0, 350.0, "dark candy syrup"),
    _sugar("glucose syrup", 80.0, 20.0, 0.0, "corn syrup, liquid glucose, wheat syrup"),
    _sugar("maltose syrup", 80.0, 20.0, 0.0, "high maltose syrup"),
    _sugar("rice syrup", 80.0, 20.0, 2.0, "brown rice syrup"),
    _sugar("rice syrup solids", 95.0, 5.0, 2.0, "dried rice syrup, rice extract, dry rice extract"),
    _sugar("date syrup", 72.0, 26.0, 200.0),
    _sugar("sorghum syrup", 78.0, 22.0, 15.0, "sorghum extract, sorghum extract liquid, liquid sorghum extract"),
    _sugar("honey", 80.0, 18.0, 5.0, "clear honey, set honey, wildflower honey"),
)

_EXTRACTS = (
    _sugar(
        "malt extract, dry",
        95.0,
        4.0,
        15.0,
        "dry malt extract, DME, dried malt extract, spray malt, spraymalt, light dry malt extract, light DME, pale dry malt extract,"
        " pale DME, extra light dry malt extract, extra light DME, malt extract powder, dry extract, light spray malt",
    ),
    _sugar("malt extract, dry, wheat", 95.0, 4.0, 15.0, "wheat dry malt extract, wheat DME, dry wheat malt extract"),
    _sugar(
        "malt extract, dry, amber",
        95.0,
        4.0,
        40.0,
        "amber dry malt extract, amber DME, medium dry malt extract, medium spray malt",
    ),
    _sugar("malt extract, dry, dark", 95.0, 4.0, 90.0, "dark dry malt extract, dark DME, dark spray malt"),
    _sugar(
        "malt extract, liquid",
        80.0,
        20.0,
        15.0,
        "liquid malt extract, LME, malt syrup, malt extract syrup, light liquid malt extract, light LME, pale liquid malt extract,"
        " pale LME, liquid extract",
    ),
    _sugar(
        "malt extract, liquid, wheat",
        80.0,
        20.0,
        15.0,
        "wheat liquid malt extract, wheat LME, liquid wheat malt extract",
    ),
    _sugar("malt extract, liquid, amber", 80.0, 20.0, 40.0, "amber liquid malt extract, amber LME"),
    _sugar("malt extract, liquid, dark", 80.0, 20.0, 90.0, "dark liquid malt extract, dark LME"),
)

SUGARS: tuple[Ingredient, ...] = (*_CRYSTALS, *_SYRUPS, *_EXTRACTS)

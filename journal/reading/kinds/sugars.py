"""What brings its extract ready: sugars, syrups, extracts of malt.

Extract and moisture are parts of the weight as sold, common practice; what has a formula has its molar mass: dextrose is
glucose with a molecule of water, 180.16 parts in 198.17, lactose 342.30 in 360.31. The rest of a syrup is water; of brown
sugars and treacle a little is ash. Lactose and most of maltodextrin stay in the beer. Colours are round figures in EBC.
"""

from __future__ import annotations

from journal.reading.kinds.ingredient import Ingredient, Sort, rows_of

#: Extract and moisture of the weight, %; colour, EBC.
_CRYSTALS = """
sucrose; 100 0 0; table sugar, white sugar, granulated sugar, cane sugar, beet sugar, caster sugar, household sugar, sugar
dextrose; 91 9 0; corn sugar, brewing sugar, dextrose monohydrate, glucose monohydrate, grape sugar, priming sugar
glucose; 100 0 0; anhydrous glucose, anhydrous dextrose, glucose anhydrous, dextrose anhydrous
fructose; 100 0 0; fruit sugar
brown sugar; 97 2 40; soft brown sugar, light brown sugar, demerara sugar, demerara, turbinado, raw sugar
dark brown sugar; 96 3 100; muscovado sugar, muscovado, dark muscovado sugar
palm sugar; 94 4 60; jaggery, coconut sugar, panela, piloncillo, rapadura
candi sugar; 99 1 0; candy sugar, white candi sugar, clear candi sugar, rock candi sugar, rock sugar
amber candi sugar; 99 1 150; brown candi sugar, amber candy sugar
dark candi sugar; 99 1 500; dark candy sugar, black candi sugar
lactose; 95 5 0; milk sugar, lactose monohydrate
maltodextrin; 95 5 0; malto-dextrin, malto-dextrine, maltodextrine
maltose; 95 5 0; maltose monohydrate
"""
_SYRUPS = """
invert syrup; 80 20 2; invert sugar, invert sugar syrup, inverted sugar
golden syrup; 82 18 20; light treacle
treacle; 78 20 300; black treacle, dark treacle
molasses; 76 22 250; blackstrap molasses, light molasses, dark molasses
maple syrup; 67 33 70
agave syrup; 76 23 10; agave nectar, agave
candi syrup; 78 22 0; candy syrup, clear candi syrup
dark candi syrup; 78 22 350; dark candy syrup
glucose syrup; 80 20 0; corn syrup, liquid glucose, wheat syrup
maltose syrup; 80 20 0; high maltose syrup
rice syrup; 80 20 2; brown rice syrup
rice syrup solids; 95 5 2; dried rice syrup, rice extract, dry rice extract
date syrup; 72 26 200
sorghum syrup; 78 22 15; sorghum extract, sorghum extract liquid, liquid sorghum extract
honey; 80 18 5; clear honey, set honey, wildflower honey
"""
_EXTRACTS = """
malt extract, dry; 95 4 15; dry malt extract, DME, dried malt extract, spray malt, spraymalt, light dry malt extract, light DME,
    pale dry malt extract, pale DME, extra light dry malt extract, extra light DME, malt extract powder, dry extract, light spray
    malt
malt extract, dry, wheat; 95 4 15; wheat dry malt extract, wheat DME, dry wheat malt extract
malt extract, dry, amber; 95 4 40; amber dry malt extract, amber DME, medium dry malt extract, medium spray malt
malt extract, dry, dark; 95 4 90; dark dry malt extract, dark DME, dark spray malt
malt extract, liquid; 80 20 15; liquid malt extract, LME, malt syrup, malt extract syrup, light liquid malt extract, light LME,
    pale liquid malt extract, pale LME, liquid extract
malt extract, liquid, wheat; 80 20 15; wheat liquid malt extract, wheat LME, liquid wheat malt extract
malt extract, liquid, amber; 80 20 40; amber liquid malt extract, amber LME
malt extract, liquid, dark; 80 20 90; dark liquid malt extract, dark LME
"""

SUGARS: tuple[Ingredient, ...] = tuple(
    Ingredient(
        row.name,
        Sort.SUGAR,
        row.share(1),
        colour=row.numbers[2],
        extract_as_is=row.share(0),
        huskless=True,
        also=row.also,
    )
    for table in (_CRYSTALS, _SYRUPS, _EXTRACTS)
    for row in rows_of(table)
)

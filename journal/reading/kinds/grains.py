"""What is mashed or steeped: malts, grain that was flaked or roasted, raw grain, hulls.

All values are common practice: round figures such as maltsters' sheets and handbooks of the trade agree on within their own
spread, good to about 1.5 points of extract, or 3 for a `guess`. They stand in until the brewer has the lot's own sheet. Raw
grain is known by name with what it would give if all its starch were gelatinised; that takes a cereal mash for rice, maize,
sorghum and millet, and nothing here says whether there was one.
"""

from __future__ import annotations

from journal.reading.kinds.ingredient import Ingredient, Sort, rows_of

#: Extract of the dry weight, %; moisture, %; diastatic power, WK; colour, EBC.
_PALE = """
pale malt; 81 4 230 5.5; 2-row, 2-row malt, two-row, two-row malt, 2-row pale malt, pale 2-row malt, pale ale malt, ale malt, base
    malt, brewers malt
six-row malt; 78 4 470 4; 6-row, six-row, 6-row malt, 6-row pale malt, six-row pale malt
pilsner malt; 81 4.5 280 3.5; lager malt, pils malt, pilsen malt, pilsener malt, pilsner, pilsener, pils, pale lager malt
mild malt; 80 4 190 8; mild ale malt
vienna malt; 80 4.5 210 8; vienna
munich malt; 80 4.5 150 18; munich, light munich malt, light munich, pale munich malt
dark munich malt; 79 4.5 100 25; dark munich
wheat malt; 84 5 280 4 huskless; malted wheat, pale wheat malt, white wheat malt, red wheat malt, light wheat malt
dark wheat malt; 83 5 200 17 huskless
rye malt; 82 5 250 6 huskless; malted rye, pale rye malt
oat malt; 61 5 80 5; malted oats, malted oat, oats malt
spelt malt; 81 5.5 230 5; malted spelt, dinkel malt
smoked malt; 80 4.5 230 6; beech smoked malt, oak smoked malt, rauch malt, rauchmalz
peated malt; 80 4.5 230 5.5; peat smoked malt, peat malt
acid malt; 78 5.5 200 5; acidulated malt, sour malt, acidified malt
"""
_COLOURED = """
dextrin malt; 76 6 0 3.5; dextrine malt
amber malt; 76 3.5 20 65
biscuit malt; 77 3.5 20 50
aromatic malt; 78 4.5 60 50
melanoidin malt; 78 4.5 50 70; melanoid malt, melanoiden malt
brown malt; 73 3 0 150
light crystal malt; 76 6 0 60; light crystal, pale crystal malt, pale crystal, light caramel malt
caramel malt; 76 5 0 120; crystal malt, crystal, cara malt, medium crystal malt, medium crystal, medium caramel malt
dark crystal malt; 75 4.5 0 250; dark crystal, dark caramel malt, dark caramel
extra dark crystal malt; 74 4.5 0 400; extra dark crystal, extra dark caramel malt
crystal wheat malt; 76 6 0 120 huskless; caramel wheat malt, crystal wheat, caramel wheat
crystal rye malt; 75 6 0 150 huskless; caramel rye malt, crystal rye, caramel rye
pale chocolate malt; 72 3.5 0 550; light chocolate malt, pale chocolate
chocolate malt; 72 3 0 1000; roasted chocolate malt
chocolate wheat malt; 73 4 0 900 huskless; chocolate wheat, roasted wheat malt
chocolate rye malt; 70 4 0 600 huskless; chocolate rye, roasted rye malt
black malt; 71 3 0 1300; black patent malt, black patent, patent malt, roasted malt, roast malt
"""
#: Malted grain that holds little of a barley's enzymes and whose extract is rarely stated.
_OTHER_MALTS = """
sorghum malt; 75 10 80 5 huskless guess; malted sorghum
millet malt; 68 9 80 5 huskless guess; malted millet
buckwheat malt; 65 8 60 5 huskless guess; malted buckwheat
"""
#: Extract of the dry weight, %; moisture, %; colour, EBC. None of it has a husk but where that is said.
_UNMALTED = """
roasted barley; 71 3 1300 husk; roast barley, black barley, roasted unmalted barley
roasted wheat; 72 4 1000; roast wheat
flaked barley; 74 9 4; barley flakes, flaked pearl barley, rolled barley, pregelatinised barley
flaked oats; 72 9 3; oat flakes, rolled oats, porridge oats, quick oats, instant oats, oatmeal
flaked wheat; 79 9 4; wheat flakes, rolled wheat, pregelatinised wheat
flaked rye; 77 9 5; rye flakes, rolled rye, pregelatinised rye
flaked maize; 86 9 2; maize flakes, flaked corn, pregelatinised maize, pregelatinised corn
flaked rice; 88 9 2; rice flakes, pregelatinised rice, puffed rice, instant rice, minute rice
flaked spelt; 77 9 4; spelt flakes, pregelatinised spelt
torrified wheat; 78 8 4; torrefied wheat, puffed wheat
torrified barley; 73 8 4 husk; torrefied barley
torrified maize; 85 8 3; torrefied maize, torrified corn, torrefied corn
raw wheat; 78 12 4; unmalted wheat, wheat berries
raw barley; 74 12 4 husk; unmalted barley
raw rye; 76 12 5; unmalted rye
raw oats; 60 12 4 husk guess; unmalted oats, whole oats
rice; 88 12 2; raw rice, rice grits, broken rice, white rice
maize; 84 12 3; raw maize, corn, raw corn, maize grits, corn grits, maize meal, corn meal, polenta, grits
sorghum; 78 11 4 guess; raw sorghum, unmalted sorghum
millet; 72 11 3 guess; raw millet, unmalted millet
buckwheat; 68 12 4 guess; raw buckwheat, buckwheat groats
spelt; 76 12 4; raw spelt, unmalted spelt
quinoa; 65 11 4 guess; raw quinoa
hulls; 0 9 0 husk; rice hulls, oat hulls, rice husks, oat husks, husks, barley hulls, barley husks
"""


def _grown(table: str, sort: Sort) -> tuple[Ingredient, ...]:
    return tuple(
        Ingredient(
            row.name,
            sort,
            row.share(1),
            row.numbers[2] if sort is Sort.MALT else 0.0,
            row.numbers[-1],
            extract=row.share(0),
            huskless="huskless" in row.marks if sort is Sort.MALT else "husk" not in row.marks,
            also=row.also,
            source=row.source,
        )
        for row in rows_of(table)
    )


GRAINS: tuple[Ingredient, ...] = (
    *(malt for table in (_PALE, _COLOURED, _OTHER_MALTS) for malt in _grown(table, Sort.MALT)),
    *_grown(_UNMALTED, Sort.GRAIN),
)

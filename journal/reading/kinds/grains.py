"""What is mashed or steeped: malts, grain that was flaked or roasted, raw grain, hulls.

All values are common practice: round figures such as maltsters' sheets and handbooks of the trade agree on within their own
spread, good to about 1.5 points of extract, or 3 for a `guess`. They stand in until the brewer has the lot's own sheet. Raw
grain is known by name with what it would give if all its starch were gelatinised; that takes a cereal mash for rice, maize,
sorghum and millet, and nothing here says whether there was one.
"""

from __future__ import annotations

from journal.reading.kinds.ingredient import Ingredient, Sort, also


def _malt(
    name: str, extract: float, moisture: float, power: float, colour: float, names: str = "", *, huskless: bool = False
) -> Ingredient:
    return Ingredient(
        name, Sort.MALT, moisture / 100, power, colour, extract / 100, huskless=huskless, also=also(names)
    )


def _grain(
    name: str,
    extract: float,
    moisture: float,
    colour: float,
    names: str = "",
    *,
    husk: bool = False,
    guess: bool = False,
) -> Ingredient:
    source = "guess" if guess else "typical"
    return Ingredient(
        name,
        Sort.GRAIN,
        moisture / 100,
        colour=colour,
        extract=extract / 100,
        huskless=not husk,
        also=also(names),
        source=source,
    )


_PALE = (
    _malt(
        "pale malt",
        81.0,
        4.0,
        230.0,
        5.5,
        "2-row, 2-row malt, two-row, two-row malt, 2-row pale malt, pale 2-row malt, pale ale malt, ale malt, base malt, brewers malt",
    ),
    _malt("six-row malt", 78.0, 4.0, 470.0, 4.0, "6-row, six-row, 6-row malt, 6-row pale malt, six-row pale malt"),
    _malt(
        "pilsner malt",
        81.0,
        4.5,
        280.0,
        3.5,
        "lager malt, pils malt, pilsen malt, pilsener malt, pilsner, pilsener, pils, pale lager malt",
    ),
    _malt("mild malt", 80.0, 4.0, 190.0, 8.0, "mild ale malt"),
    _malt("vienna malt", 80.0, 4.5, 210.0, 8.0, "vienna"),
    _malt("munich malt", 80.0, 4.5, 150.0, 18.0, "munich, light munich malt, light munich, pale munich malt"),
    _malt("dark munich malt", 79.0, 4.5, 100.0, 25.0, "dark munich"),
    _malt(
        "wheat malt",
        84.0,
        5.0,
        280.0,
        4.0,
        "malted wheat, pale wheat malt, white wheat malt, red wheat malt, light wheat malt",
        huskless=True,
    ),
    _malt("dark wheat malt", 83.0, 5.0, 200.0, 17.0, huskless=True),
    _malt("rye malt", 82.0, 5.0, 250.0, 6.0, "malted rye, pale rye malt", huskless=True),
    _malt("oat malt", 61.0, 5.0, 80.0, 5.0, "malted oats, malted oat, oats malt"),
    _malt("spelt malt", 81.0, 5.5, 230.0, 5.0, "malted spelt, dinkel malt"),
    _malt("smoked malt", 80.0, 4.5, 230.0, 6.0, "beech smoked malt, oak smoked malt, rauch malt, rauchmalz"),
    _malt("peated malt", 80.0, 4.5, 230.0, 5.5, "peat smoked malt, peat malt"),
    _malt("acid malt", 78.0, 5.5, 200.0, 5.0, "acidulated malt, sour malt, acidified malt"),
)

_COLOURED = (
    _malt("dextrin malt", 76.0, 6.0, 0.0, 3.5, "dextrine malt"),
    _malt("amber malt", 76.0, 3.5, 20.0, 65.0),
    _malt("biscuit malt", 77.0, 3.5, 20.0, 50.0),
    _malt("aromatic malt", 78.0, 4.5, 60.0, 50.0),
    _malt("melanoidin malt", 78.0, 4.5, 50.0, 70.0, "melanoid malt, melanoiden malt"),
    _malt("brown malt", 73.0, 3.0, 0.0, 150.0),
    _malt(
        "light crystal malt", 76.0, 6.0, 0.0, 60.0, "light crystal, pale crystal malt, pale crystal, light caramel malt"
    ),
    _malt(
        "caramel malt",
        76.0,
        5.0,
        0.0,
        120.0,
        "crystal malt, crystal, cara malt, medium crystal malt, medium crystal, medium caramel malt",
    ),
    _malt("dark crystal malt", 75.0, 4.5, 0.0, 250.0, "dark crystal, dark caramel malt, dark caramel"),
    _malt("extra dark crystal malt", 74.0, 4.5, 0.0, 400.0, "extra dark crystal, extra dark caramel malt"),
    _malt(
        "crystal wheat malt", 76.0, 6.0, 0.0, 120.0, "caramel wheat malt, crystal wheat, caramel wheat", huskless=True
    ),
    _malt("crystal rye malt", 75.0, 6.0, 0.0, 150.0, "caramel rye malt, crystal rye, caramel rye", huskless=True),
    _malt("pale chocolate malt", 72.0, 3.5, 0.0, 550.0, "light chocolate malt, pale chocolate"),
    _malt("chocolate malt", 72.0, 3.0, 0.0, 1000.0, "roasted chocolate malt"),
    _malt("chocolate wheat malt", 73.0, 4.0, 0.0, 900.0, "chocolate wheat, roasted wheat malt", huskless=True),
    _malt("chocolate rye malt", 70.0, 4.0, 0.0, 600.0, "chocolate rye, roasted rye malt", huskless=True),
    _malt(
        "black malt",
        71.0,
        3.0,
        0.0,
        1300.0,
        "black patent malt, black patent, patent malt, roasted malt, roast malt",
    ),
)

_UNMALTED = (
    _grain("roasted barley", 71.0, 3.0, 1300.0, "roast barley, black barley, roasted unmalted barley", husk=True),
    _grain("roasted wheat", 72.0, 4.0, 1000.0, "roast wheat"),
    _grain("flaked barley", 74.0, 9.0, 4.0, "barley flakes, flaked pearl barley, rolled barley, pregelatinised barley"),
    _grain("flaked oats", 72.0, 9.0, 3.0, "oat flakes, rolled oats, porridge oats, quick oats, instant oats, oatmeal"),
    _grain("flaked wheat", 79.0, 9.0, 4.0, "wheat flakes, rolled wheat, pregelatinised wheat"),
    _grain("flaked rye", 77.0, 9.0, 5.0, "rye flakes, rolled rye, pregelatinised rye"),
    _grain("flaked maize", 86.0, 9.0, 2.0, "maize flakes, flaked corn, pregelatinised maize, pregelatinised corn"),
    _grain("flaked rice", 88.0, 9.0, 2.0, "rice flakes, pregelatinised rice, puffed rice, instant rice, minute rice"),
    _grain("flaked spelt", 77.0, 9.0, 4.0, "spelt flakes, pregelatinised spelt"),
    _grain("torrified wheat", 78.0, 8.0, 4.0, "torrefied wheat, puffed wheat"),
    _grain("torrified barley", 73.0, 8.0, 4.0, "torrefied barley", husk=True),
    _grain("torrified maize", 85.0, 8.0, 3.0, "torrefied maize, torrified corn, torrefied corn"),
    _grain("raw wheat", 78.0, 12.0, 4.0, "unmalted wheat, wheat berries"),
    _grain("raw barley", 74.0, 12.0, 4.0, "unmalted barley", husk=True),
    _grain("raw rye", 76.0, 12.0, 5.0, "unmalted rye"),
    _grain("raw oats", 60.0, 12.0, 4.0, "unmalted oats, whole oats", husk=True, guess=True),
    _grain("rice", 88.0, 12.0, 2.0, "raw rice, rice grits, broken rice, white rice"),
    _grain(
        "maize",
        84.0,
        12.0,
        3.0,
        "raw maize, corn, raw corn, maize grits, corn grits, maize meal, corn meal, polenta, grits",
    ),
    _grain("sorghum", 78.0, 11.0, 4.0, "raw sorghum, unmalted sorghum", guess=True),
    _grain("millet", 72.0, 11.0, 3.0, "raw millet, unmalted millet", guess=True),
    _grain("buckwheat", 68.0, 12.0, 4.0, "raw buckwheat, buckwheat groats", guess=True),
    _grain("spelt", 76.0, 12.0, 4.0, "raw spelt, unmalted spelt"),
    _grain("quinoa", 65.0, 11.0, 4.0, "raw quinoa", guess=True),
)

#: Malted grain that holds little of a barley's enzymes and whose extract is rarely stated.
_OTHER_MALTS = (
    Ingredient(
        "sorghum malt", Sort.MALT, 0.10, 80.0, 5.0, 0.75, huskless=True, also=also("malted sorghum"), source="guess"
    ),
    Ingredient(
        "millet malt", Sort.MALT, 0.09, 80.0, 5.0, 0.68, huskless=True, also=also("malted millet"), source="guess"
    ),
    Ingredient(
        "buckwheat malt", Sort.MALT, 0.08, 60.0, 5.0, 0.65, huskless=True, also=also("malted buckwheat"), source="guess"
    ),
)

_HULLS = Ingredient(
    "hulls",
    Sort.GRAIN,
    moisture=0.09,
    extract=0.0,
    also=also("rice hulls, oat hulls, rice husks, oat husks, husks, barley hulls, barley husks"),
)

GRAINS: tuple[Ingredient, ...] = (*_PALE, *_COLOURED, *_OTHER_MALTS, *_UNMALTED, _HULLS)

"""What goes into a beer and brings no extract: finings, nutrients, preservatives, enzymes, spices, herbs, wood and the like.

Some hold a little sugar (peel, cocoa, vanilla); in what a brewer adds of them it is below what any reading shows, and they
count as bringing none (common practice). So does their colour.
"""

from __future__ import annotations

from journal.reading.kinds.ingredient import Ingredient, Sort, split_names

_FINED_AND_FED = {
    "Irish moss": "carrageen, carrageenan, kettle finings, copper finings, kettle fining tablet, fining tablet, finings, seaweed",
    "isinglass": "isinglass finings, cask finings, auxiliary finings",
    "gelatine": "gelatin, gelatine finings, leaf gelatine",
    "bentonite": "",
    "silica gel": "kieselsol, silica sol, kieselguhr",
    "PVPP": "polyvinylpolypyrrolidone",
    "chitosan": "",
    "egg white": "albumen",
    "activated charcoal": "charcoal, activated carbon",
    "yeast nutrient": "yeast nutrients, nutrient, yeast food, yeast energiser, yeast energizer",
    "diammonium phosphate": "DAP, ammonium phosphate",
    "zinc sulfate": "zinc, zinc chloride",
    "yeast hulls": "yeast ghosts, dead yeast, boiled yeast",
    "souring culture": "lactic culture, lactobacillus, lactic acid bacteria, sour culture, yoghurt, kefir",
    "metabisulfite": "potassium metabisulfite, sodium metabisulfite, Campden, Campden tablet, Campden tablets, Campden powder, sulfite",
    "potassium sorbate": "sorbate",
    "ascorbic acid": "vitamin C",
    "antifoam": "anti-foam, defoamer, foam control, simethicone",
    "amylase": "alpha-amylase, alpha amylase, amylase enzyme, enzymes, enzyme, diastase",
    "glucoamylase": "amyloglucosidase, dry enzyme, beer enzyme",
    "beta-glucanase": "glucanase",
    "protease": "papain, prolyl endopeptidase, clarity enzyme, clarifying enzyme, gluten-reducing enzyme",
    "pectic enzyme": "pectinase, pectolase, pectic enzymes",
    "lactase": "",
    "water": "boiled water, brewing water",
    "oxygen": "",
}
_SPICES = {
    "coriander": "coriander seed, coriander seeds",
    "orange peel": "sweet orange peel, bitter orange peel, dried orange peel, orange zest, curacao peel",
    "lemon peel": "lemon zest, lime peel, lime zest, grapefruit peel, grapefruit zest, citrus peel, peel, zest",
    "ginger": "ginger root, fresh ginger, ground ginger, galangal",
    "cinnamon": "cinnamon stick, cinnamon sticks, cassia",
    "vanilla": "vanilla pod, vanilla pods, vanilla bean, vanilla beans, vanilla extract",
    "cardamom": "cardamom pods",
    "cloves": "clove",
    "nutmeg": "mace, allspice",
    "star anise": "anise, aniseed, fennel seed, liquorice, licorice, liquorice root",
    "grains of paradise": "paradise seed",
    "pepper": "black pepper, peppercorns, pink peppercorns, sichuan pepper, long pepper",
    "chilli": "chillies, chili, chilies, chile, chiles, jalapeños, jalapenos, habaneros, chipotle",
    "juniper": "juniper berries, juniper branches",
    "cumin": "caraway, caraway seed",
    "mixed spice": "pumpkin pie spice, pumpkin spice, spices, spice, spice mix, mulling spices",
    "tonka bean": "tonka beans",
    "sumac": "hibiscus, hibiscus flowers, rose hips, rosehips",
    "saffron": "turmeric",
}
_HERBS_AND_WOOD = {
    "herbs": "herb, gruit, gruit herbs",
    "heather": "heather tips, heather flowers",
    "bog myrtle": "sweet gale",
    "yarrow": "mugwort, wormwood, nettle, nettles, dandelion, dandelions",
    "rosemary": "thyme, sage, basil, mint, bay leaf, bay leaves, lemongrass, lemon grass, lemon verbena, lemon balm, lime leaves",
    "spruce tips": "spruce, pine tips, pine needles",
    "chamomile": "camomile, lavender, elderflower, elderflowers, jasmine, rose petals, flowers",
    "tea": "black tea, green tea, tea leaves",
    "wood": "oak, oak chips, oak cubes, oak staves, oak spiral, wood chips, cedar, barrel staves, French oak chips, American oak chips",
    "coffee": "coffee beans, ground coffee, cold brew coffee, cold brew, espresso, whole coffee beans",
    "cocoa": "cocoa nibs, cacao nibs, cacao, cocoa powder, cocoa husks",
    "coconut": "toasted coconut, coconut flakes, desiccated coconut",
    "nuts": "hazelnuts, almonds, pecans, walnuts",
    "oyster shells": "oysters",
    "flavouring": "flavoring, natural flavouring, essence",
}

OTHERS: tuple[Ingredient, ...] = tuple(
    Ingredient(name, Sort.OTHER, extract_as_is=0.0, huskless=True, also=split_names(names))
    for table in (_FINED_AND_FED, _SPICES, _HERBS_AND_WOOD)
    for name, names in table.items()
)

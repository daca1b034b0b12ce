"""Fruit and juices, with their sugar as extract and their water.

Parts of the edible weight, raw and unsweetened, rounded: common practice, as food tables have them. Of the sugars those of raspberries,
strawberries, blueberries, pears, sweet potato and lemon juice were held to FoodData Central of the US Department of Agriculture (SR
Legacy). Frozen fruit and plain purée are taken as the fruit they were made of. Ripeness shifts them by a point or two, which the ±
of a `typical` value covers. Their acids count in no extract, their colour in no EBC.
"""

from __future__ import annotations

from journal.reading.kinds.ingredient import Ingredient, Sort, also


def _fruit(name: str, sugar: float, water: float, names: str = "", *, guess: bool = False) -> Ingredient:
    source = "guess" if guess else "typical"
    return Ingredient(
        name, Sort.FRUIT, water / 100, extract_as_is=sugar / 100, huskless=True, also=also(names), source=source
    )


FRUIT: tuple[Ingredient, ...] = (
    _fruit("raspberries", 4.5, 86.0, "raspberry"),
    _fruit("blackberries", 5.0, 88.0, "blackberry, brambles, boysenberries, boysenberry, loganberries"),
    _fruit("strawberries", 5.0, 91.0, "strawberry"),
    _fruit("blueberries", 10.0, 84.0, "blueberry, bilberries, bilberry"),
    _fruit("cranberries", 4.0, 87.0, "cranberry, lingonberries, lingonberry"),
    _fruit("blackcurrants", 7.0, 82.0, "blackcurrant, black currants", guess=True),
    _fruit("redcurrants", 7.5, 84.0, "redcurrant, red currants, white currants"),
    _fruit("gooseberries", 6.0, 88.0, "gooseberry", guess=True),
    _fruit("elderberries", 7.0, 80.0, "elderberry", guess=True),
    _fruit("mulberries", 8.0, 88.0, "mulberry"),
    _fruit("cherries", 13.0, 82.0, "cherry, sweet cherries, black cherries"),
    _fruit("sour cherries", 8.5, 86.0, "sour cherry, tart cherries, tart cherry, morello cherries"),
    _fruit("apricots", 9.0, 86.0, "apricot"),
    _fruit("peaches", 8.5, 89.0, "peach"),
    _fruit("nectarines", 8.0, 88.0, "nectarine"),
    _fruit("plums", 10.0, 87.0, "plum, damsons, damson, sloes, greengages"),
    _fruit("apples", 10.5, 86.0, "apple"),
    _fruit("pears", 10.0, 84.0, "pear"),
    _fruit("quinces", 9.0, 84.0, "quince", guess=True),
    _fruit("grapes", 15.5, 81.0, "grape, wine grapes, grape must"),
    _fruit("mangoes", 13.5, 83.5, "mango, mangos"),
    _fruit("pineapple", 10.0, 86.0, "pineapples"),
    _fruit("passion fruit", 11.0, 73.0, "passionfruit, passion fruits, passionfruits"),
    _fruit("guava", 9.0, 81.0, "guavas"),
    _fruit("papaya", 8.0, 88.0, "papayas"),
    _fruit("kiwi fruit", 9.0, 83.0, "kiwi, kiwis, kiwifruit"),
    _fruit("bananas", 12.0, 75.0, "banana"),
    _fruit("pomegranate", 13.5, 78.0, "pomegranates, pomegranate seeds"),
    _fruit("watermelon", 6.0, 91.5, "watermelons"),
    _fruit("melon", 8.0, 90.0, "melons"),
    _fruit("figs", 16.5, 79.0, "fig, fresh figs"),
    _fruit("oranges", 9.5, 87.0, "orange, mandarins, tangerines, clementines, blood oranges"),
    _fruit("grapefruit", 7.0, 90.0, "grapefruits"),
    _fruit("lemons", 2.5, 89.0, "lemon, yuzu"),
    _fruit("limes", 1.5, 88.0, "lime fruit"),
    _fruit("rhubarb", 1.0, 94.0),
    _fruit("cucumber", 1.5, 95.0, "cucumbers"),
    _fruit("pumpkin", 3.0, 91.5, "pumpkins, squash"),
    _fruit("sweet potato", 4.0, 77.0, "sweet potatoes"),
    _fruit("raisins", 60.0, 15.0, "raisin, sultanas, currants, dried grapes"),
    _fruit("dates", 63.0, 21.0, "date, dried dates"),
    _fruit("prunes", 38.0, 31.0, "prune, dried plums"),
    _fruit("dried apricots", 53.0, 31.0),
    _fruit("dried figs", 48.0, 30.0),
    _fruit("apple juice", 9.5, 88.0, "sweet cider, cloudy apple juice"),
    _fruit("grape juice", 14.0, 84.5),
    _fruit("orange juice", 8.5, 88.0),
    _fruit("cherry juice", 12.0, 86.0, guess=True),
    _fruit("pineapple juice", 10.0, 86.0),
    _fruit("lemon juice", 2.5, 92.0),
    _fruit("lime juice", 1.5, 91.0),
)

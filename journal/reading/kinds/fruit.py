"""Fruit and juices, with their sugar as extract and their water.

Parts of the edible weight, raw and unsweetened, rounded: common practice, as food tables have them. Of the sugars those of raspberries,
strawberries, blueberries, pears, sweet potato and lemon juice were held to FoodData Central of the US Department of Agriculture (SR
Legacy). Frozen fruit and plain purée are taken as the fruit they were made of. Ripeness shifts them by a point or two, which the ±
of a `typical` value covers. Their acids count in no extract, their colour in no EBC.
"""

from __future__ import annotations

from journal.reading.kinds.ingredient import Ingredient, Sort, rows_of

#: Sugar and water of the weight, %.
_FRUIT = """
raspberries; 4.5 86; raspberry
blackberries; 5 88; blackberry, brambles, boysenberries, boysenberry, loganberries
strawberries; 5 91; strawberry
blueberries; 10 84; blueberry, bilberries, bilberry
cranberries; 4 87; cranberry, lingonberries, lingonberry
blackcurrants; 7 82 guess; blackcurrant, black currants
redcurrants; 7.5 84; redcurrant, red currants, white currants
gooseberries; 6 88 guess; gooseberry
elderberries; 7 80 guess; elderberry
mulberries; 8 88; mulberry
cherries; 13 82; cherry, sweet cherries, black cherries
sour cherries; 8.5 86; sour cherry, tart cherries, tart cherry, morello cherries
apricots; 9 86; apricot
peaches; 8.5 89; peach
nectarines; 8 88; nectarine
plums; 10 87; plum, damsons, damson, sloes, greengages
apples; 10.5 86; apple
pears; 10 84; pear
quinces; 9 84 guess; quince
grapes; 15.5 81; grape, wine grapes, grape must
mangoes; 13.5 83.5; mango, mangos
pineapple; 10 86; pineapples
passion fruit; 11 73; passionfruit, passion fruits, passionfruits
guava; 9 81; guavas
papaya; 8 88; papayas
kiwi fruit; 9 83; kiwi, kiwis, kiwifruit
bananas; 12 75; banana
pomegranate; 13.5 78; pomegranates, pomegranate seeds
watermelon; 6 91.5; watermelons
melon; 8 90; melons
figs; 16.5 79; fig, fresh figs
oranges; 9.5 87; orange, mandarins, tangerines, clementines, blood oranges
grapefruit; 7 90; grapefruits
lemons; 2.5 89; lemon, yuzu
limes; 1.5 88; lime fruit
rhubarb; 1 94
cucumber; 1.5 95; cucumbers
pumpkin; 3 91.5; pumpkins, squash
sweet potato; 4 77; sweet potatoes
raisins; 60 15; raisin, sultanas, currants, dried grapes
dates; 63 21; date, dried dates
prunes; 38 31; prune, dried plums
dried apricots; 53 31
dried figs; 48 30
apple juice; 9.5 88; sweet cider, cloudy apple juice
grape juice; 14 84.5
orange juice; 8.5 88
cherry juice; 12 86 guess
pineapple juice; 10 86
lemon juice; 2.5 92
lime juice; 1.5 91
"""

FRUIT: tuple[Ingredient, ...] = tuple(
    Ingredient(
        row.name,
        Sort.FRUIT,
        row.share(1),
        extract_as_is=row.share(0),
        huskless=True,
        also=row.also,
        source=row.source,
    )
    for row in rows_of(_FRUIT)
)

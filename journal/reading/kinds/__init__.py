"""What the trade calls malts, sugars, fruit, salts, acids and all else that goes into a beer, and their typical values.

In: a name as a brewer writes it. Out: the `Ingredient` that is meant, or the names that come nearest. No brands and no
varieties: a brewer describes those in malts.yaml. A table each: `grains`, `sugars`, `fruit`, `salts` (with the acids) and
`others`, which bring no extract. What salts and acids do to a water is chemistry and stands in `science`, under the same
names.
"""

from journal.reading.kinds.ingredient import Ingredient, Sort
from journal.reading.kinds.lookup import (
    ADDITIONS,
    GRAINS,
    KINDS,
    SUGARS,
    acid_strength,
    by_sort,
    ingredient_named,
    nearest_names,
)

__all__ = [
    "ADDITIONS",
    "GRAINS",
    "KINDS",
    "SUGARS",
    "Ingredient",
    "Sort",
    "acid_strength",
    "by_sort",
    "ingredient_named",
    "nearest_names",
]

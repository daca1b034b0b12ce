"""From a name as a brewer writes it to the ingredient that is meant."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import replace
from difflib import get_close_matches
from functools import lru_cache
from typing import NamedTuple

from journal.reading.kinds.fruit import FRUIT
from journal.reading.kinds.grains import GRAINS as _GRAINS
from journal.reading.kinds.ingredient import Ingredient, Sort
from journal.reading.kinds.others import OTHERS
from journal.reading.kinds.salts import ACIDS, SALTS
from journal.reading.kinds.sugars import SUGARS as _SUGARS

#: Everything known, by its own name.
KINDS: dict[str, Ingredient] = {each.name: each for each in (*_GRAINS, *_SUGARS, *FRUIT, *SALTS, *ACIDS, *OTHERS)}
#: Their names by what they are: what is mashed; what brings its extract ready; and all that may be added.
GRAINS = tuple(each.name for each in _GRAINS)
SUGARS = tuple(each.name for each in _SUGARS)
ADDITIONS = tuple(each.name for each in (*_SUGARS, *FRUIT, *SALTS, *ACIDS, *OTHERS))

#: What is said of fruit without changing what it brings.
_STATES = re.compile(
    r"\b(?:fresh|frozen|thawed|ripe|whole|chopped|crushed|pureed|puree|pulp|pitted|stoned|organic|aseptic)\b"
)
#: A crystal malt by the number of its colour: degrees Lovibond, as the trade names it.
_BY_COLOUR = re.compile(r"(?:crystal|caramel)(?: malt)? (\d{1,3})(?: ?l| ?degl)?(?: malt)?")
#: EBC from degrees Lovibond of malt: 2.65 L - 1.2, common practice.
_EBC = (2.65, -1.2)
#: Acids that are sold as crystals, all of it acid.
_CRYSTALS = frozenset({"citric acid", "citric acid monohydrate", "malic acid", "tartaric acid"})
_STRENGTH = re.compile(r"\s*(\d+(?:\.\d+)?)\s*%(?:\s*w/w)?\s*")


class AcidStrength(NamedTuple):
    """An acid's own name, and its strength as a fraction of the weight; None for a liquid of which none is stated."""

    acid: str
    share: float | None


def _plain(text: str) -> str:
    """A name without what brewers write in more than one way: capitals, accents, hyphens, brackets, `sulph`, a strength."""
    bare = text.casefold()
    if not bare.isascii():
        bare = "".join(c for c in unicodedata.normalize("NFKD", bare) if not unicodedata.combining(c))
    bare = _STRENGTH.sub(" ", bare).replace("'", "").replace("’", "").replace("sulph", "sulf").replace("°", "")
    bare = bare.replace("pregelatinized", "pregelatinised")
    return " ".join(re.sub(r"[^\w]+", " ", bare).split())


def _named() -> tuple[dict[str, Ingredient], dict[str, str]]:
    named: dict[str, Ingredient] = {}
    spelt: dict[str, str] = {}
    for each in KINDS.values():
        for name in (each.name, *each.also):
            plain = _plain(name)
            taken = named.setdefault(plain, each)
            if taken is not each:
                raise ValueError(f"{name} is called {taken.name} and {each.name}")
            spelt[plain] = name
    return named, spelt


#: What is named, and names as the tables spell them, by how they are compared.
_NAMED, _SPELT = _named()


@lru_cache(maxsize=4096)  # a brewer's journal names the same few things over and over
def ingredient_named(text: str) -> Ingredient | None:
    """What a name means, in any capitals and by any of its names; None where nobody knows.

    `crystal 60L` is a caramel malt of that colour; `lactic acid 80 %` is lactic acid; `frozen raspberries` are raspberries.
    """
    if text in KINDS:
        return KINDS[text]
    plain = _plain(text)
    found = _NAMED.get(plain)
    if found is not None:
        return found
    bare = " ".join(_STATES.sub(" ", plain).split())
    fruit = _NAMED.get(bare)
    if bare != plain and fruit is not None and fruit.sort is Sort.FRUIT:
        return fruit
    by_colour = _BY_COLOUR.fullmatch(plain)
    if by_colour and 0 < int(by_colour[1]) <= 200:  # the darkest that is sold has about 150
        scale, offset = _EBC
        number = int(by_colour[1])
        return replace(KINDS["caramel malt"], name=f"caramel malt {number}L", colour=scale * number + offset, also=())
    return None


def acid_strength(text: str) -> AcidStrength | None:
    """Which acid a text names and how strong it is; None for what is no acid, or stronger than there is."""
    found = ingredient_named(text)
    if found is None or found.sort is not Sort.ACID:
        return None
    stated = _STRENGTH.search(text)
    share = float(stated[1]) / 100 if stated else 1.0 if found.name in _CRYSTALS else None
    return None if share is not None and not 0.0 < share <= 1.0 else AcidStrength(found.name, share)


def nearest_names(text: str, *sorts: Sort, most: int = 3) -> list[str]:
    """The names that come nearest to one that nobody knows, the nearest first; of these sorts, or of any.

    A name that holds the very word, such as `rye malt` for `rye`, is as near as one that differs in a letter.
    """
    plain = _plain(text)
    if not plain:
        return []
    names = [name for name, each in _NAMED.items() if not sorts or each.sort in sorts]
    holding = [name for name in names if name == _plain(_NAMED[name].name) and f" {plain} " in f" {name} "]
    holding.sort(key=lambda name: len(name.split()))
    close = get_close_matches(plain, names, n=most, cutoff=0.7)
    found: dict[str, str] = {}
    for name in (*holding, *close):
        # of several names for one thing the nearest is enough
        found.setdefault(_NAMED[name].name, _SPELT[name])
    return list(found.values())[:most]


def by_sort(names: tuple[str, ...]) -> dict[str, list[str]]:
    """Names by what sort of thing they are, each with its other names in brackets: `dextrose (corn sugar, brewing sugar)`."""
    found: dict[str, list[str]] = {}
    for name in names:
        each = KINDS[name]
        others = f" ({', '.join(each.also)})" if each.also else ""
        found.setdefault(each.sort.value, []).append(f"{name}{others}")
    return found

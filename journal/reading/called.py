"""What the readings of an entry are called, in the order in which a brewer comes to them."""

from __future__ import annotations

import re
from collections.abc import Mapping
from types import MappingProxyType
from typing import NamedTuple


class ReadingName(NamedTuple):
    """A reading in a few words; of one that the balance may doubt, also with `{}` for what the brewer wrote."""

    words: str
    with_value: str = ""


#: By the path of the reading in the entry; one is in brewery.yaml.
READING_NAMES = {
    "grains": ReadingName("the grist", "the grist as written"),
    "crush": ReadingName("mill gap"),
    "mash.liquor": ReadingName("mash liquor", "the {} of mash liquor"),
    "mash.strike": ReadingName("strike temperature"),
    "mash.grain_temperature": ReadingName("temperature of the grist"),
    "mash.rests": ReadingName("rests of the mash"),
    "mash.ph": ReadingName("pH of the mash"),
    "mash.first_wort": ReadingName("first wort", "the first wort's {}"),
    "mash.mixing": ReadingName("mixing"),
    "mash.stuck": ReadingName("run-off stood still"),
    "mash.log": ReadingName("temperature log"),
    "lauter.method": ReadingName("method"),
    "lauter.liquor": ReadingName("sparge liquor", "the {} of sparge liquor"),
    "lauter.liquor_temperature": ReadingName("temperature of the sparge liquor"),
    "lauter.time": ReadingName("run-off time"),
    "lauter.last_runnings": ReadingName("last runnings"),
    "boil.before.volume": ReadingName("volume before the boil", "the kettle's {} before the boil"),
    "boil.before.gravity": ReadingName("gravity before the boil", "the gravity of {} before the boil"),
    "boil.top_up": ReadingName("water added in the kettle", "the kettle's top-up of {}"),
    "boil.after.volume": ReadingName("volume at knockout", "the kettle's {} at knockout"),
    "boil.after.gravity": ReadingName("gravity at knockout", "the gravity of {} at knockout"),
    "boil.time": ReadingName("boil time"),
    "boil.hops": ReadingName("hops"),
    "boil.additions": ReadingName("sugar in the kettle", "the sugar in the kettle"),
    "fermenter.volume": ReadingName("volume in the fermenter", "the {} in the fermenter"),
    "fermenter.gravity": ReadingName("gravity in the fermenter", "the fermenter's gravity of {}"),
    "fermenter.top_up": ReadingName("water added in the fermenter", "the fermenter's top-up of {}"),
    "fermenter.additions": ReadingName("sugar in the fermenter", "the sugar in the fermenter"),
    "fermenter.yeast": ReadingName("yeast"),
    "fermenter.pitched": ReadingName("pitched"),
    "readings_log": ReadingName("fermentation log"),
    "package.on": ReadingName("packaged"),
    "package.volume": ReadingName("volume packaged"),
    "package.gravity": ReadingName("gravity at packaging"),
    "target.gravity": ReadingName("target gravity"),
    "target.volume": ReadingName("target volume"),
    "instruments.refractometer.wort_factor": ReadingName("the refractometer’s wort factor"),
}

_PART = {
    "weight": "weight",
    "extract": "extract",
    "extract_as_is": "extract as is",
    "moisture": "moisture",
    "diastatic_power": "diastatic power",
    "colour": "colour",
    "alpha": "alpha acid",
    "boiled": "boiling time",
    "temperature": "temperature",
    "time": "time",
    "amount": "amount",
    "gravity": "gravity",
    "ph": "pH",
}
_ORDINAL = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth")
_NO_NAMES: Mapping[str, str] = MappingProxyType({})


def ordinal(index: int) -> str:
    """`first` for 0."""
    return _ORDINAL[index] if index < len(_ORDINAL) else f"{index + 1}th"


def part_words(name: str) -> str:
    """What a part of a line is called: weight, extract, alpha acid."""
    return _PART.get(name, name.replace("_", " "))


def reading_words(path: str, names: Mapping[str, str] = _NO_NAMES) -> str:
    """What a reading is called; `names` has the brewer's own names of grains, hops and sugars by their path."""
    if path in READING_NAMES:
        return READING_NAMES[path].words
    if path.endswith("mash_tun.dead_space"):
        return "dead space of the mash tun (brewery.yaml)"
    listed = re.fullmatch(r"([a-z.]+)\[(\d+)\](?:\.(\w+))?", path)
    if not listed:
        return path.replace("_", " ").replace(".", " ")
    group, index, part = listed[1], int(listed[2]), listed[3]
    whose = names.get(f"{group}[{index}]")
    if whose is None:
        whose = {
            "mash.rests": f"the {ordinal(index)} rest",
            "readings": f"the {ordinal(index)} look at the beer",
            "mash.readings": f"the {ordinal(index)} look at the mash",
        }.get(group, f"the {ordinal(index)} of {group}")
    if group == "readings" and index == 0 and part == "gravity":
        return "a gravity of the beer"
    return f"{part_words(part)} of {whose}" if part else whose

"""What the readings of an entry are called."""

from __future__ import annotations

import re
from collections.abc import Mapping
from types import MappingProxyType

from journal.reading.instrument_checks import check_words
from journal.reading.known_readings import BY_PATH

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
    "infusion_temperature": "of",
    "with_first_wort": "with the first wort",
}
_ORDINAL = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth")
_COUNT = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")
_OF_BATCH = re.compile(r"batch ([\w-]+): (.+)")
_NO_NAMES: Mapping[str, str] = MappingProxyType({})


def of_batch(batch_id: str, path: str) -> str:
    """The path of a reading of another batch, which `reading_words` knows how to call; one of a third batch's stays that."""
    return path if _OF_BATCH.fullmatch(path) else f"batch {batch_id}: {path}"


#: What a line of a list is, by the list's path.
_LINE_OF = {
    "grains": "malt of the grist",
    "mash.rests": "rest",
    "readings": "reading of the beer",
    "mash.readings": "reading of the mash",
    **{
        f"{group}.{name}s": f"{name} {where}"
        for group, where in (
            ("mash", "in the mash"),
            ("lauter", "of the run-off"),
            ("boil.before", "in the full kettle"),
            ("boil", "of the boil"),
            ("stand", "of the stand"),
            ("fermenter", "in the fermenter"),
            ("package", "in the package"),
        )
        for name in ("addition", "hop")
    },
}
#: Fields that say what a line is of.
_NAMING = frozenset({"malt", "addition", "hop"})


def ordinal(index: int) -> str:
    """`first` for 0."""
    return _ORDINAL[index] if index < len(_ORDINAL) else f"{index + 1}th"


def part_words(name: str) -> str:
    """What a part of a line is called: weight, extract, alpha acid."""
    return _PART.get(name, name.replace("_", " "))


def _brewery_words(path: str) -> str | None:
    """What something of brewery.yaml is called that a reading hangs on."""
    if path.endswith("mash_tun.dead_space"):
        return "dead space of the mash tun (brewery.yaml)"
    if path.endswith(".dip"):
        return f"a dip table of the {'kettle' if path.endswith('.kettle.dip') else 'fermenter'} (brewery.yaml)"
    return check_words(path)


def _part_of(part: str | None, whose: str) -> str:
    if part in _NAMING:
        return f"what {whose} is"
    return f"{part_words(part)} of {whose}" if part else whose


def missing_words(path: str, names: Mapping[str, str] = _NO_NAMES) -> str:
    """The same of a reading that is missing: of the beer's gravities it is the number that counts."""
    looked = re.fullmatch(r"readings\[(\d+)\]\.gravity", path)
    if looked and int(looked[1]) > 0:
        count = int(looked[1]) + 1
        return f"at least {_COUNT[count] if count < len(_COUNT) else count} gravity readings"
    return reading_words(path, names)


def reading_words(path: str, names: Mapping[str, str] = _NO_NAMES) -> str:
    """What a reading is called; `names` has the brewer's own names of grains, hops and sugars by their path."""
    if path in BY_PATH:
        return BY_PATH[path].words
    if other := _OF_BATCH.fullmatch(path):
        return f"{reading_words(other[2])} of batch {other[1]}"
    of_brewery = _brewery_words(path)
    if of_brewery:
        return of_brewery
    listed = re.fullmatch(r"([a-z.]+)\[(\d+)\](?:\.(\w+))?", path)
    if not listed:
        return path.replace("_", " ").replace(".", " ")
    group, index, part = listed[1], int(listed[2]), listed[3]
    whose = names.get(f"{group}[{index}]")
    if whose is None:
        whose = f"the {ordinal(index)} {_LINE_OF.get(group, f'of {group}')}"
    if group == "readings" and index == 0 and part == "gravity":
        return "a gravity of the beer"
    return _part_of(part, whose)

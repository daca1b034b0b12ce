"""The text of an entry with nothing in it yet: what is usually written down, each field with its meaning, to be filled in or taken away."""

from __future__ import annotations

from collections.abc import Iterator

from journal.publishing.begin.yaml_lines import YamlLine, quote
from journal.reading.entry import Batch, Boil, Fermenter, Lauter, Mash, Package, Target, VesselReadings
from journal.reading.table import fields_of
from journal.reading.values import Choice


def empty_fields(record: type, indent: str, *names: str) -> Iterator[YamlLine]:
    """Fields without a value yet, each with its meaning."""
    return (YamlLine(f"{indent}{name}:", _meaning(record, name)) for name in names)


def _meaning(record: type, name: str) -> str:
    """What a field holds, with its choices; nothing where that would only say its name again."""
    facts = fields_of(record)[name]
    if isinstance(facts.value, Choice):
        return f"{facts.doc}: {', '.join(facts.value.choices)}"
    return "" if facts.doc.removeprefix("the ") == name else facts.doc


def _example(*lines: str, indent: str = "") -> Iterator[YamlLine]:
    """Lines of a list, to be uncommented."""
    return (YamlLine(f"{indent}# {line}") for line in lines)


def bare_entry(number: str, title: str, day: str, brewhouse: str, malt: str) -> Iterator[YamlLine]:
    """Every line of it; `brewhouse` is empty where the journal has one or none, `malt` a name for the example of a grist."""
    of_batch = fields_of(Batch)
    yield YamlLine("---")
    yield YamlLine(f"batch: {number}", of_batch["batch"].doc)
    yield YamlLine(f"title: {quote(title)}", of_batch["title"].doc)
    yield YamlLine(f"brewed: {day}", "the day it was brewed")
    yield from empty_fields(Batch, "", "style")
    if brewhouse:
        yield YamlLine(f"brewhouse: {quote(brewhouse)}", of_batch["brewhouse"].doc)
    yield from _group("target", Target, "gravity", "volume")
    yield YamlLine("grains:", "the grist, a malt a line; values written here win over malts.yaml")
    yield from _example(f"- malt: {quote(malt)}", "  weight: 4.20 kg", indent="  ")
    yield from empty_fields(Batch, "", "crush")
    yield from _mash()
    yield from _group("lauter", Lauter, "method", "liquor", "liquor_temperature", "time", "last_runnings")
    yield from _boil()
    yield from _group("fermenter", Fermenter, "volume", "gravity", "top_up", "yeast", "pitched")
    yield YamlLine("readings:", of_batch["readings"].doc)
    yield from _example("- {at: 2026-01-31 20:00, gravity: 1.022, temperature: 19.5 degC}", indent="  ")
    yield from _group("package", Package, "on", "volume", "gravity", "container", "carbonation", "warmest")
    yield from _example("priming: {addition: dextrose, weight: 120 g}", indent="  ")
    yield YamlLine("practice:", of_batch["practice"].doc)
    yield from _example("run_off: slow", indent="  ")
    yield YamlLine("---")
    yield YamlLine("")


def _group(name: str, record: type, *fields: str) -> Iterator[YamlLine]:
    yield YamlLine(f"{name}:", _meaning(Batch, name))
    yield from empty_fields(record, "  ", *fields)


def _mash() -> Iterator[YamlLine]:
    yield from _group("mash", Mash, "liquor", "strike", "grain_temperature")
    yield from empty_fields(Mash, "  ", "rests")
    yield from _example("- 66.5 degC for 60 min", indent="    ")
    yield from empty_fields(Mash, "  ", "ph", "first_wort", "mixing", "stuck")
    yield from empty_fields(Mash, "  ", "additions")
    yield from _example("- {addition: gypsum, amount: 4 g}", indent="    ")


def _boil() -> Iterator[YamlLine]:
    yield YamlLine("boil:")
    for name in ("before", "after"):
        yield from empty_fields(Boil, "  ", name)
        yield from empty_fields(VesselReadings, "    ", "volume", "gravity")
    yield from empty_fields(Boil, "  ", "top_up", "time", "hops")
    yield from _example("- {hop: East Field Goldings, weight: 30 g, alpha: 5.5 %, boiled: 60 min}", indent="    ")
    yield from empty_fields(Boil, "  ", "additions")
    yield from _example("- {addition: dextrose, weight: 100 g}", indent="    ")

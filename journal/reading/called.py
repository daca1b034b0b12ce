"""What the readings of an entry are called, in the order in which a brewer comes to them."""

from __future__ import annotations

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

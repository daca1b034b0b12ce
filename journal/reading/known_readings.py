"""The one table of readings: what each is called, how it is read, which figure it becomes and where it bears.

Whatever lists readings (formulas, figures, the balance, the working sheet, words on the pages) is a view of it. A reading
that is added takes an entry here, and its field in the module of its group (`hot_side.py`, `cold_side.py`, …).
"""

from __future__ import annotations

from functools import cache

from journal.frozen import dataclass
from journal.reading.entry import WITHOUT_SPARGE

VOLUME, GRAVITY, PH, WEIGHT, TIME, TEMPERATURE, LENGTH = "L", "SG", "pH", "kg", "min", "°C", "mm"
#: What a volume is read by, whose checks in brewery.yaml correct it.
KETTLE, FERMENTER, LIQUOR_MEASURE = "kettle", "fermenter", "liquor measure"


@dataclass(frozen=True, kw_only=True)
class KnownReading:
    """One reading, in the order in which a brewer comes to them.

    `path` is where it stands in the entry (of one: in brewery.yaml); `words` what it is called, `with_value` the same
    with `{}` for what the brewer wrote, of one that the balance may doubt. `unit` is that of the figure: it says how the
    reading is observed. `parameter` is the name that a figure takes it by, `in_formula` its words there. `figure` is the
    figure it becomes, and `means` the meaning of one that is nothing but this reading brought to 20 °C. What is not
    stated counts as `unstated`, where the field `unstated_with` names has one of those values; None: it is wanting.

    A volume is read by the marks of a `vessel`; without one nothing corrects it. How uncertain a reading is that doesn't say so
    itself goes by its unit (`figures/instruments.py`).

    Of one that bears on the balance, it shows what stands at `station`, or the unknown of the name `unknown`; `asked` is what
    the working sheet asks for at its station.
    """

    path: str
    words: str
    with_value: str = ""
    unit: str = ""
    parameter: str = ""
    in_formula: str = ""
    figure: str = ""
    means: str = ""
    group: str = "Readings at 20 °C"
    unstated: float | None = None
    unstated_with: tuple[str, tuple[str, ...]] = ("", ())
    station: str = ""
    unknown: str = ""
    vessel: str = ""
    asked: str = ""


READINGS = (
    KnownReading(
        path="grains",
        words="the grist",
        with_value="the grist as written",
        unit=WEIGHT,
        figure="potential_extract",
        unknown="potential_extract",
    ),
    KnownReading(path="crush", words="mill gap", unit=LENGTH, parameter="mill_gap", in_formula="the mill's gap"),
    KnownReading(
        path="mash.liquor",
        words="mash liquor",
        with_value="the {} of mash liquor",
        unit=VOLUME,
        parameter="mash_liquor_reading",
        in_formula="mash liquor as read",
        figure="mash_liquor",
        means="All liquor that is with the grain when the first wort is read.",
        group="Grist and liquor",
        unknown="mash_liquor",
        vessel=LIQUOR_MEASURE,
    ),
    KnownReading(path="mash.strike", words="strike temperature"),
    KnownReading(path="mash.grain_temperature", words="temperature of the grist"),
    KnownReading(path="mash.rests", words="rests of the mash"),
    KnownReading(
        path="mash.ph",
        words="pH of the mash",
        unit=PH,
        parameter="mash_ph_reading",
        in_formula="pH as read",
        figure="mash_ph",
    ),
    KnownReading(
        path="mash.first_wort",
        words="first wort",
        with_value="the first wort's {}",
        unit=GRAVITY,
        parameter="mash_first_wort",
        in_formula="the first wort",
        figure="first_wort_gravity",
        means="Gravity of the first wort, before any sparge.",
        station="first_wort",
        asked="First wort",
    ),
    KnownReading(path="mash.iodine", words="iodine test"),
    KnownReading(path="mash.mixing", words="mixing"),
    KnownReading(
        path="mash.additions",
        words="what was added in the mash",
        with_value="what was added in the mash",
        unit=WEIGHT,
        figure="mash_added_extract",
        unstated=0.0,
        unknown="mash_sugar",
    ),
    KnownReading(path="mash.stuck", words="run-off stood still"),
    KnownReading(path="mash.log", words="temperature log"),
    KnownReading(path="souring.began", words="souring began"),
    KnownReading(path="souring.ended", words="souring ended"),
    KnownReading(path="souring.temperature", words="temperature of the souring"),
    KnownReading(path="souring.culture", words="what soured it"),
    KnownReading(path="lauter.method", words="method"),
    KnownReading(
        path="lauter.liquor",
        words="sparge liquor",
        with_value="the {} of sparge liquor",
        unit=VOLUME,
        parameter="lauter_liquor",
        in_formula="sparge liquor as read",
        figure="sparge_liquor",
        means="Liquor that rinsed the grain; none where the method has none.",
        group="Grist and liquor",
        unstated=0.0,
        unstated_with=("lauter.method", WITHOUT_SPARGE),
        unknown="sparge_liquor",
        vessel=LIQUOR_MEASURE,
    ),
    KnownReading(path="lauter.liquor_temperature", words="temperature of the sparge liquor"),
    KnownReading(path="lauter.time", words="run-off time"),
    KnownReading(
        path="lauter.last_runnings",
        words="last runnings",
        unit=GRAVITY,
        parameter="lauter_last_runnings",
        in_formula="the last runnings",
        figure="last_runnings_gravity",
        means="Gravity of the last runnings.",
    ),
    KnownReading(path="lauter.ph", words="pH of the last runnings"),
    KnownReading(path="boil.on", words="boiled on"),
    KnownReading(
        path="boil.before.volume",
        words="volume before the boil",
        with_value="the kettle's {} before the boil",
        unit=VOLUME,
        parameter="boil_before_volume",
        in_formula="volume before the boil as read",
        figure="kettle_volume",
        means="Volume of the full kettle, before the boil.",
        station="kettle",
        vessel=KETTLE,
        asked="Volume by the marks",
    ),
    KnownReading(
        path="boil.before.gravity",
        words="gravity before the boil",
        with_value="the gravity of {} before the boil",
        unit=GRAVITY,
        parameter="boil_before_gravity",
        in_formula="gravity before the boil as read",
        figure="kettle_gravity",
        means="Gravity of the full kettle, before the boil.",
        station="kettle",
        asked="Gravity",
    ),
    KnownReading(
        path="boil.before.additions",
        words="what the full kettle held beside the grist's wort",
        with_value="what the full kettle held beside the grist's wort",
        unit=WEIGHT,
        figure="kettle_early_extract",
        unstated=0.0,
        unknown="early_sugar",
    ),
    KnownReading(
        path="boil.top_up",
        words="water added in the kettle",
        with_value="the kettle's top-up of {}",
        unit=VOLUME,
        parameter="boil_top_up",
        in_formula="the kettle's top-up as read",
        figure="kettle_top_up",
        means="Water that went into the kettle after it was read full.",
        unstated=0.0,
        unknown="top_up",
        vessel=LIQUOR_MEASURE,
    ),
    KnownReading(
        path="boil.after.volume",
        words="volume at knockout",
        with_value="the kettle's {} at knockout",
        unit=VOLUME,
        parameter="boil_after_volume",
        in_formula="volume at knockout as read",
        figure="knockout_volume",
        means="Volume at knockout, everything still in the kettle.",
        station="knockout",
        vessel=KETTLE,
        asked="Volume by the marks",
    ),
    KnownReading(
        path="boil.after.gravity",
        words="gravity at knockout",
        with_value="the gravity of {} at knockout",
        unit=GRAVITY,
        parameter="boil_after_gravity",
        in_formula="gravity at knockout as read",
        figure="knockout_gravity",
        means="Gravity at knockout.",
        station="knockout",
        asked="Gravity",
    ),
    KnownReading(path="boil.time", words="boil time", unit=TIME, parameter="boil_time", in_formula="boil time"),
    KnownReading(path="boil.hops", words="hops"),
    KnownReading(
        path="boil.additions",
        words="sugar in the kettle",
        with_value="the sugar in the kettle",
        unit=WEIGHT,
        figure="kettle_added_extract",
        unstated=0.0,
        unknown="kettle_sugar",
    ),
    KnownReading(path="stand.temperature", words="temperature of the stand"),
    KnownReading(path="stand.time", words="time of the stand"),
    KnownReading(path="cooling.method", words="way of cooling"),
    KnownReading(path="cooling.time", words="time of cooling"),
    KnownReading(path="cooling.to", words="cooled to"),
    KnownReading(path="fermenter.vessel", words="fermenter"),
    KnownReading(
        path="fermenter.volume",
        words="volume in the fermenter",
        with_value="the {} in the fermenter",
        unit=VOLUME,
        parameter="fermenter_volume_reading",
        in_formula="volume in the fermenter as read",
        figure="fermenter_volume",
        means="Volume in the fermenter.",
        station="fermenter",
        vessel=FERMENTER,
        asked="Volume",
    ),
    KnownReading(
        path="fermenter.gravity",
        words="gravity in the fermenter",
        with_value="the fermenter's gravity of {}",
        unit=GRAVITY,
        parameter="fermenter_gravity",
        in_formula="gravity in the fermenter as read",
        figure="original_gravity",
        means="Gravity of the wort pitched.",
        station="fermenter",
        asked="Gravity before yeast",
    ),
    KnownReading(
        path="fermenter.top_up",
        words="water added in the fermenter",
        with_value="the fermenter's top-up of {}",
        unit=VOLUME,
        parameter="fermenter_top_up_reading",
        in_formula="the fermenter's top-up as read",
        figure="fermenter_top_up",
        means="Water that was added after the boil.",
        unstated=0.0,
        unknown="fermenter_top_up",
        vessel=LIQUOR_MEASURE,
    ),
    KnownReading(
        path="fermenter.additions",
        words="sugar in the fermenter",
        with_value="the sugar in the fermenter",
        unit=WEIGHT,
        figure="fermenter_added_extract",
        unstated=0.0,
        unknown="fermenter_sugar",
    ),
    KnownReading(path="fermenter.yeast", words="yeast"),
    KnownReading(path="fermenter.yeast.strain", words="yeast"),
    KnownReading(path="fermenter.yeast.form", words="form of the yeast"),
    KnownReading(path="fermenter.yeast.amount", words="amount of yeast"),
    KnownReading(path="fermenter.yeast.generation", words="generation of the yeast"),
    KnownReading(path="fermenter.yeast.of_batch", words="yeast from batch"),
    KnownReading(path="fermenter.yeast.starter.volume", words="volume of the starter"),
    KnownReading(path="fermenter.yeast.starter.gravity", words="gravity of the starter"),
    KnownReading(path="fermenter.yeast.cells", words="yeast cells pitched"),
    KnownReading(path="fermenter.oxygen", words="oxygen"),
    KnownReading(path="fermenter.pitched", words="pitched"),
    KnownReading(path="readings_log", words="fermentation log"),
    KnownReading(path="package.on", words="packaged"),
    KnownReading(
        path="package.volume",
        words="volume packaged",
        unit=VOLUME,
        parameter="package_volume_reading",
        in_formula="volume packaged as read",
        figure="package_volume",
        means="Volume packaged.",
        group="Package",
    ),
    KnownReading(path="package.gravity", words="gravity at packaging"),
    KnownReading(
        path="package.warmest",
        words="the warmest since fermentation",
        unit=TEMPERATURE,
        parameter="warmest_temperature",
        in_formula="the warmest since fermentation",
    ),
    KnownReading(path="ice_removed", words="ice removed"),
    KnownReading(path="package.pressure", words="pressure over the beer"),
    KnownReading(path="package.carbon_dioxide", words="carbon dioxide in the gas"),
    KnownReading(path="package.rated", words="pressure the container is made for"),
    KnownReading(path="package.closed", words="fermenter closed"),
    KnownReading(path="package.spund", words="gravity when the fermenter was closed"),
    KnownReading(
        path="package.top_up",
        words="water added at packaging",
        unit=VOLUME,
        parameter="package_top_up_reading",
        in_formula="the water added at packaging as read",
        figure="package_top_up",
        means="Water that was added at packaging.",
        group="Package",
        unstated=0.0,
        vessel=LIQUOR_MEASURE,
    ),
    KnownReading(path="package.carbonation", words="carbonation wanted"),
    KnownReading(path="package.container", words="container"),
    KnownReading(path="package.priming.addition", words="priming sugar"),
    KnownReading(path="package.priming.weight", words="weight of the priming sugar"),
    KnownReading(path="target.gravity", words="target gravity"),
    KnownReading(path="target.volume", words="target volume"),
    KnownReading(path="instruments.refractometer.wort_factor", words="the refractometer’s wort factor"),
)
BY_PATH = {reading.path: reading for reading in READINGS}
#: Those that the balance has an equation for.
IN_BALANCE = tuple(reading for reading in READINGS if reading.station or reading.unknown)
#: What joined on the way: counts as none where nothing is stated.
JOINED = tuple(
    reading for reading in IN_BALANCE if reading.unknown and reading.unstated == 0.0 and not reading.unstated_with[0]
)
#: What is measured anew with every batch; what joins is chosen.
MEASURED = tuple(
    reading for reading in READINGS if reading.figure and (reading.unstated is None or reading.unstated_with[0])
)
#: What is read in a vessel on the day, from the first wort to the fermenter.
AT_STATIONS = tuple(reading for reading in READINGS if reading.station)


@cache
def read_at(station: str, unit: str) -> KnownReading:
    """What is read at a station in this unit; raises StopIteration where nothing is."""
    return next(reading for reading in AT_STATIONS if (reading.station, reading.unit) == (station, unit))

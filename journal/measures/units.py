"""The units a brewer may write, and the one pint registry that converts them.

The registry starts empty and holds only what the format knows, so that no text can be taken for a unit of another trade
(pint's own registry reads `150 F` as farad and `barrel` as 31.5 gallons). A brewer's text is never handed to pint: the
grammar finds number and unit, and pint gets the unit's registered name.

Definitions: pound 0.45359237 kg and imperial gallon 4.54609 L (UK Weights and Measures Act 1985, Schedule 1); US gallon
231 cubic inches (27 CFR 30.11), its parts down to the teaspoon NIST SP 811 (2008), B.8; US beer barrel 31 US gallons (26 USC
5051, 27 CFR 25.11); inch 25.4 mm; pound-force to the square inch 6.89475729 kPa (NIST SP 811 (2008), B.8).
"""

from __future__ import annotations

from dataclasses import field, replace
from functools import cache, cached_property
from typing import TYPE_CHECKING, Any

from journal.frozen import dataclass

if TYPE_CHECKING:
    from pint import UnitRegistry

_DEFINITIONS = """
kilogram = [mass]
gram = 1e-3 * kilogram
milligram = 1e-6 * kilogram
pound = 0.45359237 * kilogram
ounce = pound / 16
litre = [volume]
millilitre = 1e-3 * litre
hectolitre = 100 * litre
cubic_inch = 0.016387064 * litre
us_gallon = 231 * cubic_inch
us_quart = us_gallon / 4
us_pint = us_gallon / 8
us_cup = us_gallon / 16
us_fluid_ounce = us_gallon / 128
us_tablespoon = us_fluid_ounce / 2
us_teaspoon = us_fluid_ounce / 6
us_beer_barrel = 31 * us_gallon
imperial_gallon = 4.54609 * litre
imperial_quart = imperial_gallon / 4
imperial_pint = imperial_gallon / 8
imperial_fluid_ounce = imperial_gallon / 160
millimetre = [length]
centimetre = 10 * millimetre
metre = 1000 * millimetre
foot = 304.8 * millimetre
inch = 25.4 * millimetre
minute = [time]
hour = 60 * minute
day = 24 * hour
kelvin = [temperature]; offset: 0
celsius = kelvin; offset: 273.15
fahrenheit = 5 / 9 * kelvin; offset: 255.3722222222222222
fraction = []
percent = 0.01 * fraction
windisch_kolbach = [diastatic_power]
lintner = 3.5 * windisch_kolbach; offset: -16
ebc = [malt_colour]
lovibond = 2.65 * ebc; offset: -1.2
srm = 1.97 * ebc
carbon_dioxide_volume = 1.977 * gram / litre
german_degree = 17.848 * milligram / litre
bar = [pressure]
kilopascal = 0.01 * bar
psi = 0.0689475729 * bar
piece = [count]
packet = piece
tablet = piece
pod = piece
billion_cells = [cells]
kelvin_step = [temperature_step]
fahrenheit_step = 5 / 9 * kelvin_step
"""
# °WK = 3.5 °L - 16: Oxford Companion to Beer (2011), "diastatic power". Malt's EBC = 2.65 °L - 1.2,
# beer's EBC = 1.97 SRM: common practice.
# A volume is a litre of the gas at 0 degC and 1 atm in a litre of beer: 44.01 g/mol in 22.263 L/mol (R. F. Weiss, Marine
# Chemistry 2 (1974) 203). A German degree is 10 mg/L of CaO, here as CaCO3. A step is a difference of two temperatures.


#: Quotients that measures are kept in or written in.
_QUOTIENTS = (
    "gram / litre",
    "milligram / litre",
    "litre / hour",
    "us_gallon / hour",
    "litre / kilogram",
    "us_quart / pound",
    "us_gallon / pound",
)


@cache
def _registry() -> UnitRegistry[Any]:
    # pint costs some tenths of a second to import, and `--help` needs none of it.
    from pint import UnitRegistry  # noqa: PLC0415

    registry: UnitRegistry[Any] = UnitRegistry(None, autoconvert_offset_to_baseunit=True)
    for line in _DEFINITIONS.strip().splitlines():
        registry.define(line)
    return registry


def _by_pint(unit: str, to: str) -> tuple[float, float]:
    quantity = _registry().Quantity
    at_zero = float(quantity(0.0, unit).to(to).magnitude)
    at_hundred = float(quantity(100.0, unit).to(to).magnitude)
    return (at_hundred - at_zero) / 100.0, at_zero


Conversions = dict[tuple[str, str], tuple[float, float]]

#: What pint was asked once, by the two units; `recall_conversions` fills it with what an earlier command kept.
_CONVERSIONS: Conversions = {}


@cache
def all_conversions() -> Conversions:
    """How every unit becomes every other of its dimension, `(scale, offset)` by `(unit, to)`."""
    registry = _registry()
    units = [*(line.split("=")[0].strip() for line in _DEFINITIONS.strip().splitlines()), *_QUOTIENTS]
    of_dimension: dict[object, list[str]] = {}
    for unit in units:
        of_dimension.setdefault(registry.parse_units(unit).dimensionality, []).append(unit)
    return {
        (unit, to): _by_pint(unit, to)
        for alike in of_dimension.values()
        for unit in alike
        for to in alike
        if unit != to
    }


def recall_conversions(kept: Conversions) -> None:
    """Take what `all_conversions` gave once: importing pint costs more than most commands do."""
    _CONVERSIONS.update(kept)


def affine(unit: str, to: str) -> tuple[float, float]:
    """`(scale, offset)` such that a number of `unit` is `scale * number + offset` of `to`; registered names only."""
    if unit == to:
        return 1.0, 0.0
    if (unit, to) not in _CONVERSIONS:
        _CONVERSIONS[unit, to] = _by_pint(unit, to)
    return _CONVERSIONS[unit, to]


def convert(number: float, unit: str, to: str) -> float:
    """A number of `unit` as a number of `to`; both are registered names of one kind."""
    scale, offset = affine(unit, to)
    return scale * number + offset


@dataclass(frozen=True)
class MeasureKind:
    """A kind of quantity: its name, the unit numbers are kept in, and how each unit may be written.

    `written` maps a spelling to the registered unit, first spelling of a unit first. `low` and `high` are the least and
    greatest number that can be meant, in the kept unit; without `zero` it must be above 0, whatever `low` says. `at`
    allows a sample's temperature, `compound` names the units that may follow one another (`9 lb 8 oz`), `difference`
    makes offsets vanish (an uncertainty of 1 degF); `negative` allows what is written below 0.
    """

    name: str
    unit: str
    written: dict[str, str] = field(hash=False)
    example: str
    zero: bool = False
    low: float = 0.0
    high: float = float("inf")
    at: bool = False
    compound: tuple[str, ...] = ()
    difference: bool = False
    negative: bool = False

    @cached_property
    def longest_first(self) -> tuple[str, ...]:
        """The spellings, so that none is taken for one that it begins with."""
        return tuple(sorted(self.written, key=len, reverse=True))

    def such_as(self, example: str) -> MeasureKind:
        """The same kind with another example of it, where the usual one would be odd."""
        return replace(self, example=example)

    def to_kept(self, number: float, unit: str) -> float:
        """A number of a registered unit in the unit this kind keeps."""
        scale, offset = affine(unit, self.unit)
        return scale * number if self.difference else scale * number + offset

    @property
    def called(self) -> str:
        """The kind with its article: `a volume`, `an alkalinity`."""
        return f"{'an' if self.name[0] in 'aeiou' else 'a'} {self.name}"

    @property
    def words(self) -> str:
        """The kind with an example of it: `a volume such as 14.0 L`."""
        return f"{self.called} such as {self.example}"

    def spelling(self, unit: str) -> str:
        """The usual spelling of a registered unit."""
        return next(text for text, name in self.written.items() if name == unit)


def _spelt(**units: str) -> dict[str, str]:
    """Units by how they may be written, from the spellings of each."""
    return {spelling: unit for unit, spellings in units.items() for spelling in spellings.split(", ")}


_WEIGHT = _spelt(kilogram="kg", gram="g", milligram="mg", pound="lb, lbs, pound, pounds", ounce="oz, ounce, ounces")
_VOLUME = _spelt(
    litre="L, l, litre, litres, liter, liters",
    millilitre="mL, ml",
    hectolitre="hL, hl",
    us_gallon="gal, gals, gallon, gallons, US gal",
    us_quart="qt, quart, quarts",
    us_pint="pt, pint, pints, US pt",
    us_cup="cup, cups",
    us_fluid_ounce="fl oz, floz, fl. oz, fluid ounce, fluid ounces, US fl oz",
    us_tablespoon="tbsp, Tbsp, tablespoon, tablespoons",
    us_teaspoon="tsp, teaspoon, teaspoons",
    imperial_gallon="imp gal, UK gal",
    imperial_pint="imp pt, UK pt",
    imperial_fluid_ounce="imp fl oz, UK fl oz",
    us_beer_barrel="bbl",
)
_TEMPERATURE = _spelt(celsius="degC, °C, C", fahrenheit="degF, °F, F")
_TIME = _spelt(minute="min, minutes", hour="h, hour, hours, hr, hrs", day="days, day")

WEIGHT = MeasureKind("weight", "kilogram", _WEIGHT, "4.20 kg", compound=("pound", "ounce"))
VOLUME = MeasureKind("volume", "litre", _VOLUME, "14.0 L", at=True)
TEMPERATURE = MeasureKind(
    "temperature", "celsius", _TEMPERATURE, "66.5 degC", zero=True, low=-30.0, high=110.0, negative=True
)
TEMPERATURE_DIFFERENCE = MeasureKind(
    "temperature difference", "celsius", {**_TEMPERATURE, "K": "kelvin"}, "0.5 degC", difference=True
)
LENGTH = MeasureKind("length", "millimetre", {"mm": "millimetre", "cm": "centimetre", "in": "inch"}, "1.05 mm")
#: Above the sea.
HEIGHT = MeasureKind(
    "height", "metre", {"m": "metre", "ft": "foot"}, "250 m", zero=True, low=-500.0, high=6000.0, negative=True
)
#: What a dip stick shows; its table's marks are of cold liquor.
DEPTH = MeasureKind(
    "depth", "millimetre", {"cm": "centimetre", "mm": "millimetre", "in": "inch"}, "31.5 cm", zero=True, at=True
)
_LENGTHS, _MASSES = frozenset(DEPTH.written.values()), frozenset(WEIGHT.written.values())


def is_depth(unit: str) -> bool:
    """Whether a registered unit is one of length."""
    return unit in _LENGTHS


def is_weight(unit: str) -> bool:
    """Whether a registered unit is one of weight."""
    return unit in _MASSES


TIME = MeasureKind("time", "minute", _TIME, "60 min", compound=("day", "hour", "minute"))
SHARE = MeasureKind("share", "fraction", {"%": "percent"}, "81.5 %", high=1.0)
DIASTATIC_POWER = MeasureKind(
    "diastatic power",
    "windisch_kolbach",
    {"WK": "windisch_kolbach", "°WK": "windisch_kolbach", "°Lintner": "lintner", "Lintner": "lintner"},
    "250 WK",
    zero=True,
    low=-16.0,
)
COLOUR = MeasureKind(
    "malt colour", "ebc", {"EBC": "ebc", "°L": "lovibond", "Lovibond": "lovibond"}, "5.5 EBC", zero=True, low=-1.2
)
PH = MeasureKind("pH", "fraction", {"": "fraction"}, "5.36 at 21 degC", high=14.0, at=True)
NUMBER = MeasureKind("number", "fraction", {"": "fraction"}, "1.45")
VOLUME_RATE = MeasureKind(
    "rate of evaporation", "litre / hour", {"L/h": "litre / hour", "gal/h": "us_gallon / hour"}, "3.1 L/h"
)
VOLUME_BY_WEIGHT = MeasureKind(
    "volume by weight of grain",
    "litre / kilogram",
    {"L/kg": "litre / kilogram", "qt/lb": "us_quart / pound", "gal/lb": "us_gallon / pound"},
    "0.95 L/kg",
)
REFRACTION = MeasureKind(
    "refractometer reading", "fraction", {"°Bx": "fraction", "Bx": "fraction", "Brix": "fraction"}, "0.15 °Bx"
)
#: What a refractometer shows of water: above or below 0, if it is off.
REFRACTION_OFF = replace(REFRACTION, example="0.2 °Bx", zero=True, low=-10.0, negative=True)
CARBONATION = MeasureKind(
    "carbonation",
    "gram / litre",
    {
        "g/L": "gram / litre",
        "volumes": "carbon_dioxide_volume",
        "vols": "carbon_dioxide_volume",
        "vol": "carbon_dioxide_volume",
    },
    "2.4 volumes",
    high=20.0,
)
#: Above the air's, as a gauge shows it.
PRESSURE = MeasureKind(
    "pressure",
    "bar",
    {"bar": "bar", "kPa": "kilopascal", "psi": "psi"},
    "0.9 bar at 4 degC",
    zero=True,
    high=4.0,
    at=True,
)
#: What a container is made for; a keg's plate may say more than any beer is kept at.
RATED_PRESSURE = MeasureKind("pressure", "bar", {"bar": "bar", "kPa": "kilopascal", "psi": "psi"}, "4 bar", high=30.0)
_PIECES = _spelt(piece="piece, pieces", packet="packet, packets", tablet="tablet, tablets", pod="pod, pods")
COUNT = MeasureKind("count", "piece", _PIECES, "1 packet")
CELLS = MeasureKind(
    "number of cells", "billion_cells", {"billion": "billion_cells", "billion cells": "billion_cells"}, "180 billion"
)
_CONCENTRATION = {"mg/L": "milligram / litre", "mg/l": "milligram / litre", "ppm": "milligram / litre"}
ALKALINITY = MeasureKind(
    "alkalinity",
    "milligram / litre",
    {
        "mg/L as CaCO3": "milligram / litre",
        "ppm as CaCO3": "milligram / litre",
        **_CONCENTRATION,
        "°dH": "german_degree",
        "dH": "german_degree",
    },
    "120 mg/L as CaCO3",
    high=5000.0,
)
#: A ppm of the trade is a milligram in a litre of water.
CONCENTRATION = MeasureKind("concentration", "milligram / litre", _CONCENTRATION, "50 mg/L", high=5000.0)

#: Every kind with units of its own, in the order of a brewing day.
KINDS = (
    WEIGHT,
    VOLUME,
    TEMPERATURE,
    TIME,
    LENGTH,
    DEPTH,
    HEIGHT,
    SHARE,
    DIASTATIC_POWER,
    COLOUR,
    ALKALINITY,
    CONCENTRATION,
    VOLUME_RATE,
    VOLUME_BY_WEIGHT,
    CARBONATION,
    PRESSURE,
    COUNT,
    CELLS,
    REFRACTION,
    TEMPERATURE_DIFFERENCE,
)
#: Which gallon a brewer may say that `gal` is.
US, IMPERIAL = "us", "imperial"
#: What `gal`, and its parts by themselves, mean to a brewer whose gallon is the imperial one; spoons and cups are the American.
_IMPERIAL = {f"us_{part}": f"imperial_{part}" for part in ("gallon", "quart", "pint", "fluid_ounce")}
_OWN_GALLON = (
    *("gal", "gals", "gallon", "gallons", "gal/h", "gal/lb", "qt", "qt/lb", "quart", "quarts"),
    *("pt", "pint", "pints", "fl oz", "floz", "fl. oz", "fluid ounce", "fluid ounces"),
)


@cache
def by_imperial_gallon(kind: MeasureKind) -> MeasureKind:
    """The same kind for a brewer who writes `gal`, `qt`, `pt` and `fl oz` for the imperial measures; `US gal` stays what it is."""
    written = dict(kind.written)
    for spelling in _OWN_GALLON:
        for us, imperial in _IMPERIAL.items():
            if us in written.get(spelling, ""):
                written[spelling] = written[spelling].replace(us, imperial)
    return replace(kind, written=written)

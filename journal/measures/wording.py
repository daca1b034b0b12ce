"""Numbers for people: in the units the brewery prefers, with no more digits than their uncertainty allows.

Of the uncertainty one digit is shown, two where it begins with 1; the value ends where the uncertainty ends.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple

from journal.frozen import dataclass
from journal.measures.units import convert

METRIC, US = "metric", "us"
#: A density meter's fifth decimal of a gravity, and one more; a spread that is nothing in the last is not known to be one.
_MOST_DECIMALS, _LEAST_SPREAD = 6, 0.5e-6


@dataclass(frozen=True)
class Unit:
    """How a unit is shown.

    Its sign, the registered names to convert between, and the decimals of a number of no stated uncertainty.
    """

    sign: str
    decimals: int
    kept: str = ""
    to: str = ""

    def convert(self, number: float) -> float:
        """A number of the kept unit in this one."""
        return convert(number, self.kept, self.to) if self.to else number

    def convert_difference(self, number: float) -> float:
        """A difference of the kept unit in this one."""
        return self.convert(number) - self.convert(0.0) if self.to else number

    def spread(self, sd: float) -> str:
        """A standard uncertainty of the kept unit, in this one, to this one's decimals."""
        return plain(abs(self.convert_difference(sd)), self.decimals)

    @property
    def of_difference(self) -> str:
        """The sign of a difference: fractions differ by points of a hundred."""
        return "points" if self.sign == "%" else self.sign


#: What figures and readings are kept in, and how each brewery sees it.
_METRIC = {
    # a share is said in per cent; a ratio, of two salts for one, is not
    "1": Unit("%", 1, "fraction", "percent"),
    "ratio": Unit("", 2),
    "kg": Unit("kg", 2),
    "L": Unit("L", 1),
    "L/kg": Unit("L/kg", 2),
    "L/h": Unit("L/h", 1),
    "SG": Unit("", 3),
    "°P": Unit("°P", 1),
    "°Bx": Unit("°Bx", 1),
    "pH": Unit("", 2),
    "°C": Unit("°C", 1),
    "mm": Unit("mm", 2),
    "min": Unit("min", 0),
    "WK": Unit("WK", 0),
    # of beer; malt's has a relation of its own to degrees Lovibond
    "EBC": Unit("EBC", 0),
    "EBC of malt": Unit("EBC", 0),
    "IBU": Unit("IBU", 0),
    "g/L": Unit("g/L", 1),
    "°P/day": Unit("°P/day", 1),
    "days": Unit("days", 1),
    "kcal/100 mL": Unit("kcal/100 mL", 0),
    "g": Unit("g", 0, "kilogram", "gram"),
    "K": Unit("K", 1),
    "K/h": Unit("K/h", 1),
    "mg/L": Unit("mg/L", 0),
    "mg/L as CaCO3": Unit("mg/L as CaCO₃", 0),
    "°dH": Unit("°dH", 1),
    "°Lintner": Unit("°Lintner", 0),
    "h": Unit("h", 1),
    "bar": Unit("bar", 2),
    "meq/L": Unit("meq/L", 2),
    "billion": Unit("billion", 0),
    "million/(mL·°P)": Unit("million/(mL·°P)", 2),
}
#: The units that a figure may be kept in.
UNITS = frozenset(_METRIC)
_US = _METRIC | {
    "kg": Unit("lb", 2, "kilogram", "pound"),
    "L": Unit("gal", 2, "litre", "us_gallon"),
    "L/kg": Unit("qt/lb", 2, "litre / kilogram", "us_quart / pound"),
    "L/h": Unit("gal/h", 2, "litre / hour", "us_gallon / hour"),
    "°C": Unit("°F", 0, "celsius", "fahrenheit"),
    "mm": Unit("in", 3, "millimetre", "inch"),
    "WK": Unit("°Lintner", 0, "windisch_kolbach", "lintner"),
    "EBC": Unit("SRM", 0, "ebc", "srm"),
    "EBC of malt": Unit("°L", 0, "ebc", "lovibond"),
    "g": Unit("oz", 2, "kilogram", "ounce"),
    "K": Unit("°F", 1, "kelvin_step", "fahrenheit_step"),
    "K/h": Unit("°F/h", 1, "kelvin_step", "fahrenheit_step"),
    "g/L": Unit("volumes", 2, "gram / litre", "carbon_dioxide_volume"),
    "bar": Unit("psi", 1, "bar", "psi"),
    "kg/kg": Unit("lb/lb", 2),
}


class Shown(NamedTuple):
    """A number as shown: `value`, `sd` (empty where none is known), `unit` (empty for gravities and pH)."""

    value: str
    sd: str
    unit: str

    def __str__(self) -> str:
        spread = f" ± {self.sd}" if self.sd else ""
        return f"{self.value}{spread}{' ' + self.unit if self.unit else ''}"


def unit_for(unit: str, system: str = METRIC) -> Unit:
    """How a kept unit is shown; units that nobody converts stand for themselves."""
    return (_US if system == US else _METRIC).get(unit) or Unit(unit, 2)


def decimals_of(sd: float) -> int:
    """Decimals that an uncertainty deserves: to its first digit, its second where the first is 1. Never negative."""
    exponent = math.floor(math.log10(sd))
    first = int(sd / 10**exponent + 1e-9)
    return max(0, -exponent + (1 if first <= 1 else 0))


def plain(number: float, decimals: int) -> str:
    """A number with fixed decimals and a proper minus sign; never a negative zero.

    What lies seven digits further has no say: it differs from machine to machine, and would decide between 0.2 and 0.3 for 0.25.
    """
    text = f"{round(number, decimals + 7):.{decimals}f}"
    if text[0] != "-":
        return text
    return text[1:] if float(text) == 0 else f"−{text[1:]}"


def signed(text: str) -> str:
    """A number as `plain` writes it, with a plus sign where it is above 0."""
    return text if text.startswith("−") or not text.strip("0.") else f"+{text}"


@lru_cache(maxsize=8192)  # a page shows a number in several places
def show(value: float, sd: float = 0.0, unit: str = "", system: str = METRIC) -> Shown:
    """A number of a kept unit, with its standard uncertainty (0 where none is known), as the brewery sees it."""
    how = unit_for(unit, system)
    return Shown(*_rounded(how.convert(value), sd, how), how.sign)


def _rounded(number: float, sd: float, how: Unit) -> tuple[str, str]:
    """A number that is converted already, and its standard uncertainty, which is not, as far as that allows."""
    spread = abs(how.convert_difference(sd))
    if not (spread >= _LEAST_SPREAD and math.isfinite(spread) and math.isfinite(number)):
        return plain(number, how.decimals), ""
    decimals = min(decimals_of(spread), _MOST_DECIMALS)
    return plain(number, decimals), plain(spread, decimals)


def show_spread(sd: float, unit: str, system: str = METRIC) -> Shown:
    """A standard uncertainty by itself, in the unit its number is shown in: half a kelvin is 0.9 °F, not 32.9."""
    how = unit_for(unit, system)
    return Shown(how.spread(sd), "", how.sign)


def whole_degrees(temperature: float, system: str = METRIC) -> str:
    """`65 °C` or `149 °F`, for a temperature in °C that is only meant roughly."""
    how = unit_for("°C", system)
    return f"{plain(how.convert(temperature), 0)} {how.sign}"


def show_difference(value: float, sd: float, unit: str, system: str = METRIC) -> Shown:
    """A difference of two numbers of a kept unit, with its sign and its standard uncertainty."""
    how = unit_for(unit, system)
    number, spread = _rounded(how.convert_difference(value), sd, how)
    return Shown(signed(number), spread, how.of_difference)


def range_ends(low: float, high: float, unit: str = "", system: str = METRIC) -> tuple[str, str]:
    """`71.2` and `77.9`: the ends of a range as shown, with as many decimals as its width deserves, and no more than the unit has."""
    how = unit_for(unit, system)
    first, last = sorted((how.convert(low), how.convert(high)))
    width = last - first
    decimals = max(0, 1 - math.floor(math.log10(width))) if width > 0 else how.decimals
    decimals = min(decimals, how.decimals)
    return plain(first, decimals), plain(last, decimals)


def show_range(low: float, high: float, unit: str = "", system: str = METRIC) -> str:
    """`71.2 to 77.9 %`."""
    sign = unit_for(unit, system).sign
    text = " to ".join(range_ends(low, high, unit, system))
    return f"{text} {sign}" if sign else text


#: Below it a whole per cent says too little of a share.
_SMALL_SHARE = 0.0095


def per_cents(shares: Sequence[float | None]) -> list[str]:
    """Shares of one whole as `85 %`, empty where one is not known or is none; whole per cents that add up to 100 where that can't mislead.

    They don't where equal shares would look unequal, or where one is too small for a whole per cent.
    """
    plainly = ["" if not share else f"{plain(100 * share, 0 if share >= _SMALL_SHARE else 1)} %" for share in shares]
    known = [share for share in shares if share is not None]
    if len(known) < len(shares) or abs(sum(known) - 1.0) > 1e-6 or min(known) < _SMALL_SHARE:
        return plainly
    order = sorted(range(len(known)), key=lambda place: -(100 * known[place] % 1.0))
    short = 100 - sum(int(100 * share) for share in known)
    shown = [int(100 * share) + (place in order[:short]) for place, share in enumerate(known)]
    alike = all(
        (one == other) or abs(known[a] - known[b]) > 1e-6
        for a, one in enumerate(shown)
        for b, other in enumerate(shown)
    )
    return [f"{number} %" for number in shown] if alike else plainly

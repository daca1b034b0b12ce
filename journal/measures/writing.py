"""Numbers as a brewer writes them into an entry: in the brewery's units, rounded as they are measured out.

The other way round from the grammar: what is written here, it reads.
"""

from __future__ import annotations

from decimal import ROUND_HALF_EVEN, Decimal
from typing import NamedTuple

from journal.measures.units import COUNT, VOLUME, WEIGHT, convert
from journal.measures.wording import METRIC, US


class Steps(NamedTuple):
    """What something is weighed out to: `below` so much to such a step, and `above` all that to this one."""

    below: tuple[tuple[float, float], ...]
    above: float

    def at(self, amount: float) -> float:
        """The step of an amount."""
        return next((step for most, step in self.below if amount < most), self.above)


#: What kitchen scales are read to (common practice): g by kg, and oz.
GRAMS, OUNCES = Steps(((0.020, 0.1), (0.100, 1.0), (0.250, 5.0)), 10.0), Steps(((4.0, 0.05), (8.0, 0.1)), 0.5)
#: What salts, acids and the like are measured out by, in their own units: a pocket scale, a syringe or a cylinder, spoons.
_FINE_STEPS = {
    "ounce": ((0.1, 0.005), (1.0, 0.01), *OUNCES.below, (16.0, OUNCES.above)),
    "millilitre": ((10.0, 0.1), (100.0, 0.5)),
    "us_teaspoon": ((4.0, 0.125),),
    "us_tablespoon": ((4.0, 0.25),),
}
#: By how much of itself an amount may be rounded so; what a step is too wide for is written to three digits.
_ROUNDED_BY = 0.03
#: kg and L below which an amount is no malt and no liquor: it is measured out with what it was measured out with before.
_SMALL = {WEIGHT: 0.45, VOLUME: 0.25}


def round_to_step(value: float, step: float) -> Decimal:
    """The nearest multiple of a step, exact in decimals; `step` > 0 is a short decimal such as 0.05."""
    unit = Decimal(str(step))
    return (Decimal(value) / unit).quantize(Decimal(1), ROUND_HALF_EVEN) * unit


def _short(number: Decimal) -> str:
    text = f"{number:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def weight(value: float, system: str = METRIC) -> str:
    """kg as `4.35 kg`, `250 g`; in US units `9 lb 8.5 oz`, `1.05 oz`."""
    if system == US:
        return _pounds(value)
    # a scale's last digit goes by how much lies on it
    grams = round_to_step(value * 1000, GRAMS.at(value))
    return f"{_short(grams)} g" if grams < 1000 else f"{grams / 1000:.2f} kg"


def _pounds(value: float) -> str:
    ounces = convert(value, "kilogram", "ounce")
    whole = round_to_step(ounces, OUNCES.at(ounces))
    pounds, rest = divmod(whole, 16)
    parts = [f"{pounds} lb"] * (pounds > 0) + [f"{_short(rest)} oz"] * (rest > 0 or pounds == 0)
    return " ".join(parts)


def volume(value: float, system: str = METRIC) -> str:
    """L as `21.5 L`; in US units `5.65 gal`. Below a litre `250 mL`, below a gallon `1.50 qt`."""
    if system == US:
        gallons = round_to_step(convert(value, "litre", "us_gallon"), 0.05)
        # half a pint is no twentieth of a gallon
        return (
            f"{gallons:.2f} gal"
            if gallons >= 1
            else f"{round_to_step(convert(value, 'litre', 'us_quart'), 0.05):.2f} qt"
        )
    if 0 < value < 1:
        return f"{_short(round_to_step(value * 1000, 1.0 if value < 0.1 else 10.0))} mL"
    return f"{round_to_step(value, 0.1):.1f} L"


def amount(value: float, written: str, system: str = METRIC) -> str:
    """How much of an addition, in kg, L or pieces; `written` is the registered unit the brewer measured it in before.

    A small amount stays in that unit, to what it is measured out by: 3 mL of acid are no part of a quart, 4 g of salt no tenths of an
    ounce.
    """
    kind = next(kind for kind in (WEIGHT, VOLUME, COUNT) if written in kind.written.values())
    if kind is COUNT:
        return f"{_short(max(round_to_step(value, 0.5), Decimal('0.5')))} {_counted(written, value)}"
    if value < _SMALL[kind]:
        if written in {"gram", "kilogram"}:
            # a tenth of a gram is too wide a step for a gram of a salt
            return weight(value) if value >= 0.002 else f"{_three_digits(value * 1000)} g"
        if written == "pound":
            return f"{_measured_out(convert(value, 'kilogram', 'ounce'), 'ounce')} oz"
        return f"{_measured_out(convert(value, kind.unit, written), written)} {kind.spelling(written)}"
    return weight(value, system) if kind is WEIGHT else volume(value, system)


def _counted(written: str, number: float) -> str:
    spellings = [text for text, unit in COUNT.written.items() if unit == written]
    return spellings[0] if number <= 1.25 else spellings[-1]


def _measured_out(number: float, unit: str) -> str:
    """As it is measured out where that is known of a unit and near enough, else to three digits."""
    step = next((step for most, step in _FINE_STEPS.get(unit, ()) if number < most), None)
    rounded = round_to_step(number, step) if step else None
    near = rounded is not None and abs(float(rounded) - number) <= _ROUNDED_BY * number
    return _short(rounded) if rounded is not None and near else _three_digits(number)


def _three_digits(number: float) -> str:
    return _short(Decimal(f"{Decimal(f'{number:.3g}'):f}"))


def temperature(value: float, system: str = METRIC) -> str:
    """°C as `66.5 degC`; in US units `152 degF`."""
    if system == US:
        return f"{_short(round_to_step(convert(value, 'celsius', 'fahrenheit'), 1.0))} degF"
    return f"{_short(round_to_step(value, 0.5))} degC"


def time(value: float) -> str:
    """min as `60 min`."""
    return f"{_short(round_to_step(value, 1.0))} min"


def gravity(value: float) -> str:
    """SG as `1.048`."""
    return f"{round_to_step(value, 0.001):.3f}"

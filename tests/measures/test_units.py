"""Conversions against the statutes' values and against pint's own registry, which this project does not use."""

import unicodedata
from decimal import Decimal

import pint
import pytest

from journal.measures import Measure, MeasureKind, read_measure
from journal.measures.units import (
    COLOUR,
    DIASTATIC_POWER,
    HEIGHT,
    LENGTH,
    PH,
    PRESSURE,
    RATED_PRESSURE,
    SHARE,
    TEMPERATURE,
    TEMPERATURE_DIFFERENCE,
    TIME,
    VOLUME,
    VOLUME_BY_WEIGHT,
    VOLUME_RATE,
    WEIGHT,
)

CUBIC_INCH = Decimal("2.54") ** 3 / 1000  # L; the international inch of 25.4 mm, 1959
GALLON = 231 * CUBIC_INCH  # 27 CFR 30.11: 231 cubic inches
POUND = Decimal("0.45359237")  # kg; UK Weights and Measures Act 1985, Schedule 1
PSI = POUND * Decimal("9.80665") / Decimal("0.0254") ** 2 / 100_000  # bar; standard gravity: 3rd CGPM, 1901


def value(text: str, kind: MeasureKind) -> float:
    found = read_measure(text, kind)
    assert isinstance(found, Measure), found
    return found.value


@pytest.mark.parametrize(
    ("text", "kind", "kept"),
    [
        ("1 kg", WEIGHT, 1),
        ("250 g", WEIGHT, Decimal("0.250")),
        ("1 lb", WEIGHT, POUND),
        ("1 oz", WEIGHT, POUND / 16),
        ("9 lb 8 oz", WEIGHT, POUND * Decimal("9.5")),
        ("14 L", VOLUME, 14),
        ("14 l", VOLUME, 14),
        ("750 mL", VOLUME, Decimal("0.750")),
        ("5 hL", VOLUME, 500),
        ("1 gal", VOLUME, Decimal("3.785411784")),  # NIST Handbook 44, appendix C
        ("5 gal", VOLUME, 5 * GALLON),
        ("4 qt", VOLUME, GALLON),  # NIST Handbook 44, appendix C: four quarts to a gallon
        # NIST Handbook 44, appendix C, to the last digit it prints: a pint, a cup, a fluid ounce; spoons are its 1/2 and 1/6
        ("1 pt", VOLUME, Decimal("0.473176473")),
        ("1 cup", VOLUME, Decimal("0.2365882365")),
        ("1 fl oz", VOLUME, Decimal("0.0295735295625")),
        ("2 tbsp", VOLUME, Decimal("0.0295735295625")),
        ("6 tsp", VOLUME, Decimal("0.0295735295625")),
        ("1 imp gal", VOLUME, Decimal("4.54609")),  # UK Weights and Measures Act 1985, Schedule 1
        ("1 bbl", VOLUME, 31 * GALLON),  # 26 USC 5051(a): a barrel of beer is 31 gallons
        ("1 in", LENGTH, Decimal("25.4")),
        ("1 ft", HEIGHT, Decimal("0.3048")),  # NIST SP 811, appendix B, as the next
        ("5280 ft", HEIGHT, Decimal("1609.344")),
        ("90 kPa", PRESSURE, Decimal("0.9")),
        ("1.2 bar", RATED_PRESSURE, Decimal("1.2")),
        ("400 kPa", RATED_PRESSURE, 4),
        ("1.05 mm", LENGTH, Decimal("1.05")),
        ("90 min", TIME, 90),
        ("1.5 h", TIME, 90),
        ("2 days", TIME, 2880),
        ("1 h 30 min", TIME, 90),
        ("1 day 2 h 5 min", TIME, 1440 + 120 + 5),
        ("66.5 degC", TEMPERATURE, Decimal("66.5")),
        ("66.5 °C", TEMPERATURE, Decimal("66.5")),
        ("66.5 C", TEMPERATURE, Decimal("66.5")),
        ("32 degF", TEMPERATURE, 0),  # the fixed points of Fahrenheit's scale
        ("212 °F", TEMPERATURE, 100),
        ("68 F", TEMPERATURE, 20),
        ("81.5 %", SHARE, Decimal("0.815")),
        ("100 %", SHARE, 1),
        ("250 WK", DIASTATIC_POWER, 250),
        # Oxford Companion to Beer (2011), "diastatic power": WK = 3.5 °Lintner - 16
        ("100 °Lintner", DIASTATIC_POWER, 334),
        ("40 Lintner", DIASTATIC_POWER, 124),
        ("5.5 EBC", COLOUR, Decimal("5.5")),
        # common practice: EBC = 2.65 °L - 1.2
        ("2 °L", COLOUR, Decimal("4.1")),
        ("60 Lovibond", COLOUR, Decimal("157.8")),
        ("3.1 L/h", VOLUME_RATE, Decimal("3.1")),
        ("1 gal/h", VOLUME_RATE, GALLON),
        ("0.95 L/kg", VOLUME_BY_WEIGHT, Decimal("0.95")),
        ("1 qt/lb", VOLUME_BY_WEIGHT, GALLON / 4 / POUND),  # 2.08635 L/kg
        ("1 gal/lb", VOLUME_BY_WEIGHT, GALLON / POUND),
        ("5.36", PH, Decimal("5.36")),
    ],
)
def test_kept_value(text: str, kind: MeasureKind, kept: Decimal | int) -> None:
    assert value(text, kind) == pytest.approx(float(kept), rel=1e-12, abs=1e-12)


PINT_NAMES = {
    "kg": "kilogram",
    "g": "gram",
    "lb": "pound",
    "oz": "ounce",
    "L": "liter",
    "l": "liter",
    "mL": "milliliter",
    "hL": "hectoliter",
    "gal": "US_liquid_gallon",
    "qt": "US_liquid_quart",
    "pt": "US_pint",
    "cup": "cup",
    "fl oz": "US_fluid_ounce",
    "tbsp": "tablespoon",
    "tsp": "teaspoon",
    "imp gal": "imperial_gallon",
    "imp pt": "imperial_pint",
    "imp fl oz": "imperial_fluid_ounce",
    "bbl": "beer_barrel",
    "degC": "degC",
    "°C": "degC",
    "C": "degC",
    "degF": "degF",
    "°F": "degF",
    "F": "degF",
    "mm": "millimeter",
    "in": "inch",
    "min": "minute",
    "h": "hour",
    "days": "day",
    "%": "percent",
}
KEPT_IN = [(WEIGHT, "kilogram"), (VOLUME, "liter"), (TEMPERATURE, "degC"), (LENGTH, "millimeter"), (TIME, "minute")]
KEPT_IN += [(SHARE, "dimensionless")]


@pytest.fixture(scope="module")
def general() -> pint.UnitRegistry:
    return pint.UnitRegistry()


@pytest.mark.parametrize(("kind", "kept"), KEPT_IN, ids=lambda part: getattr(part, "name", None))
def test_every_shared_unit_as_a_general_library_has_it(
    kind: MeasureKind, kept: str, general: pint.UnitRegistry
) -> None:
    shared = [spelling for spelling in kind.written if spelling in PINT_NAMES]
    assert shared
    for spelling in shared:
        theirs = general.Quantity(37.5, PINT_NAMES[spelling]).to(kept).magnitude
        assert value(f"37.5 {spelling}", kind) == pytest.approx(theirs, rel=1e-12), spelling


@pytest.mark.parametrize(
    ("text", "kind", "sd"),
    [
        ("4.20 ± 0.02 kg", WEIGHT, 0.02),
        ("4.20 +/- 0.02 kg", WEIGHT, 0.02),
        ("4.20±0.02 kg", WEIGHT, 0.02),
        ("250 ± 5 g", WEIGHT, 0.005),
        ("5 ± 0.1 gal", VOLUME, 0.3785411784),
        # a difference of 1 degF is 5/9 K: the scale's zero plays no part in an uncertainty
        ("152 ± 0.9 degF", TEMPERATURE, 0.5),
        ("80 ± 0.5 %", SHARE, 0.005),
        ("100 ± 2 °Lintner", DIASTATIC_POWER, 7.0),
        ("4 ± 1 °L", COLOUR, 2.65),
        ("5.36 ± 0.02", PH, 0.02),
    ],
)
def test_stated_uncertainty(text: str, kind: MeasureKind, sd: float) -> None:
    found = read_measure(text, kind)
    assert isinstance(found, Measure)
    assert found.sd == pytest.approx(sd, rel=1e-12)


def test_a_difference_of_temperature_has_no_zero() -> None:
    assert value("0.9 degF", TEMPERATURE_DIFFERENCE) == pytest.approx(0.5)
    assert value("0.5 K", TEMPERATURE_DIFFERENCE) == 0.5


@pytest.mark.parametrize(
    ("text", "kind", "at"),
    [
        ("25 L at 65 degC", VOLUME, 65.0),
        ("6.5 gal at 149 degF", VOLUME, 65.0),
        ("25 ± 0.5 L at 65 °C", VOLUME, 65.0),
        ("5.36 at 21 degC", PH, 21.0),
        ("5.36 ± 0.05 at 70 F", PH, 38.0 / 1.8),
        ("25 L", VOLUME, None),
        ("5.36", PH, None),
    ],
)
def test_temperature_of_a_sample(text: str, kind: MeasureKind, at: float | None) -> None:
    found = read_measure(text, kind)
    assert isinstance(found, Measure)
    assert found.at == (None if at is None else pytest.approx(at, rel=1e-12))
    assert found.value == pytest.approx(value(text.split(" at ", maxsplit=1)[0], kind)), (
        "only the figures apply the temperature"
    )


def test_the_unit_as_the_brewer_wrote_it_is_remembered() -> None:
    found = read_measure("9 lb 8 oz", WEIGHT)
    assert isinstance(found, Measure)
    assert found.unit == "pound"


@pytest.mark.parametrize("text", ["9lb8oz", "9 lb 8oz", "9 lb  8 oz"])
def test_compound_weight_however_spaced(text: str) -> None:
    assert value(text, WEIGHT) == pytest.approx(float(POUND) * 9.5, rel=1e-12)


@pytest.mark.parametrize("text", ["14L", "14 L", "14   L", "+14 L", "14.0 L", "14.000 L"])
def test_spaces_and_zeros_do_not_matter(text: str) -> None:
    assert value(text, VOLUME) == 14.0


@pytest.mark.parametrize("sign", "½¼¾⅓⅔⅛⅜⅝⅞")
def test_fractions_as_one_sign_are_what_unicode_says(sign: str) -> None:
    """Each by itself, and behind a whole number; NFKC writes it as two numbers and a stroke."""
    top, bottom = unicodedata.normalize("NFKC", sign).split("\N{FRACTION SLASH}")
    assert value(f"{sign} kg", WEIGHT) == pytest.approx(int(top) / int(bottom), rel=1e-12)
    assert value(f"9{sign} kg", WEIGHT) == value(f"9 {top}/{bottom} kg", WEIGHT)


@pytest.mark.parametrize(
    ("text", "kind"), [("6000 m", HEIGHT), ("-500 m", HEIGHT), ("4.0 bar", PRESSURE), ("30 bar", RATED_PRESSURE)]
)
def test_the_most_that_is_taken(text: str, kind: MeasureKind) -> None:
    number, unit = text.split()
    assert isinstance(read_measure(text, kind), Measure)
    assert not isinstance(read_measure(f"{float(number) * 1.002:.2f} {unit}", kind), Measure)


@pytest.mark.parametrize("kind", [PRESSURE, RATED_PRESSURE])
def test_pounds_on_a_square_inch(kind: MeasureKind) -> None:
    """The kept value of old entries has the nine digits that tables print."""
    assert value("12 psi", kind) == pytest.approx(float(12 * PSI), rel=1e-9)

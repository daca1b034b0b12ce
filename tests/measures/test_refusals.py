"""Texts that are no quantity: the rule, the part at fault, and what to write instead."""

import pytest

from journal.measures import Fault, Measure, MeasureKind, read_measure
from journal.measures.units import (
    COLOUR,
    COUNT,
    DIASTATIC_POWER,
    LENGTH,
    PH,
    SHARE,
    TEMPERATURE,
    TIME,
    VOLUME,
    WEIGHT,
)


def fault(text: str, kind: MeasureKind, zero: bool = False) -> Fault:
    found = read_measure(text, kind, zero)
    assert isinstance(found, Fault), f"{text!r} was read as {found}"
    return found


@pytest.mark.parametrize(
    ("text", "at_fault", "instead"),
    [
        ("2,5 kg", "2,5", "2.5"),
        ("0,25 kg", "0,25", "0.25"),
        ("12,5 kg", "12,5", "12.5"),
        ("4.2 ± 0,05 kg", "0,05", "0.05"),
        ("9 lb 1,5 oz", "1,5", "1.5"),
    ],
)
def test_decimal_comma(text: str, at_fault: str, instead: str) -> None:
    found = fault(text, WEIGHT)
    assert (found.code, text[found.start : found.end]) == ("decimal-comma", at_fault)
    assert instead in found.hint


@pytest.mark.parametrize(
    ("text", "instead"),
    [
        ("1 250 g", "1250"),
        ("1\N{NO-BREAK SPACE}250 g", "1250"),
        ("1\N{NARROW NO-BREAK SPACE}250 g", "1250"),
        ("1\N{THIN SPACE}250 g", "1250"),
        ("1'250 g", "1250"),
        ("1’250 g", "1250"),
        ("1_250 g", "1250"),
        ("12_000 g", "12000"),
        ("1,250 g", "1250"),
        ("1,250,000 g", "1250000"),
        ("1,250.5 g", "1250.5"),
        ("1 250.5 g", "1250.5"),
        ("1 250,5 g", "1250.5"),
        ("1.250,5 g", "1250.5"),
        ("1.250.000 g", "1250000"),
    ],
)
def test_thousands_separator(text: str, instead: str) -> None:
    found = fault(text, WEIGHT)
    assert (found.code, text[found.start : found.end]) == ("thousands-separator", text.removesuffix(" g"))
    assert f"Write {instead}" in found.hint


def test_a_lone_comma_before_three_digits_may_be_either() -> None:
    hint = fault("1,250 kg", WEIGHT).hint
    assert "1250" in hint
    assert "1.250" in hint
    # of two commas, or of a comma before a point, none can be a decimal sign
    assert not any("decimal sign" in fault(f"{number} kg", WEIGHT).hint for number in ("1,250,000", "1,250.5"))


@pytest.mark.parametrize(
    ("text", "kind", "at_fault", "instead"),
    [
        ("14", VOLUME, "14", "14 L"),
        ("14 ± 0.5", VOLUME, "14 ± 0.5", "14 L"),
        ("14 at 65 degC", VOLUME, "14", "14 L"),
        ("14 L at 65", VOLUME, "65", "65 degC"),
        ("0.8", SHARE, "0.8", "0.8 %"),
        ("67", TEMPERATURE, "67", "67 degF"),
        ("60", TIME, "60", "60 min"),
        ("1 h 30", TIME, "30", "30 min"),
        ("9 lb 8", WEIGHT, "8", "8 oz"),
    ],
)
def test_missing_unit(text: str, kind: MeasureKind, at_fault: str, instead: str) -> None:
    found = fault(text, kind)
    assert (found.code, text[found.start : found.end].strip()) == ("unit-missing", at_fault)
    assert instead in found.hint


@pytest.mark.parametrize(
    ("text", "kind", "unit", "named"),
    [
        ("14 kg", VOLUME, "kg", "weight"),
        ("4 L", WEIGHT, "L", "volume"),
        ("4 degC", TIME, "degC", "temperature"),
        ("60 min", TEMPERATURE, "min", "time"),
        ("12 °P", VOLUME, "°P", "gravity"),
        ("5 °L", VOLUME, "°L", "colour"),
        ("60 °L", DIASTATIC_POWER, "°L", "colour"),
        ("5.5 L", COLOUR, "L", "volume"),
        ("1 %", LENGTH, "%", "share"),
        ("25 L at 65 kg", VOLUME, "kg", "weight"),
        ("14 kg at 65 degC", VOLUME, "kg", "weight"),
        ("1.048 SG", WEIGHT, "SG", "gravity"),
        ("12 Plato of it", WEIGHT, "Plato", "gravity"),
    ],
)
def test_unit_of_another_kind(text: str, kind: MeasureKind, unit: str, named: str) -> None:
    found = fault(text, kind)
    assert (found.code, text[found.start : found.end]) == ("unit-wrong-kind", unit)
    assert named in found.message
    assert found.hint


def test_a_bare_number_takes_no_unit() -> None:
    found = fault("5.4 pH", PH)
    assert (found.code, found.hint) == ("unit-wrong-kind", "Write 5.4.")


@pytest.mark.parametrize(
    ("text", "kind", "unit", "suggested"),
    [
        ("9.5#", WEIGHT, "#", "9.5 lb"),
        ("1 pkg", COUNT, "pkg", "1 packet"),
        ("2 vials", COUNT, "vials", "2 packets"),
        ("2 each", COUNT, "each", "2 piece"),
        ("14 Lt", VOLUME, "Lt", "14 L"),
        ("14 litters", VOLUME, "litters", "14 liters"),
        ("5 galons", VOLUME, "galons", "5 gallons"),
        ("2 imp  gal", VOLUME, "imp  gal", "2 imp gal"),
        ("4.2 Kg", WEIGHT, "Kg", "4.2 kg"),
        ("4.2 KG", WEIGHT, "KG", "4.2 kg"),
        ("8 OZ", WEIGHT, "OZ", "8 oz"),
        ("66.5 deg C", TEMPERATURE, "deg C", "66.5 degC"),
        ("152 deg F", TEMPERATURE, "deg F", "152 degF"),
        ("152 f", TEMPERATURE, "f", "152 F"),
        ("90 mins", TIME, "mins", "90 min"),
        ("60 lintner", DIASTATIC_POWER, "lintner", "60 Lintner"),
    ],
)
def test_unknown_unit_with_the_nearest(text: str, kind: MeasureKind, unit: str, suggested: str) -> None:
    found = fault(text, kind)
    assert (found.code, text[found.start : found.end]) == ("unit-unknown", unit)
    assert f"Did you mean {suggested}?" in found.hint


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("1 pkg", WEIGHT),
        ("1 f oz", WEIGHT),
        ("1 pinch", VOLUME),
        ("1 dl", VOLUME),
        ("1 lo", WEIGHT),
        ("1 vial", VOLUME),
    ],
)
def test_no_unit_of_another_magnitude_is_suggested(text: str, kind: MeasureKind) -> None:
    found = fault(text, kind)
    assert found.code == "unit-unknown"
    assert found.hint.startswith("Write it in")


def test_unknown_unit_with_none_near_shows_the_known_ones() -> None:
    found = fault("3 firkins", VOLUME)
    assert found.code == "unit-unknown"
    assert all(unit in found.hint for unit in ("L", "hL", "gal", "imp gal", "bbl"))


@pytest.mark.parametrize(
    ("text", "sign", "as_read", "with_uncertainty"),
    [
        ("~7 gal", "~", "7 gal", "7 ± 1 gal"),
        ("ca. 24.5 L at 65 degC", "ca.", "24.5 L at 65 degC", "24.5 ± 0.1 L at 65 degC"),
        ("about 7 gal", "about", "7 gal", "7 ± 1 gal"),
    ],
)
def test_a_number_said_to_be_inexact_is_asked_how_far(
    text: str, sign: str, as_read: str, with_uncertainty: str
) -> None:
    found = fault(text, VOLUME)
    assert (found.code, text[found.start : found.end].strip()) == ("number-unreadable", sign)
    assert f"Write {as_read};" in found.hint
    assert with_uncertainty in found.hint
    # both are what they are called
    assert not isinstance(read_measure(as_read, VOLUME), Fault)
    assert not isinstance(read_measure(with_uncertainty, VOLUME), Fault)


@pytest.mark.parametrize(
    "number", ["nan", "NaN", ".nan", "inf", "-inf", ".inf", "Infinity", "1e3", "1E3", "1.5e-2", "ten", "٣", "--3"]
)
def test_no_plain_finite_number(number: str) -> None:
    found = fault(f"{number} kg", WEIGHT)
    assert found.code == "number-unreadable"
    assert "4.20 kg" in found.hint


def test_a_text_without_a_number_and_one_that_misses_its_second_are_told_apart() -> None:
    for text, words in (
        ("half of 14 L", "does not start with a number"),
        ("kg", "does not start with a number"),
        ("14 ± L", "missing"),
        ("14 L at", "missing"),
        ("1±", "missing"),
    ):
        assert words in fault(text, VOLUME).message


def test_a_number_beyond_any_meaning() -> None:
    assert fault("9" * 400 + " kg", WEIGHT).code == "number-out-of-range"


@pytest.mark.parametrize("text", ["0 L", "0.0 L", "-3 L", "-0.1 L"])
def test_zero_and_negative(text: str) -> None:
    found = fault(text, VOLUME)
    assert found.code == "number-out-of-range"
    assert "14.0 L" in found.hint


@pytest.mark.parametrize(
    ("text", "kind"),
    [("0 L", VOLUME), ("0 min", TIME), ("0 %", SHARE), ("0 WK", DIASTATIC_POWER), ("0 EBC", COLOUR)],
)
def test_zero_where_it_makes_sense(text: str, kind: MeasureKind) -> None:
    found = read_measure(text, kind, zero=True)
    assert isinstance(found, Measure)
    assert found.value == 0.0


@pytest.mark.parametrize(
    ("text", "kind"),
    [("-1 L", VOLUME), ("-1 min", TIME), ("-1 %", SHARE), ("-5 WK", DIASTATIC_POWER), ("-0.5 EBC", COLOUR)],
)
def test_negative_never_makes_sense_save_for_a_temperature(text: str, kind: MeasureKind) -> None:
    assert fault(text, kind, zero=True).code == "number-out-of-range"
    frost = read_measure("-2 degC", TEMPERATURE)
    assert isinstance(frost, Measure)
    assert frost.value == -2.0


@pytest.mark.parametrize("text", ["4.2 ± 0 kg", "4.2 ± 0.0 kg", "4.2 ± -0.1 kg"])
def test_uncertainty_of_nothing(text: str) -> None:
    found = fault(text, WEIGHT)
    assert found.code == "number-out-of-range"
    assert text[found.start : found.end] in {"0", "0.0", "-0.1"}


@pytest.mark.parametrize(
    ("text", "kind", "code", "instead"),
    [
        ("101 %", SHARE, "number-out-of-range", "%"),
        ("152 degC", TEMPERATURE, "number-out-of-range", "degF"),
        ("15 ", PH, "number-out-of-range", "5.36"),
        ("25 L at 152 degC", VOLUME, "number-out-of-range", "152 degF"),
        ("25 L at -40 degF", VOLUME, "number-out-of-range", "degC"),
        ("25 L at 65 ± 1 degC", VOLUME, "uncertainty-misplaced", "65 degC"),
        ("4 kg at 20 degC", WEIGHT, "temperature-misplaced", "Write 4 kg."),
        ("9 lb 8 oz at 68 degF", WEIGHT, "temperature-misplaced", "Write 9 lb 8 oz."),
        ("81 % at 20 degC", SHARE, "temperature-misplaced", "Write 81 %."),
        ("25 L ± 0.5 L", VOLUME, "uncertainty-misplaced", "25 ± 0.5 L"),
        ("9 ± 1 lb 8 oz", WEIGHT, "uncertainty-misplaced", "9.5 ± 0.1 lb"),
        ("8 oz 9 lb", WEIGHT, "unit-wrong-kind", "9 lb 8 oz"),
        ("9 lb 8 lb", WEIGHT, "unit-wrong-kind", "9 lb 8 oz"),
        ("30 min 1 h", TIME, "unit-wrong-kind", "1 h 30 min"),
        ("4 kg 250 g", WEIGHT, "number-unreadable", "4.20 kg"),
        ("14 L roughly", VOLUME, "number-unreadable", "14.0 L"),
        ("about 14 L", VOLUME, "number-unreadable", "14 ± 1 L"),
        ("14 ± L", VOLUME, "number-unreadable", "14.0 L"),
        ("14 L at", VOLUME, "number-unreadable", "degC"),
        ("L", VOLUME, "number-unreadable", "14.0 L"),
        ("", VOLUME, "number-unreadable", "14.0 L"),
    ],
)
def test_other_refusals(text: str, kind: MeasureKind, code: str, instead: str) -> None:
    found = fault(text, kind)
    assert found.code == code
    assert instead in found.hint


@pytest.mark.parametrize(
    ("text", "kind"),
    [("0 L", VOLUME), ("101 %", SHARE), ("152 degC", TEMPERATURE), ("15", PH), ("9 ± 1 lb 8 oz", WEIGHT)],
)
def test_what_is_wrong_as_a_whole_is_pointed_at_as_a_whole(text: str, kind: MeasureKind) -> None:
    found = fault(text, kind)
    assert text[found.start : found.end] == text


def test_texts_that_a_general_unit_parser_reads_wrongly() -> None:
    """A general parser takes `2,5 kg` for 25 kg, `1 h 30 min` for a product and `150 F` for farad."""
    assert fault("2,5 kg", WEIGHT).code == "decimal-comma"
    for text, kind, kept in (("1 h 30 min", TIME, 90.0), ("150 F", TEMPERATURE, 590.0 / 9.0)):
        found = read_measure(text, kind)
        assert isinstance(found, Measure)
        assert found.value == pytest.approx(kept)


@pytest.mark.parametrize("sign", ["°", " °", "º", " deg", " degrees"])
def test_a_degree_that_names_no_scale_is_not_guessed_at(sign: str) -> None:
    found = fault(f"24.5 L at 68{sign}", VOLUME)
    assert found.hint == "A unit is never guessed: write 68 °C or 68 °F."

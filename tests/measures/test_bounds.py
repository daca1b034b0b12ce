"""How far a number may go, every spelling of a unit, and how each kept unit is shown."""

from __future__ import annotations

import pytest

from journal.measures import Fault, Gravity, Measure, MeasureKind, read_gravity, read_measure, writing
from journal.measures.units import (
    ALKALINITY,
    CARBONATION,
    CELLS,
    COLOUR,
    CONCENTRATION,
    COUNT,
    DIASTATIC_POWER,
    KINDS,
    LENGTH,
    NUMBER,
    PH,
    PRESSURE,
    REFRACTION,
    SHARE,
    TEMPERATURE,
    TIME,
    VOLUME,
    VOLUME_RATE,
    WEIGHT,
)
from journal.measures.wording import METRIC, US, plain, show, show_spread, signed


@pytest.mark.parametrize(
    ("kind", "unit", "last", "beyond"),
    [
        # a freezer's and a pressure-less kettle's temperatures, the end of the pH scale, all of a thing (common practice)
        (TEMPERATURE, "degC", "110", "110.01"),
        (TEMPERATURE, "degC", "-30", "-30.01"),
        (PH, "", "14", "14.01"),
        (SHARE, "%", "100", "100.01"),
        # none of it is 0 °Lintner, and -16 WK by the formula of the Oxford Companion to Beer (2011), "diastatic power"
        (DIASTATIC_POWER, "°Lintner", "0", "-0.01"),
        # nor is malt without colour below 0 °L, -1.2 EBC by EBC = 2.65 °L - 1.2 (common practice)
        (COLOUR, "°L", "0", "-0.01"),
        (CARBONATION, "g/L", "20", "20.01"),
        # what no keg or bottle of the trade is filled to (common practice)
        (PRESSURE, "bar", "4", "4.01"),
        (PRESSURE, "psi", "0", "-0.1"),
        (ALKALINITY, "mg/L as CaCO3", "5000", "5000.1"),
        (CONCENTRATION, "mg/L", "5000", "5000.1"),
    ],
)
def test_the_last_number_that_can_be_true_is_read(kind: MeasureKind, unit: str, last: str, beyond: str) -> None:
    assert isinstance(read_measure(f"{last} {unit}".strip(), kind), Measure)
    found = read_measure(f"{beyond} {unit}".strip(), kind)
    assert isinstance(found, Fault)
    assert found.code == "number-out-of-range"


@pytest.mark.parametrize(
    ("last", "beyond"),
    [
        # dry beer is lighter than water, and no wort is thicker than a syrup (common practice)
        ("-2 °P", "-2.01 °P"),
        ("60 °P", "60.1 °P"),
        ("-2 °Bx", "-2.01 °Bx"),
        ("60 Brix", "60.1 Brix"),
        ("0.98", "0.9799"),
        ("1.2", "1.2001"),
        # wort freezes, and boils, a few degrees from where water does (common practice)
        ("1.048 at -5 degC", "1.048 at -5.01 degC"),
        ("1.048 at 110 degC", "1.048 at 110.1 degC"),
    ],
)
def test_the_last_gravity_that_can_be_true_is_read(last: str, beyond: str) -> None:
    assert isinstance(read_gravity(last), Gravity)
    found = read_gravity(beyond)
    assert isinstance(found, Fault)
    assert found.code == "number-out-of-range"


@pytest.mark.parametrize(
    ("text", "kind", "kept"),
    [
        *((f"3 {word}", VOLUME, 3.0) for word in ("L", "l", "litre", "litres", "liter", "liters")),
        *((f"300 {word}", VOLUME, 0.3) for word in ("mL", "ml")),
        *((f"2 {word}", VOLUME, 200.0) for word in ("hL", "hl")),
        ("500 mg", WEIGHT, 0.0005),
        ("2 lbs", WEIGHT, 0.90718474),  # UK Weights and Measures Act 1985, Schedule 1
        *((f"2 {word}", TIME, 120.0) for word in ("h", "hour", "hours", "hr", "hrs")),
        *((f"3 {word}", TIME, 3.0) for word in ("min", "minutes")),
        *((f"1 {word}", TIME, 1440.0) for word in ("day", "days")),
        *((f"250 {word}", DIASTATIC_POWER, 250.0) for word in ("WK", "°WK")),
        *((f"76 {word}", DIASTATIC_POWER, 250.0) for word in ("Lintner", "°Lintner")),
        *((f"{number} {word}", LENGTH, 1.27) for number, word in (("1.27", "mm"), ("0.127", "cm"), ("0.05", "in"))),
        # 231 cubic inches, and a quart a quarter of that: 27 CFR 30.11; 4.54609 L: UK Weights and Measures Act 1985
        *((f"2 {word}", VOLUME, 2 * 3.785411784) for word in ("gal", "gals", "gallon", "gallons", "US gal", "gal.")),
        *((f"2 {word}", VOLUME, 2 * 3.785411784 / 4) for word in ("qt", "quart", "quarts")),
        *((f"2 {word}", VOLUME, 2 * 4.54609) for word in ("imp gal", "UK gal")),
        # the halves and eighths of kitchen scales and spoons; 9 lb 8 oz is nine pounds and a half
        *(
            (f"{number} lb", WEIGHT, 9.5 * 0.45359237)
            for number in ("9 1/2", "9-1/2", "9½", "9-½", "9 ½", "9.5", "9 8/16")
        ),
        *((text, WEIGHT, 9.5 * 0.45359237) for text in ("9 lb. 8 oz.", "9lb. 8oz", "9.5 lbs.")),
        *((f"{number} lb", WEIGHT, 0.45359237 / 8) for number in ("1/8", "⅛", "2/16")),
        ("9 lb ½ oz", WEIGHT, 0.45359237 * (9 + 1 / 32)),
        ("1 1/2 hr", TIME, 90.0),
        # a psi is 6.894757 kPa: NIST SP 811 (2008), B.8
        *((f"{number} {word}", PRESSURE, 0.9) for number, word in (("0.9", "bar"), ("90", "kPa"), ("13.0534", "psi"))),
        *(
            (f"2 {word}", COUNT, 2.0)
            for word in ("pieces", "packets", "tablets", "pods", "piece", "packet", "tablet", "pod")
        ),
        *((f"180 {word}", CELLS, 180.0) for word in ("billion", "billion cells")),
        ("1.45", NUMBER, 1.45),
        ("5 g/L", CARBONATION, 5.0),
        # a volume of CO2 at 0 °C and 1 atm: 44.01 g/mol in 22.263 L/mol, R. F. Weiss, Marine Chemistry 2 (1974) 203
        *((f"1 {word}", CARBONATION, 44.01 / 22.263) for word in ("volumes", "vols", "vol")),
        *((f"50 {word}", CONCENTRATION, 50.0) for word in ("mg/L", "mg/l", "ppm")),
        *((f"50 {word}", ALKALINITY, 50.0) for word in ("mg/L as CaCO3", "ppm as CaCO3", "mg/L", "mg/l", "ppm")),
        # by definition a German degree is 10 mg of CaO in a litre; CaCO3 is 100.087 and CaO 56.077 g/mol (from memory)
        *((f"1 {word}", ALKALINITY, 10 * 100.087 / 56.077) for word in ("°dH", "dH")),
        *((f"0.15 {word}", REFRACTION, 0.15) for word in ("°Bx", "Bx", "Brix")),
    ],
)
def test_every_spelling_of_a_unit_means_the_same(text: str, kind: MeasureKind, kept: float) -> None:
    found = read_measure(text, kind)
    assert isinstance(found, Measure), found
    assert found.value == pytest.approx(kept, rel=2e-4)


@pytest.mark.parametrize("kind", [*KINDS, PH, NUMBER], ids=lambda kind: kind.name)
def test_the_example_of_a_kind_is_one_of_it(kind: MeasureKind) -> None:
    called, example = kind.words.split(" such as ")
    assert called in {f"a {kind.name}", f"an {kind.name}"}
    assert isinstance(read_measure(example, kind), Measure)


def test_a_kind_has_its_article() -> None:
    words = {kind.called for kind in (*KINDS, PH)}
    assert words >= {"a weight", "a volume", "a share", "a malt colour", "a pH", "an alkalinity"}
    assert sum(word.startswith("an ") for word in words) == 1


def test_too_little_and_too_much_are_told_apart() -> None:
    none, much = read_measure("0 %", SHARE), read_measure("101 %", SHARE)
    assert isinstance(none, Fault)
    assert isinstance(much, Fault)
    assert "above 0" in none.message
    assert "above 0" not in much.message


@pytest.mark.parametrize(
    ("text", "instead"),
    [
        ("1048", "1.048"),
        ("1000", "1.000"),
        ("10", "1.010"),
        ("48", "1.048"),
        ("99", "1.099"),
        ("980", "0.98"),
        ("1200", "1.2"),
        ("104.7", "1.047"),
        ("1047.5", "1.0475"),
        ("10.47", "1.047"),
        ("9.98", "0.998"),
    ],
)
def test_a_gravity_without_its_point_is_told_how_it_is_written(text: str, instead: str) -> None:
    found = read_gravity(text)
    assert isinstance(found, Fault)
    assert f"Write {instead} " in found.hint


@pytest.mark.parametrize("text", ["9", "100", "3", "979", "1201"])
def test_a_number_that_is_no_degrees_of_gravity_gets_no_guess(text: str) -> None:
    found = read_gravity(text)
    assert isinstance(found, Fault)
    assert "1.048" in found.hint
    assert not any(f"Write {digits}" in found.hint for digits in ("1.0", "0.97", "1.2"))


@pytest.mark.parametrize(
    ("text", "why"), [("12 °P at 30 degC", "Plato is a strength"), ("12 °Bx at 30 degC", "refractometer compensates")]
)
def test_a_temperature_behind_a_strength_is_refused_with_the_reason(text: str, why: str) -> None:
    found = read_gravity(text)
    assert isinstance(found, Fault)
    assert why in found.message


# the digits that a brewer's own instruments give, where nothing is known of the uncertainty (common practice)
METRIC_SHOWN = {
    "1": (0.845, "84.5 %"),
    "kg": (4.347, "4.35 kg"),
    "L": (21.04, "21.0 L"),
    "L/kg": (3.046, "3.05 L/kg"),
    "L/h": (3.14, "3.1 L/h"),
    "SG": (1.0476, "1.048"),
    "°P": (12.04, "12.0 °P"),
    "°Bx": (12.44, "12.4 °Bx"),
    "pH": (5.364, "5.36"),
    "°C": (66.54, "66.5 °C"),
    "mm": (1.054, "1.05 mm"),
    "min": (59.7, "60 min"),
    "WK": (250.4, "250 WK"),
    "EBC": (12.4, "12 EBC"),
    "EBC of malt": (12.4, "12 EBC"),
    "IBU": (31.6, "32 IBU"),
    "g/L": (4.94, "4.9 g/L"),
    "°P/day": (1.26, "1.3 °P/day"),
    "days": (5.24, "5.2 days"),
    "kcal/100 mL": (41.4, "41 kcal/100 mL"),
    "g": (0.0354, "35 g"),
    "K": (0.54, "0.5 K"),
    "K/h": (2.34, "2.3 K/h"),
    "mg/L": (51.4, "51 mg/L"),
    "mg/L as CaCO3": (120.4, "120 mg/L as CaCO₃"),
    "°dH": (6.74, "6.7 °dH"),
    "°Lintner": (69.4, "69 °Lintner"),
}
# factors: NIST SP 811 (2008), B.8, and 27 CFR 30.11; a Kelvin is 1.8 steps of Fahrenheit; malt's degrees as in test_units
US_SHOWN = {
    "kg": (1.0, "2.20 lb"),
    "L": (20.0, "5.28 gal"),
    "L/kg": (3.0, "1.44 qt/lb"),
    "L/h": (3.785411784, "1.00 gal/h"),
    "°C": (66.7, "152 °F"),
    "mm": (1.05, "0.041 in"),
    "WK": (334.0, "100 °Lintner"),
    # beer's colour is a multiple of the same absorbance, 25 and 12.7 of it: EBC = 1.97 SRM, common practice
    "EBC": (19.7, "10 SRM"),
    "EBC of malt": (24.0, "10 °L"),
    "g": (0.0354, "1.25 oz"),
    "K": (1.0, "1.8 °F"),
    "K/h": (2.0, "3.6 °F/h"),
    "g/L": (1.977 * 2.4, "2.40 volumes"),
}


@pytest.mark.parametrize("unit", METRIC_SHOWN)
def test_each_kept_unit_is_shown_with_its_digits(unit: str) -> None:
    value, shown = METRIC_SHOWN[unit]
    assert str(show(value, 0.0, unit, METRIC)) == shown


@pytest.mark.parametrize("unit", METRIC_SHOWN)
def test_each_kept_unit_is_shown_as_the_us_have_it(unit: str) -> None:
    value, shown = US_SHOWN.get(unit, METRIC_SHOWN[unit])
    assert str(show(value, 0.0, unit, US)) == shown


@pytest.mark.parametrize(
    ("number", "decimals", "shown"),
    [(0.0, 1, "0.0"), (-0.04, 1, "0.0"), (1.25, 1, "+1.2"), (-3.0, 0, "−3"), (0.5, 1, "+0.5"), (10.0, 0, "+10")],
)
def test_a_signed_number_has_a_sign_unless_it_is_nought(number: float, decimals: int, shown: str) -> None:
    assert signed(plain(number, decimals)) == shown


@pytest.mark.parametrize(
    ("litres", "system", "written"),
    [
        (0.0996, METRIC, "100 mL"),
        (0.0994, METRIC, "99 mL"),
        (0.104, METRIC, "100 mL"),
        (0.106, METRIC, "110 mL"),
        (0.012, METRIC, "12 mL"),
        (0.09945, METRIC, "99 mL"),
        (0.1008, METRIC, "100 mL"),
        (0.0, METRIC, "0.0 L"),
        (1.0, METRIC, "1.0 L"),
        (3.785411784, US, "1.00 gal"),
        (3.785411784 * 0.9, US, "3.60 qt"),  # four quarts to a gallon: NIST Handbook 44, appendix C
    ],
)
def test_a_volume_is_written_as_it_is_measured_out(litres: float, system: str, written: str) -> None:
    assert writing.volume(litres, system) == written


@pytest.mark.parametrize(
    ("kg", "written"),
    [
        (0.01994, "19.9 g"),
        (0.02014, "20 g"),
        (0.0204, "20 g"),
        (0.0994, "99 g"),
        (0.1006, "100 g"),
        (0.1024, "100 g"),
        (0.1026, "105 g"),
        (0.2476, "250 g"),
        (0.2549, "250 g"),
        (0.2551, "260 g"),
        (0.996, "1.00 kg"),
        (0.9949, "990 g"),
        (25.0, "25.00 kg"),  # a sack of malt
    ],
)
def test_a_weight_is_written_to_what_the_scale_reads(kg: float, written: str) -> None:
    assert writing.weight(kg) == written


@pytest.mark.parametrize("number", ["3/2", "1/0", "0/2", "1/17", "1/2/3", "9.5 1/2", "1 1/2 1/2"])
def test_what_is_no_proper_fraction_is_refused(number: str) -> None:
    assert isinstance(read_measure(f"{number} lb", WEIGHT), Fault)


def test_a_brewer_says_which_gallon_is_meant() -> None:
    """4.54609 L, UK Weights and Measures Act 1985; a quart is a quarter of either."""
    for text, kind, kept in (
        ("5 gal", VOLUME, 5 * 4.54609),
        ("2 quarts", VOLUME, 4.54609 / 2),
        ("5 US gal", VOLUME, 5 * 3.785411784),
        ("1 gal/h", VOLUME_RATE, 4.54609),
    ):
        found = read_measure(text, kind, gallon="imperial")
        assert isinstance(found, Measure)
        assert found.value == pytest.approx(kept)


@pytest.mark.parametrize(
    ("sd", "unit", "metric", "us"),
    [
        # a kelvin is 1.8 steps of Fahrenheit; 3.5 WK are a degree Lintner, Oxford Companion to Beer (2011)
        (0.5, "°C", "0.5 °C", "1 °F"),
        (21.0, "WK", "21 WK", "6 °Lintner"),
        (2.65, "EBC of malt", "3 EBC", "1 °L"),
        (0.45359237, "kg", "0.45 kg", "1.00 lb"),
    ],
)
def test_an_uncertainty_by_itself_is_converted_as_a_difference(sd: float, unit: str, metric: str, us: str) -> None:
    assert str(show_spread(sd, unit, METRIC)) == metric
    assert str(show_spread(sd, unit, US)) == us


@pytest.mark.parametrize(
    ("word", "meant"),
    [
        ("lt", "L"),
        ("ltr", "L"),
        ("#", "lb"),
        ("ea", "piece"),
        ("vial", "packet"),
        ("pkg", "packet"),
        ("sachet", "packet"),
    ],
)
def test_what_some_call_a_unit_is_told_by_ours(word: str, meant: str) -> None:
    kind = next(kind for kind in (WEIGHT, VOLUME, COUNT) if meant in kind.written)
    fault = read_measure(f"2 {word}", kind)
    assert isinstance(fault, Fault)
    assert f"2 {meant}" in fault.hint


@pytest.mark.parametrize("text", ["1/1 kg", "2/1 kg", "16/17 kg", "0/4 kg", "1/0 kg"])
def test_no_fraction_of_a_scale(text: str) -> None:
    assert isinstance(read_measure(text, WEIGHT), Fault)

"""Numbers as people read them: no more digits than the uncertainty allows."""

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from journal.measures.wording import US, per_cents, show, show_difference, show_range, whole_degrees


@pytest.mark.parametrize(
    ("value", "sd", "unit", "shown"),
    [
        # one digit of the uncertainty, two where it begins with 1 (common practice)
        (20.123, 0.25, "L", "20.1 ± 0.2 L"),
        (20.123, 0.31, "L", "20.1 ± 0.3 L"),
        (20.123, 0.12, "L", "20.12 ± 0.12 L"),
        (20.123, 0.09, "L", "20.12 ± 0.09 L"),
        (20.1234, 0.019, "L", "20.123 ± 0.019 L"),
        (20.123, 1.4, "L", "20.1 ± 1.4 L"),
        (20.123, 2.4, "L", "20 ± 2 L"),
        # an uncertainty that rounds up to a 1 keeps two digits: 0.0996 is 0.10
        (20.123, 0.0996, "L", "20.12 ± 0.10 L"),
        (20.123, 0.996, "L", "20.1 ± 1.0 L"),
        (237.4, 9.96, "WK", "237 ± 10 WK"),
        (237.4, 25.0, "WK", "237 ± 25 WK"),
        (237.4, 1.2, "WK", "237.4 ± 1.2 WK"),
        (237.44, 0.1, "WK", "237.44 ± 0.10 WK"),
        (237.44, 0.2, "WK", "237.4 ± 0.2 WK"),
        (1.04812, 0.001, "SG", "1.0481 ± 0.0010"),
        (1.04812, 0.0007, "SG", "1.0481 ± 0.0007"),
        # a density meter is good to some units of the fifth decimal: its uncertainty is never shown as nought
        (1.048123, 0.00004, "SG", "1.04812 ± 0.00004"),
        (1.048123, 0.000012, "SG", "1.048123 ± 0.000012"),
        (1.048123, 0.000002, "SG", "1.048123 ± 0.000002"),
        (1.048123, 0.0000014, "SG", "1.048123 ± 0.000001"),
        (0.0042, 0.00003, "kg", "0.00420 ± 0.00003 kg"),
        # what is nothing in the sixth is as good as not known
        (1.048123, 0.0000004, "SG", "1.048"),
        (0.8423, 0.021, "1", "84 ± 2 %"),
        (0.8423, 0.013, "1", "84.2 ± 1.3 %"),
        # what nobody says in per cent, though its unit is one
        (2.417, 0.3, "ratio", "2.4 ± 0.3"),
        (2.417, 0.0, "ratio", "2.42"),
        (-0.031, 0.012, "kg", "−0.031 ± 0.012 kg"),
        # nothing is known of the uncertainty: the unit's own decimals
        (20.123, 0.0, "L", "20.1 L"),
        (1.04812, 0.0, "SG", "1.048"),
        (5.361, 0.0, "pH", "5.36"),
        (20.123, 0.0, "kg", "20.12 kg"),
        (1.2345, 0.0, "h", "1.2 h"),
        (1.2345, 0.0, "bar", "1.23 bar"),
        (1.2345, 0.0, "meq/L", "1.23 meq/L"),
        (1.2345, 0.0, "million/(mL·°P)", "1.23 million/(mL·°P)"),
        (180.45, 0.0, "billion", "180 billion"),
        (71.45, 0.0, "°Lintner", "71 °Lintner"),
        # never a negative zero
        (-0.001, 0.0, "L", "0.0 L"),
        (-0.02, 0.3, "L", "0.0 ± 0.3 L"),
    ],
)
def test_digits(value: float, sd: float, unit: str, shown: str) -> None:
    assert str(show(value, sd, unit)) == shown


@pytest.mark.parametrize(
    ("value", "sd", "unit", "shown"),
    [
        # 1 lb is 0.45359237 kg, 1 US gallon 3.785411784 L, 1 in 25.4 mm: NIST Handbook 44, appendix C
        (0.45359237 * 9.5, 0.0, "kg", "9.50 lb"),
        (3.785411784 * 5.3, 3.785411784 * 0.06, "L", "5.30 ± 0.06 gal"),
        (200.0 / 3.0, 0.5, "°C", "152.0 ± 0.9 °F"),
        (20.0, 0.0, "°C", "68 °F"),
        (25.4 * 0.045, 0.0, "mm", "0.045 in"),
        (0.028349523125, 0.0, "g", "1.00 oz"),
        (334.0, 0.0, "WK", "100 °Lintner"),
        (157.8, 2.65 * 3, "EBC of malt", "60 ± 3 °L"),
        # beer's EBC is 1.97 SRM, common practice
        (19.7, 1.97, "EBC", "10.0 ± 1.0 SRM"),
        (2.08635, 0.0, "L/kg", "1.00 qt/lb"),
        (1.04812, 0.001, "SG", "1.0481 ± 0.0010"),
        (0.8423, 0.021, "1", "84 ± 2 %"),
    ],
)
def test_us_units(value: float, sd: float, unit: str, shown: str) -> None:
    assert str(show(value, sd, unit, US)) == shown


@pytest.mark.parametrize("bad", [float("nan"), float("inf")])
def test_an_unknown_uncertainty_is_left_away(bad: float) -> None:
    assert str(show(20.123, bad, "L")) == "20.1 L"
    assert str(show(20.123, unit="L")) == "20.1 L"


@settings(max_examples=200, deadline=None)
@given(st.floats(-1e4, 1e4), st.floats(-5.0, 3.0).map(lambda power: 10.0**power))
def test_shown_value_and_uncertainty_end_at_the_same_decimal_and_stay_near(value: float, sd: float) -> None:
    shown = show(value, sd, "kg")
    decimals = [len(text.partition(".")[2]) for text in (shown.value, shown.sd)]
    assert decimals[0] == decimals[1]
    number, spread = (float(text.replace("−", "-")) for text in (shown.value, shown.sd))
    # 9.5 shown as 10, or 1.45 as 1.4 and 2.5 as 2: never more than a quarter away
    assert spread == pytest.approx(sd, rel=0.25)
    assert abs(number - value) <= 0.5 * 10 ** -decimals[0] * 1.000001
    assert not re.fullmatch(r"−0(\.0*)?", shown.value)
    if sd < 10.0:
        digits = shown.sd.replace(".", "").lstrip("0")
        # two where it begins with 1; else one, with a nought after it where it rounds up to 10
        assert len(digits if f"{sd:.6e}"[0] == "1" else digits.rstrip("0") + "0") == 2


def test_ranges() -> None:
    assert show_range(0.712, 0.779, "1") == "71.2 to 77.9 %"
    assert show_range(0.0, 3.785411784, "L", US) == "0.0 to 1.0 gal"
    assert show_range(20.0, 20.0, "L") == "20.0 to 20.0 L"
    assert show_range(10.4, 310.4, "L") == "10 to 310 L", "a width of hundreds deserves no tenths"
    assert show_range(10.4, 10.41, "L") == "10.4 to 10.4 L", "nor does a litre's tenth more digits, however narrow"
    assert show_range(0.71234, 0.71334, "1") == "71.2 to 71.3 %"
    assert show_range(237.2, 240.2, "WK") == "237 to 240 WK"
    assert show_range(1.05, 1.04, "SG") == "1.040 to 1.050", "the lower end first, whatever the order given"


@pytest.mark.parametrize(
    ("value", "sd", "unit", "metric", "us"),
    [
        (0.032, 0.007, "1", "+3.2 ± 0.7 points", "+3.2 ± 0.7 points"),
        (-0.002, 0.0007, "SG", "−0.0020 ± 0.0007", "−0.0020 ± 0.0007"),
        (-1.2, 0.3, "L", "−1.2 ± 0.3 L", "−0.32 ± 0.08 gal"),
        # a kelvin is 1.8 degrees Fahrenheit, and no difference lies at 32 (definition)
        (2.0, 0.5, "°C", "+2.0 ± 0.5 °C", "+3.6 ± 0.9 °F"),
        (0.0, 0.3, "L", "0.0 ± 0.3 L", "0.00 ± 0.08 gal"),
        # of no stated uncertainty; a pound is 0.45359237 kg
        (-0.021, 0.0, "1", "−2.1 points", "−2.1 points"),
        (0.45359237, 0.0, "kg", "+0.45 kg", "+1.00 lb"),
    ],
)
def test_differences_have_their_sign(value: float, sd: float, unit: str, metric: str, us: str) -> None:
    assert str(show_difference(value, sd, unit)) == metric
    assert str(show_difference(value, sd, unit, US)) == us


@pytest.mark.parametrize(("system", "shown"), [("metric", "65 °C"), (US, "149 °F")])
def test_rough_temperatures_are_whole_degrees(system: str, shown: str) -> None:
    assert whole_degrees(65.2, system) == shown


@pytest.mark.parametrize(
    ("shares", "shown"),
    [
        # what is cut off goes to those that lost most: 70.6, 12.6, 8.6 and 8.2 make 100
        ([0.706, 0.126, 0.086, 0.082], ["70 %", "13 %", "9 %", "8 %"]),
        ([0.954, 0.046], ["95 %", "5 %"]),
        ([0.29, 0.71], ["29 %", "71 %"]),
        ([1.0], ["100 %"]),
        # alike stays alike, though three thirds make 99
        ([1 / 3, 1 / 3, 1 / 3], ["33 %", "33 %", "33 %"]),
        ([0.125] * 8, ["12 %"] * 8),
        # where one is small, not known or none, or they are no whole, each stands for itself
        ([0.996, 0.004], ["100 %", "0.4 %"]),
        ([0.9905, 0.0095], ["99 %", "1 %"]),
        ([0.506, None], ["51 %", ""]),
        ([0.506, 0.306], ["51 %", "31 %"]),
        ([0.756, 0.244, 0.0], ["76 %", "24 %", ""]),
    ],
)
def test_shares_of_one_whole(shares: list[float | None], shown: list[str]) -> None:
    assert per_cents(shares) == shown


@given(st.lists(st.integers(20, 1000), min_size=1, max_size=9, unique=True))
def test_shares_add_up_and_none_is_off_by_a_per_cent(parts: list[int]) -> None:
    shares = [part / sum(parts) for part in parts]
    shown = [float(text.removesuffix(" %")) for text in per_cents(shares)]
    if min(shares) > 0.01:
        assert sum(shown) == 100
    assert all(abs(number - 100 * share) < 1.0 for number, share in zip(shown, shares, strict=True))

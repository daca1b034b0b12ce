"""Uncertainty and correlation: the worked examples of the GUM, and drawing at random."""

import math
from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from texts import figures, settings_at
from uncertainties import ufloat, wrap

from journal.figures.propagate import contributions, nominal, propagate
from journal.figures.uncertain import ErrorSource, Uncertain, source

# JCGM 100:2008, annex H.2: simultaneous resistance and reactance measurement, table H.2
VOLTS = [5.007, 4.994, 5.005, 4.990, 4.999]
AMPERES = [0.019663, 0.019639, 0.019640, 0.019685, 0.019678]
RADIANS = [1.0456, 1.0438, 1.0468, 1.0428, 1.0433]
# annex H.3: calibration of a thermometer, table H.6, °C
SHOWN = [21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511]
CORRECTION = [-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.160]


class Circuit(NamedTuple):
    volts: float
    amperes: float
    radians: float


def resistance(circuit: Circuit) -> float:
    return circuit.volts / circuit.amperes * math.cos(circuit.radians)


def reactance(circuit: Circuit) -> float:
    return circuit.volts / circuit.amperes * math.sin(circuit.radians)


def impedance(volts: float, amperes: float) -> float:
    return volts / amperes


def correlated(values: np.ndarray, covariance: np.ndarray) -> list[Uncertain]:
    """Numbers of a given covariance, made of independent ones along its principal axes."""
    sizes, axes = np.linalg.eigh(covariance)
    parts = axes * np.sqrt(np.maximum(sizes, 0.0))
    return [Uncertain(v, {f"axis {k}": p for k, p in enumerate(row)}) for v, row in zip(values, parts, strict=True)]


def covariance_of(*numbers: Uncertain) -> np.ndarray:
    tags = sorted({tag for number in numbers for tag in number.parts})
    parts = np.array([[number.parts.get(tag, 0.0) for tag in tags] for number in numbers])
    return parts @ parts.T


@pytest.fixture
def circuit() -> Circuit:
    readings = np.array([VOLTS, AMPERES, RADIANS])
    return Circuit(*correlated(readings.mean(axis=1), np.cov(readings) / len(VOLTS)))


@pytest.mark.parametrize(
    ("function", "value", "sd", "printed"),
    [(resistance, 127.732, 0.071, 0.0005), (reactance, 219.847, 0.295, 0.0015)],
)
def test_gum_h_2_with_a_record_of_correlated_numbers(
    function: Callable[[Circuit], float], value: float, sd: float, printed: float, circuit: Circuit
) -> None:
    """JCGM 100:2008, table H.4; of the reactance's uncertainty the GUM's third digit is cut, not rounded (0.2956)."""
    found = propagate(function, {"circuit": circuit})
    assert found.value == pytest.approx(value, abs=0.0005)
    assert found.sd == pytest.approx(sd, abs=printed)


def test_gum_h_2_with_separate_numbers_and_their_correlations(circuit: Circuit) -> None:
    r, x = (propagate(function, {"circuit": circuit}) for function in (resistance, reactance))
    z = propagate(impedance, {"volts": circuit.volts, "amperes": circuit.amperes})
    assert z.value == pytest.approx(254.260, abs=0.0005)
    assert z.sd == pytest.approx(0.236, abs=0.0005)
    covariance = covariance_of(r, x, z)
    matrix = covariance / np.sqrt(np.outer(np.diag(covariance), np.diag(covariance)))
    assert matrix[0][1] == pytest.approx(-0.588, abs=0.001)
    assert matrix[0][2] == pytest.approx(-0.485, abs=0.001)
    assert matrix[1][2] == pytest.approx(0.993, abs=0.001)


def test_without_their_correlation_h_2_would_come_out_wrong(circuit: Circuit) -> None:
    """The GUM's inputs taken for independent give 0.195 instead of 0.071: what a lost covariance would do."""
    apart = Circuit(*(source(part.value, part.sd, ErrorSource(name)) for name, part in circuit._asdict().items()))
    assert propagate(resistance, {"circuit": apart}).sd == pytest.approx(0.195, abs=0.001)


def test_gum_h_3() -> None:
    """JCGM 100:2008, annex H.3: the correction predicted at 30 °C is -0.1494 °C with u = 0.0041 °C."""
    away = np.array(SHOWN) - 20.0
    (slope, intercept), covariance = np.polyfit(away, CORRECTION, 1, cov="unscaled")
    left = np.array(CORRECTION) - np.polyval([slope, intercept], away)
    covariance = covariance * float(left @ left) / (len(away) - 2)
    assert intercept == pytest.approx(-0.1712, abs=0.00005)
    assert slope == pytest.approx(0.00218, abs=0.000005)
    line = tuple(correlated(np.array([intercept, slope]), covariance[::-1, ::-1]))

    found = propagate(lambda line, at: line[0] + line[1] * (at - 20.0), {"line": line, "at": 30.0})
    assert found.value == pytest.approx(-0.1494, abs=0.00005)
    assert found.sd == pytest.approx(0.0041, abs=0.00005)


def test_numbers_texts_and_none_pass_through() -> None:
    def reckon(numbers: tuple[float, ...], word: str, nothing: float | None) -> float:
        assert (word, nothing) == ("word", None)
        return sum(numbers)

    found = propagate(
        reckon,
        {
            "numbers": (1.0, source(2.0, 0.3, ErrorSource("two")), source(3.0, 0.4, ErrorSource("three"))),
            "word": "word",
            "nothing": None,
        },
    )
    assert (found.value, found.sd) == (6.0, pytest.approx(0.5))
    assert propagate(lambda a: a + 1.0, {"a": 1.0}) == 2.0, "with nothing uncertain a plain number comes back"


def test_one_number_in_two_places_is_one_number() -> None:
    x = source(3.0, 0.1, ErrorSource("x"))
    assert propagate(lambda a, b: a - b, {"a": x, "b": x}).sd == pytest.approx(0.0, abs=1e-12)
    assert propagate(lambda pair: pair[0] * pair[1], {"pair": (x, x)}).sd == pytest.approx(0.6, rel=1e-6)


@pytest.mark.parametrize(("function", "at"), [(math.exp, 2.0), (math.sin, 0.0), (math.sqrt, 1e6), (math.log, 1e-3)])
def test_slopes_as_the_library_finds_them(function: Callable[[float], float], at: float) -> None:
    from uncertainties import umath  # noqa: PLC0415

    sd = at * 0.01 or 0.01
    theirs = getattr(umath, function.__name__)(ufloat(at, sd))
    ours = propagate(lambda numbers: function(*numbers), {"numbers": (source(at, sd, ErrorSource("x")),)})
    assert ours.sd == pytest.approx(theirs.std_dev, rel=1e-6)


@given(st.lists(st.tuples(st.floats(0.5, 5.0), st.floats(0.001, 0.05)), min_size=3, max_size=3))
def test_a_chain_of_functions_comes_out_as_the_library_has_it(inputs: list[tuple[float, float]]) -> None:
    """Two figures that share readings, and a third of both: held against `uncertainties`, correlations and all."""

    def first(a: float, b: float) -> float:
        return a * a / b

    def second(b: float, c: float) -> float:
        return math.exp(-b) + math.sqrt(c)

    def third(x: float, y: float) -> float:
        return x / y - y

    a, b, c = (source(value, sd, ErrorSource(tag)) for (value, sd), tag in zip(inputs, "abc", strict=True))
    x, y = propagate(first, {"a": a, "b": b}), propagate(second, {"b": b, "c": c})
    ours = propagate(third, {"x": x, "y": y})
    p, q, r = (ufloat(value, sd) for value, sd in inputs)
    theirs = wrap(third)(wrap(first)(p, q), wrap(second)(q, r))
    assert ours.value == pytest.approx(theirs.nominal_value)
    assert ours.sd == pytest.approx(theirs.std_dev, rel=1e-4)


def test_contributions_are_named_largest_first_and_add_up() -> None:
    a, b = source(1.0, 0.3, ErrorSource("a")), source(1.0, 0.4, ErrorSource("b"))
    total = propagate(lambda a, b: a + b, {"a": a, "b": b})
    parts = [(str(of), part) for of, part in contributions(total).items()]
    assert parts == [("b", pytest.approx(0.4)), ("a", pytest.approx(0.3))]
    assert math.hypot(*contributions(total).values()) == pytest.approx(total.sd)
    assert (contributions(2.0), nominal(2.0), nominal(a)) == ({}, 2.0, 1.0)


def test_covariance_is_kept_between_results() -> None:
    a = source(2.0, 0.1, ErrorSource("a"))
    double, square = propagate(lambda a: 2 * a, {"a": a}), propagate(lambda a: a * a, {"a": a})
    assert covariance_of(double, square)[0][1] == pytest.approx(2 * 4 * 0.01, rel=1e-6)


SHEETS = """
    one: {extract: 80 %, moisture: 4 %, source: typical}
    two: {extract: 80 %, moisture: 4 %, source: typical}
"""


@pytest.mark.parametrize(("second", "shared"), [("one", True), ("two", False)])
def test_one_lot_s_sheet_is_one_error(second: str, shared: bool, tmp_path: Path) -> None:
    """20,000 draws know a standard deviation to 0.5 %; 2 % is four times that."""
    malts = settings_at(tmp_path, malts=SHEETS)[1]
    found = figures(f"grains: [{{malt: one, weight: 3 kg}}, {{malt: {second}, weight: 3 kg}}]", malts=malts)
    chance = np.random.default_rng(7)
    weights = chance.normal(3.0, 0.03, (2, 20_000))
    extracts, moistures = chance.normal(0.80, 0.015, (2, 20_000)), chance.normal(0.04, 0.008, (2, 20_000))
    if shared:
        extracts[1], moistures[1] = extracts[0], moistures[0]
    drawn = (weights * (1 - moistures) * extracts).sum(axis=0)
    assert found["potential_extract"].sd == pytest.approx(float(drawn.std()), rel=0.02)


def test_a_kind_s_typical_value_is_one_error_too() -> None:
    """Two lines of the same kind are as wrong together as one line of their sum."""
    two = figures("grains: [{malt: pale malt, weight: 3 ± 0.0001 kg}, {malt: pale malt, weight: 3 ± 0.0001 kg}]")
    one = figures("grains: [{malt: pale malt, weight: 6 ± 0.0001 kg}]")
    assert two["potential_extract"].sd == pytest.approx(one["potential_extract"].sd, rel=1e-4)


def test_two_statements_in_one_entry_are_two_errors() -> None:
    line = "{malt: a, weight: 3 ± 0.0001 kg, extract: 80 %, moisture: 4.0 ± 0.0001 %}"
    two = figures(f"grains: [{line}, {line.replace('malt: a', 'malt: b')}]")["potential_extract"]
    # 3 kg of 96 % dry matter at 1.5 points each, independent
    assert two.sd == pytest.approx(3 * 0.96 * 0.015 * math.sqrt(2), rel=1e-3)


@pytest.mark.parametrize(
    ("source", "extract", "moisture"),
    [("certificate", 0.005, 0.003), ("datasheet", 0.010, 0.005), ("typical", 0.015, 0.008), ("guess", 0.030, 0.015)],
)
def test_malt_values_are_as_good_as_their_source(source: str, extract: float, moisture: float) -> None:
    """The format's defaults, common practice, in percentage points."""
    grain = f"{{malt: a, weight: 4 kg, extract: 80 %, moisture: 4 %, source: {source}}}"
    parts = {str(of): part for of, part in figures(f"grains: [{grain}]")["potential_extract"].parts}
    assert parts == {
        "grains[0].weight": pytest.approx(0.04 * 0.96 * 0.80),
        "grains[0].extract": pytest.approx(4 * 0.96 * extract),
        "grains[0].moisture": pytest.approx(4 * 0.80 * moisture),
    }


@pytest.mark.parametrize("grain", ["malt: hulls", "malt: x, extract: 0 %", "malt: x, extract_as_is: 0 %"])
def test_nothing_is_uncertain_about_a_grain_without_extract(grain: str) -> None:
    found = figures(f"grains: [{{weight: 4 kg, {grain}}}]")["potential_extract"]
    assert (found.value, found.sd) == (0.0, 0.0)


@pytest.mark.parametrize(
    ("fields", "name", "sd"),
    [
        # the format's defaults, common practice
        ("grains: [{malt: pale malt, weight: 4 kg}]", "grain_weight", 0.04),
        ("grains: [{malt: pale malt, weight: 400 g}]", "grain_weight", 0.01),
        ("fermenter: {volume: 20 L}", "fermenter_volume", 0.4),
        ("fermenter: {volume: 5 L}", "fermenter_volume", 0.2),
        ("fermenter: {gravity: 1.050}", "original_gravity", 0.001),
        ("fermenter: {gravity: 12 °P}", "original_gravity", 0.001),
        ("mash: {ph: 5.36}", "mash_ph", 0.05),
        # the reading's own wins
        ("grains: [{malt: pale malt, weight: 4 ± 0.002 kg}]", "grain_weight", 0.002),
        ("fermenter: {volume: 20 ± 0.1 L}", "fermenter_volume", 0.1),
        ("fermenter: {volume: 5 ± 0.1 gal}", "fermenter_volume", 0.3785411784),
        ("fermenter: {gravity: 1.050 ± 0.0003}", "original_gravity", 0.0003),
        ("fermenter: {gravity: 12 ± 0.05 °P}", "original_extract", 0.05),
        ("mash: {ph: 5.36 ± 0.01}", "mash_ph", 0.01),
    ],
)
def test_uncertainty_of_a_reading(fields: str, name: str, sd: float) -> None:
    assert figures(fields)[name].sd == pytest.approx(sd, rel=1e-4)


INSTRUMENTS = """
    instruments:
      malt_scale: 5 g
      hop_scale: 0.1 g
      volume: 0.1 L
      hydrometer: {uncertainty: 0.0005}
      refractometer: {uncertainty: 0.1 °Bx}
      thermometer: 0.9 degF
      ph_meter: {uncertainty: 0.02}
"""


@pytest.mark.parametrize(
    ("fields", "name", "sd"),
    [
        ("grains: [{malt: pale malt, weight: 4 kg}]", "grain_weight", 0.005),
        ("grains: [{malt: pale malt, weight: 4 ± 0.002 kg}]", "grain_weight", 0.002),
        ("fermenter: {volume: 20 L}", "fermenter_volume", 0.1),
        ("fermenter: {gravity: 1.050}", "original_gravity", 0.0005),
        ("fermenter: {gravity: 12 °P}", "original_gravity", 0.0005),
        ("mash: {ph: 5.36}", "mash_ph", 0.02),
        # 0.35 in 45 K (Briggs et al., from memory) by the thermometer's 0.9 °F, which is 0.5 K
        ("mash: {ph: 5.36 ± 0.000001 at 30 degC}", "mash_ph", 0.35 / 45 * 0.5),
    ],
)
def test_uncertainty_of_an_instrument(fields: str, name: str, sd: float, tmp_path: Path) -> None:
    brewery = settings_at(tmp_path, INSTRUMENTS)[0]
    assert figures(fields, brewery)[name].sd == pytest.approx(sd, rel=1e-4)


def test_a_refractometer_of_no_stated_factor() -> None:
    """0.2 °Bx and 1.04 ± 0.02, common practice."""
    found = figures("fermenter: {gravity: 12.48 °Bx}")["original_extract"]
    assert found.sd == pytest.approx(12.0 * math.hypot(0.2 / 12.48, 0.02 / 1.04), rel=1e-6)


@pytest.mark.parametrize("name", ["alcohol_by_volume", "alcohol_by_weight"])
def test_alcohol_carries_its_relation_s_own_uncertainty(name: str) -> None:
    """34 beers of 1917 lie 0.14 % by volume off, which is 0.11 % by weight; exact readings leave just that."""
    found = figures(
        "fermenter: {gravity: 1.050 ± 0.000001}\nreadings: [{at: 2026-04-24 20:00, gravity: 1.010 ± 0.000001}]"
    )
    assert found[name].sd == pytest.approx({"alcohol_by_volume": 0.0014, "alcohol_by_weight": 0.00110}[name], rel=0.02)


def test_alcohol_from_two_hydrometer_readings() -> None:
    """√2 × 0.001 × about 130 % by volume (HMRC's factor for this band) and 0.14 % of the relation."""
    found = figures("fermenter: {gravity: 1.050}\nreadings: [{at: 2026-04-24 20:00, gravity: 1.010}]")
    assert found["alcohol_by_volume"].sd == pytest.approx(math.hypot(math.sqrt(2) * 0.00130, 0.0014), rel=0.03)

"""Numbers as entries have them: what is written can be read back, and is rounded as a brewer measures."""

from __future__ import annotations

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from journal.measures import Measure, MeasureKind, read_measure, writing
from journal.measures.units import TEMPERATURE, TIME, VOLUME, WEIGHT
from journal.measures.wording import METRIC, US


def value(text: str, kind: object) -> float:
    found = read_measure(text, kind)  # type: ignore[arg-type]
    assert isinstance(found, Measure), found
    return found.value


@given(st.floats(0.002, 60.0), st.sampled_from([METRIC, US]))
def test_weights_come_back_within_half_a_step(kg: float, system: str) -> None:
    # 10 g, or half an ounce, is the widest step
    assert value(writing.weight(kg, system), WEIGHT) == pytest.approx(kg, abs=0.0072, rel=0.03)


@given(st.floats(0.05, 500.0), st.sampled_from([METRIC, US]))
def test_volumes_come_back_within_half_a_step(litres: float, system: str) -> None:
    # half a tenth of a litre, or half a twentieth of a gallon of 3.785411784 L
    widest = 0.05 if system == METRIC else 0.025 * 3.785411784
    assert value(writing.volume(litres, system), VOLUME) == pytest.approx(litres, abs=widest + 1e-9)


@given(st.floats(-5.0, 105.0), st.sampled_from([METRIC, US]))
def test_temperatures_come_back_within_half_a_step(celsius: float, system: str) -> None:
    assert value(writing.temperature(celsius, system), TEMPERATURE) == pytest.approx(celsius, abs=0.2801)


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        (writing.weight(4.349), "4.35 kg"),
        (writing.weight(0.9996), "1.00 kg"),
        (writing.weight(0.2512), "250 g"),
        (writing.weight(0.0123), "12.3 g"),
        # a step is finer below 20, 100 and 250 g, and below four and eight ounces
        (writing.weight(0.0199), "19.9 g"),
        (writing.weight(0.0204), "20 g"),
        (writing.weight(0.0994), "99 g"),
        (writing.weight(0.102), "100 g"),
        (writing.weight(0.248), "250 g"),
        (writing.weight(0.254), "250 g"),
        (writing.weight(0.0283495 * 0.97, US), "0.95 oz"),
        (writing.weight(0.0283495 * 3.93, US), "3.95 oz"),
        (writing.weight(0.0283495 * 4.13, US), "4.1 oz"),
        (writing.weight(0.0283495 * 7.93, US), "7.9 oz"),
        (writing.weight(0.0283495 * 8.2, US), "8 oz"),
        (writing.volume(0.099), "99 mL"),
        (writing.volume(0.104), "100 mL"),
        # what is small stays in the brewer's own unit
        (writing.amount(0.449, "pound"), "16 oz"),
        (writing.amount(0.0283495 * 0.138, "ounce"), "0.14 oz"),
        (writing.amount(0.451, "pound"), "450 g"),
        (writing.amount(0.249, "us_quart"), "0.263 qt"),
        (writing.amount(0.26, "us_quart"), "260 mL"),
        # 1 lb is 0.45359237 kg and 16 oz
        (writing.weight(9 * 0.45359237 + 0.45359237 / 2, US), "9 lb 8 oz"),
        (writing.weight(0.45359237 * 15.9 / 16, US), "1 lb"),
        (writing.weight(0.45359237 * 9.5 / 8, US), "1 lb 3 oz"),
        (writing.weight(0.45359237 * (9 + 0.5 / 16), US), "9 lb 0.5 oz"),
        (writing.weight(0.45359237 * 0.63 / 16, US), "0.65 oz"),
        (writing.weight(0.0283495 * 1.06, US), "1.05 oz"),
        (writing.weight(0.0283495 * 1.82, US), "1.8 oz"),
        (writing.weight(0.0283495 * 14.9, US), "15 oz"),
        (writing.volume(21.04), "21.0 L"),
        (writing.volume(0.25), "250 mL"),
        (writing.volume(5.5 * 3.785411784, US), "5.50 gal"),
        (writing.temperature(66.6), "66.5 degC"),
        (writing.temperature(66.6667, US), "152 degF"),
        (writing.time(59.6), "60 min"),
        (writing.gravity(1.0496), "1.050"),
    ],
)
def test_rounded_as_it_is_measured(text: str, wanted: str) -> None:
    assert text == wanted


def test_times_are_read_back() -> None:
    assert value(writing.time(90.0), TIME) == 90.0


@pytest.mark.parametrize(
    ("kept", "unit", "system", "written"),
    [
        # a syringe of acid is no part of a quart, and a spoon of salt no tenth of an ounce
        (0.003, "millilitre", US, "3 mL"),
        (0.0033, "millilitre", US, "3.3 mL"),
        (0.0042, "gram", US, "4.2 g"),
        (0.0042, "gram", METRIC, "4.2 g"),
        (0.14 * 0.45359237 / 16, "ounce", US, "0.14 oz"),
        # what a pocket scale, a syringe and spoons show, and no more
        (0.138 * 0.45359237 / 16, "ounce", US, "0.14 oz"),
        (0.00502, "millilitre", US, "5 mL"),
        (1.02 * 0.00492892, "us_teaspoon", US, "1 tsp"),
        (0.0315, "gram", US, "32 g"),
        # what is as heavy as a malt is weighed as one
        (0.9071847, "gram", US, "2 lb"),
        (4.0, "kilogram", METRIC, "4.00 kg"),
        # tablets are halved, and half of one is the least
        (1.3, "tablet", METRIC, "1.5 tablets"),
        (1.1, "tablet", METRIC, "1 tablet"),
        (0.1, "packet", METRIC, "0.5 packet"),
        (2.0, "piece", US, "2 pieces"),
        (0.02835, "pound", US, "1 oz"),
        (0.000733, "kilogram", METRIC, "0.733 g"),
    ],
)
def test_a_small_amount_stays_in_the_unit_it_was_written_in(kept: float, unit: str, system: str, written: str) -> None:
    assert writing.amount(kept, unit, system) == written


@example((WEIGHT, "kilogram"), 0.0007333755493164067, METRIC)
@example((VOLUME, "litre"), 1.25, METRIC)
@given(
    st.sampled_from([(kind, unit) for kind in (WEIGHT, VOLUME) for unit in dict.fromkeys(kind.written.values())]),
    st.floats(1e-4, 10.0),
    st.sampled_from([METRIC, US]),
)
def test_an_amount_comes_back(of: tuple[MeasureKind, str], kept: float, system: str) -> None:
    kind, unit = of
    # three digits, or half of the widest step of a weight or a volume, and what binary numbers make of 1.25 less 1.2
    near = kept if kept < 0.2 else (0.05 + 1e-12) / 0.005
    assert value(writing.amount(kept, unit, system), kind) == pytest.approx(kept, rel=0.03, abs=0.005 * near)

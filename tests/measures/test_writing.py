"""Numbers as entries have them: what is written can be read back, and is rounded as a brewer measures."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from journal.measures import Measure, read_measure, writing
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
        # 1 lb is 0.45359237 kg and 16 oz
        (writing.weight(9 * 0.45359237 + 0.45359237 / 2, US), "9 lb 8 oz"),
        (writing.weight(0.45359237 * 15.9 / 16, US), "1 lb"),
        (writing.weight(0.45359237 * 9.5 / 8, US), "1 lb 3 oz"),
        (writing.weight(0.45359237 * (9 + 0.5 / 16), US), "9 lb 0.5 oz"),
        (writing.weight(0.45359237 * 0.63 / 16, US), "0.65 oz"),
        (writing.weight(0.0283495 * 1.06, US), "1 oz"),
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

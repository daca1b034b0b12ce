"""What must hold for every text: no exception, places inside it, and numbers that come back."""

import math

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from journal.measures import Fault, Measure, MeasureKind, read_gravity, read_measure, units
from journal.problems import RULES

KINDS = [kind for kind in vars(units).values() if isinstance(kind, MeasureKind)]
#: Pieces of quantities, so that chance puts together texts that nearly make sense.
PIECES = ["1", "12", "1.048", "0", ",", ".", " ", "±", "+/-", "at", " at ", "-", "e3", "000", "nan", "imp", "deg", "_"]
PIECES += ["'", "\u2009", "\u00a0", "°", "\n", "٣", "²", "\N{ZERO WIDTH SPACE}", "😀", "\0"]
PIECES += sorted({spelling for kind in KINDS for spelling in kind.written})
TEXTS = st.text(max_size=30) | st.lists(st.sampled_from(PIECES), max_size=9).map("".join)


@settings(max_examples=300, deadline=None)
@given(TEXTS, st.sampled_from(KINDS), st.booleans())
@example("9 lb ", units.WEIGHT, False)
@example("1.", units.PH, True)
@example("25 L at 65 degC at 65 degC", units.VOLUME, False)
def test_no_text_raises_and_every_fault_lies_inside_it(text: str, kind: MeasureKind, zero: bool) -> None:
    for found in (read_measure(text, kind, zero), read_gravity(text)):
        if isinstance(found, Fault):
            assert 0 <= found.start <= found.end <= len(text)
            assert found.code in RULES
            assert found.message
            assert found.hint.endswith((".", "?")), "each refusal says what to write instead"
        else:
            assert math.isfinite(found.value)
            assert found.sd is None or found.sd > 0


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.name)
@given(data=st.data())
@settings(max_examples=30, deadline=None)
def test_a_number_and_its_unit_come_back(kind: MeasureKind, data: st.DataObject) -> None:
    number = data.draw(st.decimals(min_value="0.001", max_value="0.9", places=3))
    for spelling, unit in kind.written.items():
        found = read_measure(f"{number} {spelling}".strip(), kind)
        assert isinstance(found, Measure), (spelling, found)
        assert found.unit == unit
        zero = kind.to_kept(0.0, unit)
        assert (found.value - zero) / (kind.to_kept(1.0, unit) - zero) == pytest.approx(float(number), rel=1e-9)


@given(st.floats(0.01, 1000.0), st.floats(0.001, 10.0))
@settings(max_examples=50, deadline=None)
def test_an_uncertainty_scales_as_its_number_does(number: float, sd: float) -> None:
    found = read_measure(f"{number:.6f} ± {sd:.6f} gal", units.VOLUME)
    assert isinstance(found, Measure)
    assert found.sd is not None
    assert found.sd / found.value == pytest.approx(float(f"{sd:.6f}") / float(f"{number:.6f}"), rel=1e-9)

"""A reading that is weighed or dipped on the day counts as the volume that it is."""

from __future__ import annotations

from pathlib import Path

import pytest
from history.plan.planned import KNOWN, PALE, entry_of, figures
from texts import brewery_of

from journal.history.plan import KETTLE, Aim, Plan, make_plan
from journal.history.plan.correction_text import correction_text
from journal.reading import Journal, Malts

AIM = Aim(1.050, 20.0, 3.0, 1.0)
DIPPED = brewery_of("brewhouses: {shed: {kettle: {dip: [0 cm = 1.0 L, 20 cm = 17.0 L, 40 cm = 33.0 L]}}}")


def said(gravity: str, volume: str, more: str = "") -> tuple[str, bool]:
    plan = make_plan(AIM, PALE, KNOWN)
    assert isinstance(plan, Plan)
    batch = entry_of(plan, AIM, f"target: {{gravity: 1.050}}{more}")
    return correction_text(batch, Journal(Path(), DIPPED, Malts(), ()), figures(batch), KNOWN, KETTLE, gravity, volume)


@pytest.mark.parametrize(
    ("volume", "litres"),
    [
        ("25.0 L", "25.0 L as it counts"),
        # 1.042 is 10.46 °P (ASBC table), and that 1.0401 kg/L at 20 °C (ICUMSA SPS-4): 26.0 kg are 25.0 L
        ("26.0 kg", "25.0 L as it counts"),
        # straight between 20 cm and 40 cm: 17.0 + 10/20 · 16.0
        ("30 cm", "25.0 L as it counts"),
        # and read at 70 °C a litre is 0.97778/0.99821 of one at 20 °C (Kell 1975): 24.5 L
        ("30 cm at 70 degC", "24.5 L as it counts"),
    ],
)
def test_by_marks_by_weight_and_by_dip(volume: str, litres: str) -> None:
    text, answered = said("1.042", volume)
    assert answered
    assert litres in text


@pytest.mark.parametrize(
    ("gravity", "volume", "says"),
    [
        ("", "26.0 kg", "Give --gravity too."),
        ("1.042", "45 cm", "Check the depth and its unit"),
        ("1.042", "26.0 kg at 70 degC", "temperature"),
    ],
)
def test_what_is_no_volume_is_told(gravity: str, volume: str, says: str) -> None:
    text, answered = said(gravity, volume)
    assert not answered
    assert says in text


def test_an_addition_that_nobody_knows_is_named_and_no_reading_blamed() -> None:
    sugar = "\nstand: {additions: [{addition: dried moonbeams, weight: 1 kg}]}"
    text, answered = said("1.042", "25.0 L", sugar)
    assert not answered
    assert "what dried moonbeams brings is not known" in text

"""Gravities on the scale they were read on."""

import pytest

from journal.measures import Fault, Gravity, Scale, read_gravity


@pytest.mark.parametrize(
    ("text", "gravity"),
    [
        ("1.048", Gravity(1.048, Scale.HYDROMETER)),
        ("0.980", Gravity(0.980, Scale.HYDROMETER)),
        ("1.200", Gravity(1.200, Scale.HYDROMETER)),
        ("1.048 ± 0.0005", Gravity(1.048, Scale.HYDROMETER, sd=0.0005)),
        ("1.048 +/- 0.0005", Gravity(1.048, Scale.HYDROMETER, sd=0.0005)),
        ("1.040 at 30 degC", Gravity(1.040, Scale.HYDROMETER, at=30.0)),
        ("1.040 ± 0.001 at 30 °C", Gravity(1.040, Scale.HYDROMETER, sd=0.001, at=30.0)),
        ("10.3 °P", Gravity(10.3, Scale.PLATO)),
        ("10.3 P", Gravity(10.3, Scale.PLATO)),
        ("10.3 Plato", Gravity(10.3, Scale.PLATO)),
        ("10.3 ± 0.1 °P", Gravity(10.3, Scale.PLATO, sd=0.1)),
        ("10.6 °Bx", Gravity(10.6, Scale.BRIX)),
        ("10.6 Bx", Gravity(10.6, Scale.BRIX)),
        ("10.6 Brix", Gravity(10.6, Scale.BRIX)),
        ("10.6±0.2 °Bx", Gravity(10.6, Scale.BRIX, sd=0.2)),
    ],
)
def test_reads(text: str, gravity: Gravity) -> None:
    assert read_gravity(text) == gravity


def test_fahrenheit_sample() -> None:
    found = read_gravity("1.040 at 86 degF")
    assert isinstance(found, Gravity)
    assert found.at == pytest.approx(30.0)


@pytest.mark.parametrize(
    ("text", "code", "at_fault", "instead"),
    [
        ("1048", "number-out-of-range", "1048", "1.048"),
        ("1010", "number-out-of-range", "1010", "1.01"),
        ("1000", "number-out-of-range", "1000", "1.000"),
        ("48", "number-out-of-range", "48", "1.048"),
        ("12", "number-out-of-range", "12", "12 °P"),
        ("1.21", "number-out-of-range", "1.21", "1.048"),
        ("0.97", "number-out-of-range", "0.97", "1.048"),
        ("0", "number-out-of-range", "0", "1.048"),
        ("-1.048", "number-out-of-range", "-1.048", "1.048"),
        ("1,048", "decimal-comma", "1,048", "1.048"),
        ("0,998", "decimal-comma", "0,998", "0.998"),
        ("12,5 °P", "decimal-comma", "12,5", "12.5"),
        ("1.048 ± 0", "number-out-of-range", "0", "±"),
        ("1.048 ± 0,001", "decimal-comma", "0,001", "0.001"),
        ("12 °P at 20 degC", "temperature-misplaced", "at 20 degC", "Write 12 °P."),
        ("10.6 °Bx at 30 degC", "temperature-misplaced", "at 30 degC", "Write 10.6 °Bx."),
        ("1.048 at 152 degC", "number-out-of-range", "152 degC", "152 degF"),
        ("1.048 at 30", "unit-missing", "30", "30 degC"),
        ("1.048 at", "number-unreadable", "", "degC"),
        ("1.048 kg", "unit-wrong-kind", "kg", "1.048"),
        ("1.048 SG", "unit-unknown", "SG", "1.048"),
        ("12 °Plato", "unit-unknown", "°Plato", "Plato"),
        ("70 °P", "number-out-of-range", "70", "12.0 °P"),
        ("nan", "number-unreadable", "nan", "1.048"),
        ("1.048 ± 0.001 °P or so", "number-unreadable", "or so", "1.048"),
        ("", "number-unreadable", "", "1.048"),
    ],
)
def test_refuses(text: str, code: str, at_fault: str, instead: str) -> None:
    found = read_gravity(text)
    assert isinstance(found, Fault), found
    assert found.code == code
    assert text[found.start : found.end].strip() == at_fault
    assert instead in found.hint

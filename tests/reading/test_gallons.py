"""Whose gallon it is."""

from __future__ import annotations

from pathlib import Path

import pytest
from texts import entry, journal_at

ENTRY = "boil: {before: {volume: 5 gal}, after: {volume: 4 gal}}"


@pytest.mark.parametrize(
    ("brewery", "litres", "noted"),
    [
        ("name: Shed", 5 * 3.785411784, True),
        ("units: us", 5 * 3.785411784, False),
        ("gallon: us", 5 * 3.785411784, False),
        # 4.54609 L: UK Weights and Measures Act 1985
        ("gallon: imperial", 5 * 4.54609, False),
    ],
)
def test_a_bare_gallon_is_what_the_brewery_says(tmp_path: Path, brewery: str, litres: float, noted: bool) -> None:
    journal, problems = journal_at(tmp_path, {"1.md": entry(ENTRY), "brewery.yaml": brewery})
    volume = journal.batches[0].boil.before.volume
    assert volume is not None
    assert volume.value == pytest.approx(litres)
    # once in an entry, however many there are
    assert [problem.code for problem in problems] == ["gallon-unsaid"] * noted


@pytest.mark.parametrize("word", ["gals", "gallon", "gallons", "gal."])
def test_a_gallon_however_it_is_spelt_is_noted(word: str, tmp_path: Path) -> None:
    problems = journal_at(tmp_path, {"1.md": entry(f"boil: {{after: {{volume: 4 {word}}}}}")})[1]
    assert [problem.code for problem in problems] == ["gallon-unsaid"]


def test_a_gallon_that_says_which_it_is_needs_no_word(tmp_path: Path) -> None:
    problems = journal_at(tmp_path, {"1.md": entry("boil: {before: {volume: 5 US gal}, after: {volume: 4 UK gal}}")})[1]
    assert not problems


def test_brewery_yaml_is_read_by_its_own_gallon_wherever_it_stands(tmp_path: Path) -> None:
    text = "brewhouses: {a: {kettle: {volume: 10 gal}, boil_off: 1 gal/h}}\ngallon: imperial"
    kettle = journal_at(tmp_path, {"1.md": entry(ENTRY), "brewery.yaml": text})[0].brewery.brewhouses["a"].kettle
    assert kettle.volume is not None
    assert kettle.volume.value == pytest.approx(45.4609)


def test_us_units_and_an_imperial_gallon_contradict_each_other(tmp_path: Path) -> None:
    problems = journal_at(tmp_path, {"1.md": entry(ENTRY), "brewery.yaml": "units: us\ngallon: imperial"})[1]
    assert [problem.code for problem in problems] == ["fields-contradict"]


def test_pint_and_fluid_ounce_go_with_the_gallon(tmp_path: Path) -> None:
    """A gallon is 8 pints; an imperial one 160 fluid ounces (UK Weights and Measures Act 1985), a US one 128 (NIST Handbook 44)."""
    text = entry("boil: {before: {volume: 8 pt}, after: {volume: 160 fl oz}}")
    boil = journal_at(tmp_path, {"1.md": text, "brewery.yaml": "gallon: imperial"})[0].batches[0].boil
    assert boil.before.volume is not None
    assert boil.after.volume is not None
    assert boil.before.volume.value == pytest.approx(4.54609)
    assert boil.after.volume.value == pytest.approx(4.54609)

"""Instruments' checks: what a reading counts as, by hand, and from when to when."""

from __future__ import annotations

from datetime import date

import pytest
from texts import batch_of, brewery_of

from journal.figures import BatchFigures, figures_of
from journal.figures.checked import Checked
from journal.reading import Brewery, Malts

HEAD = "batch: 31\ntitle: Lantern Bitter\nbrewed: {}\n"
KETTLE = "boil: {before: {volume: 25.0 L, gravity: 1.044}}"


def found(fields: str, brewery: str, day: str = "2026-04-11") -> BatchFigures:
    return figures_of(batch_of(fields, HEAD.format(day)), brewery_of(brewery), Malts())


def checked(brewery: str, day: str) -> Checked:
    return Checked(batch_of("crush: 1 mm", HEAD.format(day)), brewery_of(brewery))


def hydrometer(*checks: str) -> str:
    return f"instruments: {{hydrometer: {{uncertainty: 0.0007, checks: [{', '.join(checks)}]}}}}"


def test_a_hydrometer_that_shows_two_points_too_much_in_water() -> None:
    """1.044 less 0.002 is 1.042; the check's error, as large as a reading's, is shared."""
    text = hydrometer("{on: 2026-03-01, of: water at 20 degC, shows: 1.002}")
    gravity = found(KETTLE, text)["kettle_gravity"]
    assert gravity.value == pytest.approx(1.042, abs=1e-9)
    assert gravity.sd == pytest.approx(0.0007 * 2**0.5)
    assert {str(source) for source, _ in gravity.parts} == {"boil.before.gravity", "instruments.hydrometer.checks[0]"}


def test_water_off_its_temperature_is_allowed_for() -> None:
    """A glass hydrometer made for 20 degC shows 0.9959 in water of 35 degC, give or take (0.99403/0.99821 and the glass's swelling)."""
    text = hydrometer("{on: 2026-03-01, of: water at 35 degC, shows: 0.9962}")
    assert found(KETTLE, text)["kettle_gravity"].value == pytest.approx(1.044, abs=0.0003)


def test_a_solution_checks_as_well_as_water() -> None:
    """10 degP is 1.04003 by the ASBC's table."""
    text = hydrometer("{on: 2026-03-01, of: 10.0 °P, shows: 1.0430}")
    assert found(KETTLE, text)["kettle_gravity"].value == pytest.approx(1.044 - (1.0430 - 1.04003), abs=2e-5)


@pytest.mark.parametrize(
    ("day", "size"),
    [
        ("2026-01-31", None),  # before the first
        ("2026-02-01", 0.002),  # off since then, though found later
        ("2026-03-31", 0.002),
        ("2026-04-01", 0.003),  # until the next
        ("2026-04-30", 0.003),
        ("2026-05-01", None),  # a new one ends them all
        ("2026-06-01", 0.001),
    ],
)
def test_a_check_holds_from_its_since_to_the_next(day: str, size: float | None) -> None:
    text = hydrometer(
        "{on: 2026-03-01, since: 2026-02-01, of: water, shows: 1.002}",
        "{on: 2026-04-01, of: water, shows: 1.003}",
        "{on: 2026-05-01, new: yes}",
        "{on: 2026-06-01, of: water, shows: 1.001}",
    )
    correction = checked(text, day).hydrometer
    assert (correction and correction.size) == (size if size is None else pytest.approx(size, abs=1e-9))


def test_a_refractometer_is_shifted_on_its_own_scale() -> None:
    """11.0 °Bx shown by one that shows 0.3 in water is 10.7 °Bx; by 1.04 that is 10.288 °P, or 1.04123 (ASBC's cubic)."""
    text = "instruments: {refractometer: {wort_factor: 1.04 ± 0.0001, checks: [{on: 2026-03-01, of: water, shows: 0.3 °Bx}]}}"
    plain = found(
        "boil: {before: {volume: 25 L, gravity: 10.7 °Bx}}",
        "instruments: {refractometer: {wort_factor: 1.04 ± 0.0001}}",
    )
    assert found("boil: {before: {volume: 25 L, gravity: 11.0 °Bx}}", text)["kettle_gravity"].value == pytest.approx(
        plain["kettle_gravity"].value
    )


def test_ice_and_boiling_water_make_a_line() -> None:
    """It shows 1.0 in ice and 99.0 at the sea, where water boils at 100: at 50 shown it is right, at 98 it shows 0.959 too little."""
    text = (
        "instruments: {thermometer: {checks: [{on: 2026-03-01, of: ice, shows: 1.0 degC},"
        " {on: 2026-03-01, of: boiling water, shows: 99.0 degC}]}}"
    )
    line = checked(text, "2026-04-11").thermometer
    assert line is not None
    assert line.off(1.0) == pytest.approx(1.0)
    assert line.off(99.0) == pytest.approx(-1.0, abs=0.01)
    assert line.off(50.0) == pytest.approx(0.0, abs=0.01)


def test_height_lowers_the_boiling_point() -> None:
    """1500 m above the sea water boils at 95.0 degC, as tables have it: a thermometer that shows it is right."""
    text = (
        "instruments: {thermometer: {checks: [{on: 2026-03-01, of: boiling water, height: 1500 m, shows: 95.0 degC}]}}"
    )
    correction = checked(text, "2026-04-11").thermometer
    assert correction is not None
    assert correction.size == pytest.approx(0.0, abs=0.1)


def test_a_scale_multiplies() -> None:
    """A scale that shows 5.10 of 5.00 kg shows 2 % too much: 4.08 kg are 4.00."""
    text = "instruments: {malt_scale: {checks: [{on: 2026-03-01, of: 5.000 kg, shows: 5.10 kg}]}}"
    grains = "grains: [{malt: pale malt, weight: 4.08 kg}]"
    assert found(grains, text)["grain_weight"].value == pytest.approx(4.0)
    assert found(grains, text, "2026-02-28")["grain_weight"].value == pytest.approx(4.08)


def test_a_kettle_s_marks_multiply_what_was_read_in_it_and_nothing_else() -> None:
    """10.00 kg of water at 15 degC are 10.009 L (999.10 kg/m3): marks that show 10.4 show 3.906 % too much."""
    text = (
        "brewhouses: {shed: {kettle: {checks: [{on: 2026-03-01, of: 10.00 kg of water at 15 degC, shows: 10.4 L}]}}}\n"
        "instruments: {volume: {checks: [{on: 2026-03-01, of: 10.00 kg of water at 20 degC, shows: 9.8 L}]}}"
    )
    fields = f"mash: {{liquor: 14.0 L}}\n{KETTLE}\nfermenter: {{volume: 20 L, gravity: 1.050}}"
    figures = found(fields, text)
    assert figures["kettle_volume"].value == pytest.approx(25.0 / 1.03906, abs=0.001)
    # 10.00 kg at 20 degC are 10.018 L (998.21 kg/m3): the jug shows 2.18 % too little
    assert figures["mash_liquor"].value == pytest.approx(14.0 * 10.018 / 9.8, abs=0.002)
    assert figures["fermenter_volume"].value == 20.0


def test_a_fermenter_is_corrected_where_the_entry_names_it() -> None:
    text = "fermenters: {bucket: {checks: [{on: 2026-03-01, of: 20 kg of water, shows: 21 L}]}}"
    named = found("fermenter: {vessel: bucket, volume: 20 L, gravity: 1.05}", text)
    assert named["fermenter_volume"].value == pytest.approx(20.0 * 20.036 / 21.0, abs=0.001)
    assert found("fermenter: {volume: 20 L, gravity: 1.05}", text)["fermenter_volume"].value == 20.0


def test_a_calibration_ends_what_a_check_said_of_a_ph_meter() -> None:
    text = "instruments: {ph_meter: {calibrated: [2026-05-01], checks: [{on: 2026-03-01, of: pH 7.01, shows: 7.11}]}}"
    assert found("mash: {ph: 5.4}", text)["mash_ph"].value == pytest.approx(5.3)
    assert found("mash: {ph: 5.4}", text, "2026-05-02")["mash_ph"].value == pytest.approx(5.4)


def test_without_a_check_nothing_is_corrected() -> None:
    assert found(KETTLE, "name: Shed")["kettle_gravity"].value == 1.044
    assert Checked(batch_of("crush: 1 mm"), Brewery()).kettle is None
    assert checked(hydrometer("{on: 2026-06-01, of: water, shows: 1.002}"), str(date(2026, 4, 11))).hydrometer is None

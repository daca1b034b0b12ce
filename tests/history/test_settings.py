"""Each lever as an entry's text records it."""

from __future__ import annotations

import pytest
from texts import batch_of, brewery_of, settings_at

from journal.figures import figures_of
from journal.history.settings import (
    LEVERS,
    KnownLever,
    Setting,
    grist_words,
    lot_shares,
    most_of,
    settings_for,
    settings_of,
)
from journal.history.story import STUDIED
from journal.reading import Brewery, Malts

SHEETS = """
    lot-a: {kind: pale malt, extract: 80 %, moisture: 5 %, source: certificate}
    lot-b: {kind: pale malt, extract: 80 %, moisture: 5 %, source: certificate}
"""


@pytest.fixture(scope="module")
def malts(tmp_path_factory: pytest.TempPathFactory) -> Malts:
    return settings_at(tmp_path_factory.mktemp("malts"), "", SHEETS)[1]


def levers(fields: str, malts: Malts | None = None) -> dict[str, Setting]:
    batch = batch_of(fields)
    known = malts or Malts()
    return settings_of(batch, figures_of(batch, Brewery(), known), lot_shares(batch, known))


PALE = "grains: [{malt: pale malt, weight: 5 kg}]\n"


@pytest.mark.parametrize(
    ("fields", "lever", "setting"),
    [
        ("crush: 1.15 mm", "crush", 1.15),
        ("mash: {ph: 5.30 at 20 degC}", "mash_ph", 5.30),
        ("mash: {rests: [66 degC for 60 min]}", "mash_time", 60.0),
        ("mash: {liquor: 15 L}", "liquor_to_grist", 3.0),
        ("mash: {mixing: stirred}", "mixing", "stirred"),
        ("mash: {stuck: 20 min}", "stuck", 20.0),
        ("mash: {stuck: 0 min}", "stuck", 0.0),
        ("lauter: {time: 75 min}", "lauter_time", 75.0),
        ("lauter: {method: fly sparge}", "lauter_method", "fly sparge"),
        ("practice: {run_off: slow}", "run_off", "slow"),
        ("practice: {recirculated: no}", "recirculated", False),
        ("practice: {paddle_turns: 12}", "paddle_turns", 12.0),
    ],
)
def test_a_lever_is_what_is_written(fields: str, lever: str, setting: Setting) -> None:
    found = levers(PALE + fields)[lever]
    assert found == (pytest.approx(setting) if isinstance(setting, float) else setting)
    assert type(found) is type(setting)


def test_rests_count_by_their_minutes() -> None:
    found = levers(PALE + "mash: {rests: [50 degC for 10 min, 65 degC for 40 min, 72 degC for 30 min]}")
    # 500, 2600 and 2160 degree minutes over 80 minutes
    assert found["mash_temperature"] == pytest.approx(65.75)
    assert found["mash_time"] == pytest.approx(80.0)


def test_hulls_and_huskless_grain_are_shares_of_the_weight() -> None:
    found = levers(
        "grains: [{malt: pale malt, weight: 3.5 kg}, {malt: wheat malt, weight: 1 kg}, "
        "{malt: flaked oats, weight: 0.3 kg}, {malt: hulls, weight: 200 g}]"
    )
    assert found["hulls"] == pytest.approx(0.2 / 5.0)
    assert found["huskless"] == pytest.approx(1.3 / 5.0)


def test_diastatic_power_is_that_of_the_grist() -> None:
    found = levers(
        "grains: [{malt: pale malt, weight: 3 kg, diastatic_power: 240 WK}, "
        "{malt: amber malt, weight: 1 kg, diastatic_power: 20 WK}]"
    )
    assert found["diastatic_power"] == pytest.approx((3 * 240 + 20) / 4)


def test_lots_share_the_extract_not_the_weight(malts: Malts) -> None:
    batch = batch_of(
        "grains: [{malt: lot-a, weight: 3 kg}, {malt: lot-b, weight: 1 kg}, "
        "{malt: hulls, weight: 1 kg}, {malt: lot-a, weight: 1 kg}]"
    )
    shares = lot_shares(batch, malts)
    assert (shares["lot-a"], shares["lot-b"]) == (pytest.approx(0.8), pytest.approx(0.2))
    assert sum(shares.values()) == pytest.approx(1.0)


@pytest.mark.parametrize(("first", "second", "lot"), [(3, 2, "lot-a"), (2, 3, "lot-b"), (2.5, 2.5, None)])
def test_the_main_lot_brings_more_than_half(first: float, second: float, lot: str | None, malts: Malts) -> None:
    found = levers(f"grains: [{{malt: lot-a, weight: {first} kg}}, {{malt: lot-b, weight: {second} kg}}]", malts)
    assert found.get("malt_lot") == lot


def test_what_is_not_recorded_is_no_lever() -> None:
    # what the grist says by itself is left
    assert set(levers(PALE)) == {"hulls", "huskless", "malt_lot", "diastatic_power"}


def test_every_lever_of_the_table_is_found_where_it_is_written() -> None:
    found = levers(
        PALE
        + "crush: 1.1 mm\n"
        + "mash: {liquor: 15 L, rests: [66 degC for 60 min], ph: 5.3, mixing: stirred, stuck: 5 min}\n"
        + "lauter: {method: fly sparge, time: 60 min}"
    )
    assert set(found) == set(LEVERS)


@pytest.mark.parametrize(
    ("unit", "effect"), [("mm", "1/mm"), ("°C", "1/K"), ("L/kg", "kg/L"), ("1", "1"), ("ratio", "1")]
)
def test_an_effect_is_per_unit_of_the_lever(unit: str, effect: str) -> None:
    assert KnownLever(lambda brewed: 1.0, unit).effect_unit == effect


def test_no_lever_is_judged_by_what_it_can_not_reach() -> None:
    """Hulls are the grain's husk: no starch, no enzyme. Rinsing comes after the sugars are made. Enzymes rinse nothing."""
    settings: dict[str, Setting] = dict.fromkeys((*LEVERS, "moon"), 1.0)
    left_out = {figure: set(settings) - set(settings_for(figure, settings)) for figure in STUDIED}
    assert left_out == {
        "brewhouse_efficiency": set(),
        "conversion_efficiency": {"hulls", "lauter_method"},
        "lauter_efficiency": {"diastatic_power"},
        "apparent_attenuation": {"hulls", "lauter_method"},
    }


@pytest.mark.parametrize(
    ("vessels", "fields", "most"),
    [
        # 5 kg of grain take 5 × 0.67 L (common practice) of the 25 L
        ("mash_tun: {volume: 25 L}", PALE, {"liquor_to_grist": pytest.approx(5 - 0.67)}),
        ("kettle: {volume: 30 L}", PALE + "lauter: {method: bag}", {"liquor_to_grist": pytest.approx(6 - 0.67)}),
        ("kettle: {volume: 30 L}", PALE + "lauter: {method: batch sparge}", {}),
        ("mash_tun: {volume: 25 L}", "crush: 1 mm", {}),
    ],
)
def test_the_mash_has_to_go_into_its_vessel(vessels: str, fields: str, most: dict[str, float]) -> None:
    brewery, batch = brewery_of(f"brewhouses: {{shed: {{{vessels}}}}}"), batch_of(fields)
    assert most_of(batch, figures_of(batch, brewery, Malts()), brewery) == most


def test_the_grist_is_told_by_weight() -> None:
    """Flaked oats and roasted barley give less of their weight than pale malt; their shares are those that a brewer weighs out."""
    fields = "grains: [{malt: pale malt, weight: 7 kg}, {malt: flaked oats, weight: 2 kg}, {malt: roasted barley, weight: 1 kg}]"
    assert grist_words(batch_of(fields), Malts(), 0.01) == "pale malt 70 %; flaked oats 20 %; roasted barley 10 %"
    assert grist_words(batch_of("grains: [{malt: pale malt, share: 70 %}]"), Malts(), 0.01) == ""

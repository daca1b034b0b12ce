"""Each everyday slip, put alone into a brew that is exact otherwise, is named; noise alone is not."""

from __future__ import annotations

import re

import numpy as np
import pytest
from balance.brewed_exactly import batch_with, brewery_at, struck, truth
from balance.simulated_brewery import (
    BREWERY,
    GRAVITIES,
    VOLUMES,
    Instruments,
    brew,
    entry,
    read,
    some_brewery,
    swapped,
    warm_hydrometer,
)
from balance.trials import strangers_priors
from handbook import CRC, density, gravity, swollen
from texts import batch_of

from journal.balance import BROKEN, CLOSES, Balance
from journal.balance.words import sentence
from journal.problems import Source
from journal.reading import Brewery, read_entry

TRUE = truth().readings
#: Definitions: 231 cubic inches; UK Weights and Measures Act 1985, Schedule 1.
US_GALLON, IMPERIAL_GALLON = 3.785411784, 4.54609
#: Volumes that were weighed in and marked with care, and a finishing hydrometer.
CAREFUL = {path: f"{TRUE[path]:.3f} ± 0.06 L" for path in VOLUMES}
CAREFUL |= {path: f"{TRUE[path]:.5f} ± 0.0003" for path in GRAVITIES}


@pytest.fixture(scope="module")
def brewery(tmp_path_factory) -> Brewery:
    return brewery_at(tmp_path_factory.mktemp("journal"))


def named(balance: Balance) -> tuple[str, str]:
    assert balance.verdict.status == BROKEN
    assert balance.slip is not None
    assert balance.near_miss is None
    # what a slip would have meant is a number that was written: nobody says how sure it is
    assert "±" not in balance.slip.words
    return balance.slip.code, balance.slip.path


def strength(sg: float) -> float:
    """Per cent by weight, by the handbook's table."""
    return float(np.interp(sg, [gravity(s) for s in CRC], list(CRC)))


def diluted(volume: float, sg: float, litres: float) -> tuple[float, float]:
    """Volume and gravity of wort after so many litres of water, by mass."""
    mass = volume * density(strength(sg))
    extract, mass = mass * strength(sg) / 100, mass + litres * density(0)
    return mass / density(100 * extract / mass), gravity(100 * extract / mass)


def test_an_exact_brew_closes_and_names_nothing(brewery):
    balance = struck(batch_with({}), brewery)
    assert balance.verdict.status == CLOSES
    assert balance.verdict.chi_square < 0.1
    assert (balance.slip, balance.near_miss, balance.verdict.suspects) == (None, None, ())


@pytest.mark.parametrize("path", ["boil.before.volume", "boil.after.volume"])
@pytest.mark.parametrize("temperature", [80, 95])
def test_a_kettle_read_hot_and_written_as_cold(brewery, path, temperature):
    # 2 to 4 % are within what common marks are good for; it takes careful ones to see it
    written = CAREFUL | {path: f"{TRUE[path] * swollen(temperature):.3f} ± 0.06 L"}
    balance = struck(batch_with(written), brewery)
    assert named(balance) == ("read_hot", path)
    assert balance.slip.meant == pytest.approx(TRUE[path], abs=2 * balance.verdict.suspects[0].needed_sd)
    assert "written down as if cold" in sentence(balance, batch_with(written))


@pytest.mark.parametrize("temperature", [88, 99])
def test_how_hot_it_was_read_is_said(brewery, temperature):
    path = "boil.before.volume"
    written = CAREFUL | {path: f"{TRUE[path] * swollen(temperature):.3f} ± 0.06 L"}
    said = struck(batch_with(written), brewery).slip.words
    assert said.startswith("Read near boiling") == (temperature == 99), said
    if temperature == 88:
        assert int(re.search(r"Read at about (\d+) °C", said)[1]) == pytest.approx(88, abs=4)


def test_no_sample_is_taken_hotter_than_seventy_degrees(brewery):
    # wort of 12 °P at 70 °C shows about 20 points less (ICUMSA SPS-4's densities), and this is 26 less
    path = "boil.after.gravity"
    balance = struck(batch_with({path: f"{TRUE[path] - 0.026:.4f}"}), brewery)
    assert balance.verdict.suspects[0].path == path
    near = [slip for slip in (balance.slip, balance.near_miss) if slip is not None and slip.code == "read_hot"]
    assert [int(re.search(r"a sample of about (\d+) °C", slip.words)[1]) for slip in near] == [70]


def test_a_kettle_read_hot_passes_unseen_with_common_marks(brewery):
    hot = {"boil.before.volume": f"{TRUE['boil.before.volume'] * swollen(85):.2f} L"}
    assert struck(batch_with(hot), brewery).verdict.status == CLOSES


@pytest.mark.parametrize("path", GRAVITIES)
def test_a_hydrometer_in_warm_wort(brewery, path):
    balance = struck(batch_with({path: f"{warm_hydrometer(TRUE[path]):.4f}"}), brewery)
    assert named(balance) == ("read_hot", path)
    assert balance.slip.meant == pytest.approx(TRUE[path], abs=5e-4)
    assert sample_temperature(balance) == pytest.approx(50, abs=1)


def sample_temperature(balance: Balance) -> int:
    return int(re.search(r"a sample of about (\d+) °C", balance.slip.words)[1])


def test_a_hydrometer_made_for_another_temperature_in_warm_wort(tmp_path):
    # one made for 60 °F shows less than one made for 20 °C by what water shrinks, 1 / 1.000811 (IAPWS-95), and glass swells,
    # 4.444 K of 25e-6 (common practice)
    brewery = brewery_at(tmp_path, BREWERY.replace("0.0007}", "0.0007, calibrated_at: 60 degF}"))
    shown = {path: TRUE[path] / 1.000811 for path in GRAVITIES}
    shown["boil.before.gravity"] = warm_hydrometer(TRUE["boil.before.gravity"]) / 1.000811 * (1 + 4.444 * 25e-6)
    at_20 = {path: f"{value * (1 + 4.444 * 25e-6):.4f} at 20 degC" for path, value in shown.items()}
    balance = struck(batch_with(at_20 | {"boil.before.gravity": f"{shown['boil.before.gravity']:.4f}"}), brewery)
    assert named(balance) == ("read_hot", "boil.before.gravity")
    assert sample_temperature(balance) == pytest.approx(50, abs=1)


@pytest.mark.parametrize("path", ["boil.before.gravity", "boil.after.gravity", "fermenter.gravity"])
def test_two_digits_the_other_way_round(brewery, path):
    seed = next(seed for seed in range(40) if swapped(truth(seed).readings[path]) - truth(seed).readings[path] > 0.009)
    true = truth(seed).readings[path]
    balance = struck(batch_with({path: f"{swapped(true):.3f}"}, seed), brewery)
    assert named(balance) == ("swapped_digits", path)
    assert balance.slip.meant == pytest.approx(round(true, 3), abs=1e-9)


def test_two_digits_or_a_warm_sample_where_both_would_explain_it(brewery):
    # 1.064 written as 1.046 is as low as a sample of some 65 °C would make it
    path = "boil.after.gravity"
    assert swapped(TRUE[path]) == pytest.approx(1.046)
    balance = struck(batch_with({path: "1.046"}), brewery)
    assert balance.verdict.suspects[0].path == path
    assert balance.slip is None


@pytest.mark.parametrize("path", VOLUMES)
def test_gallons_of_the_other_kind(brewery, path):
    balance = struck(batch_with({path: f"{TRUE[path] / IMPERIAL_GALLON:.3f} gal"}), brewery)
    assert named(balance) == ("wrong_gallon", path)
    assert balance.slip.meant == pytest.approx(TRUE[path], abs=0.01)


def test_us_gallons_written_as_imperial(brewery):
    path = "boil.before.volume"
    balance = struck(batch_with({path: f"{TRUE[path] / US_GALLON:.3f} imp gal"}), brewery)
    assert named(balance) == ("wrong_gallon", path)
    assert balance.slip.meant == pytest.approx(TRUE[path], abs=0.01)


@pytest.mark.parametrize("path", VOLUMES)
@pytest.mark.parametrize(("unit", "litres"), [("gal", 1.0), ("imp gal", 1.0), ("L", US_GALLON), ("L", IMPERIAL_GALLON)])
def test_litres_and_gallons_taken_for_each_other(brewery, path, unit, litres):
    balance = struck(batch_with({path: f"{TRUE[path] / litres:.3f} {unit}"}), brewery)
    assert named(balance) == ("litres_as_gallons", path)
    assert balance.slip.meant == pytest.approx(TRUE[path], abs=0.01)


def test_plato_written_for_brix_where_the_instrument_is_fine_enough(tmp_path):
    # a wort factor of 1.04 makes half a degree at 12.5 °P, two points of gravity: the reading has to be good to a tenth
    fine = "  refractometer: {uncertainty: 0.05 °Bx, wort_factor: 1.04 ± 0.005}\n"
    brewery = brewery_at(tmp_path, BREWERY + fine)
    path = "boil.after.gravity"
    brix = strength(TRUE[path]) * 1.04
    balance = struck(batch_with(CAREFUL | {path: f"{brix:.2f} ± 0.05 °P"}), brewery)
    assert named(balance) == ("plato_as_brix", path)
    assert balance.slip.meant == pytest.approx(TRUE[path], abs=2e-4)
    balance = struck(batch_with(CAREFUL | {path: f"{brix / 1.04:.2f} °Bx"}), brewery)
    assert named(balance) == ("plato_as_brix", path)
    assert balance.slip.meant == pytest.approx(TRUE[path], abs=2e-4)


def test_plato_written_for_brix_passes_unseen_with_a_common_instrument(brewery):
    path = "boil.after.gravity"
    balance = struck(batch_with({path: f"{strength(TRUE[path]):.1f} °Bx"}), brewery)
    assert balance.verdict.status == CLOSES


@pytest.mark.parametrize(
    ("path", "other"),
    [
        ("boil.before.volume", "boil.after.volume"),
        ("boil.after.volume", "boil.before.volume"),
        ("fermenter.volume", "boil.before.volume"),
    ],
)
def test_the_volume_of_another_vessel(brewery, path, other):
    balance = struck(batch_with({path: f"{TRUE[other]:.2f} L"}), brewery)
    assert named(balance) == ("other_vessel", path)
    assert balance.slip.meant == pytest.approx(TRUE[path], abs=2 * balance.verdict.suspects[0].needed_sd)
    assert f"`{other}`" in balance.slip.words


def test_a_grain_that_never_went_in(brewery):
    # an eighth of the grist stands in the entry and was not in the mash
    balance = struck(batch_with({"grains[0].weight": f"{TRUE['grain']:.3f} kg"}), brewery)
    assert named(balance) == ("grain_left_out", "grains[1].weight")
    assert balance.slip.meant == 0.0
    assert "crystal lot" in balance.slip.words


def test_a_grain_that_went_in_twice(brewery):
    balance = struck(batch_with({"grains[0].weight": f"{TRUE['grain'] * 0.76:.3f} kg"}), brewery)
    assert named(balance) == ("grain_twice", "grains[1].weight")
    assert balance.slip.meant == pytest.approx(2 * 0.12 * TRUE["grain"], abs=0.001)
    assert "crystal lot" in balance.slip.words


def test_a_kettle_top_up_that_nobody_wrote_down(brewery):
    volume, sg = diluted(TRUE["boil.after.volume"], TRUE["boil.after.gravity"], 3.0)
    loss = TRUE["boil.after.volume"] - TRUE["fermenter.volume"]
    written = {
        "boil.after.volume": f"{volume:.2f} L",
        "boil.after.gravity": f"{sg:.4f}",
        "fermenter.volume": f"{volume - loss:.2f} L",
        "fermenter.gravity": f"{sg:.4f}",
    }
    balance = struck(batch_with(written), brewery)
    assert named(balance) == ("top_up_left_out", "boil.top_up")
    assert balance.slip.meant == pytest.approx(3.0, abs=0.2)
    assert struck(batch_with(written | {"boil.top_up": "3.0 L"}), brewery).verdict.chi_square < 0.1


def test_a_fermenter_top_up_that_nobody_wrote_down(brewery):
    volume, sg = diluted(TRUE["fermenter.volume"], TRUE["fermenter.gravity"], 3.0)
    written = {"fermenter.volume": f"{volume:.2f} L", "fermenter.gravity": f"{sg:.4f}"}
    balance = struck(batch_with(written), brewery)
    assert named(balance) == ("top_up_left_out", "fermenter.top_up")
    assert balance.slip.meant == pytest.approx(3.0, abs=0.2)
    assert struck(batch_with(written | {"fermenter.top_up": "3.0 L"}), brewery).verdict.chi_square < 0.1


def test_a_top_up_that_was_written_down_as_none_is_not_asked_for_again(brewery):
    volume, sg = diluted(TRUE["fermenter.volume"], TRUE["fermenter.gravity"], 3.0)
    written = {"fermenter.volume": f"{volume:.2f} L", "fermenter.gravity": f"{sg:.4f}", "fermenter.top_up": "0 L"}
    balance = struck(batch_with(written), brewery)
    assert balance.verdict.status == BROKEN
    assert balance.slip is None or balance.slip.path != "fermenter.top_up"


def test_a_slip_that_goes_the_right_way_and_not_far_enough_is_said_so(brewery):
    # a kettle volume a tenth too large: near boiling it would be 4 % less
    wrong = TRUE["boil.before.volume"] * 1.10
    batch = batch_with({"boil.before.volume": f"{wrong:.2f} L"})
    balance = struck(batch, brewery)
    assert balance.verdict.suspects[0].path == "boil.before.volume"
    assert balance.slip is None
    assert balance.near_miss.code == "read_hot"
    # hot to cold, 100 to 20 °C: 0.96007 (IAPWS-95, 958.349 / 998.207)
    assert balance.near_miss.meant == pytest.approx(0.96007 * wrong, abs=0.01)
    assert "that isn't enough" in sentence(balance, batch)


def test_noise_alone_names_no_slip(brewery):
    rng = np.random.default_rng(11)
    for number in range(80):
        habits = some_brewery(rng)
        true = brew(habits, rng.normal(0, Instruments().sheet), rng)
        text = entry(number, read(true, Instruments(), rng), habits)
        batch, _ = read_entry(Source("entry.md", text))
        assert batch is not None
        balance = struck(batch, brewery, strangers_priors())
        assert (balance.slip, balance.near_miss) == (None, None), text


def test_a_plain_misreading_is_no_slip(brewery):
    # five points low is no swapped digit, nor warm enough to be sure of
    found = []
    for seed in range(6):
        true = truth(seed).readings["boil.before.gravity"]
        balance = struck(batch_with({"boil.before.gravity": f"{true + 0.006:.4f}"}, seed), brewery)
        assert balance.verdict.suspects[0].path == "boil.before.gravity"
        found.append(balance.slip)
    assert found == [None] * 6


def test_two_readings_that_cannot_be_told_apart_are_both_named_and_said_so(brewery):
    # one strength read twice, twelve points apart, and nothing else to judge by
    batch = batch_of("boil: {after: {volume: 22 L, gravity: 1.0520}}\nfermenter: {volume: 20.5 L, gravity: 1.0640}\n")
    balance = struck(batch, brewery)
    verdict = balance.verdict
    assert verdict.status == BROKEN
    assert verdict.alike == 2
    assert {s.path for s in verdict.suspects[:2]} == {"boil.after.gravity", "fermenter.gravity"}
    assert verdict.suspects[0].chi_square == pytest.approx(verdict.suspects[1].chi_square, abs=1e-3)
    assert balance.slip is None
    said = sentence(balance, batch)
    assert "can't tell which" in said
    assert "1.0520 at knockout" in said
    assert "gravity of 1.0640" in said
    for suspect in verdict.suspects[:2]:
        assert f"`{suspect.path}` would have to be {suspect.needed:.4f}" in said

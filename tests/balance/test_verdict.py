"""The verdict of the balance, and what it says in words."""

from __future__ import annotations

import re
from dataclasses import replace

import numpy as np
import pytest
from balance.brewed_exactly import OWN, batch_with, brewery_at, struck, truth
from balance.simulated_brewery import BREWERY
from scipy import stats
from texts import batch_of

from journal.balance import BROKEN, CLOSES, STRAINED, Balance
from journal.balance.words import BLIND_SPOTS, name_reading, sentence
from journal.measures.wording import US
from journal.reading import Batch, Brewery

TRUE = truth().readings
#: Everything a brewer reads, with a wrong value that the rest can't miss.
LIES = {
    "mash.liquor": (22.0, "L"),
    "lauter.liquor": (19.0, "L"),
    "mash.first_wort": (1.1040, ""),
    "boil.before.volume": (28.1, "L"),
    "boil.before.gravity": (1.0655, ""),
    "boil.after.volume": (24.9, "L"),
    "boil.after.gravity": (1.0740, ""),
    "fermenter.volume": (22.9, "L"),
    "fermenter.gravity": (1.0740, ""),
}


@pytest.fixture(scope="module")
def brewery(tmp_path_factory) -> Brewery:
    return brewery_at(tmp_path_factory.mktemp("journal"))


def lying(path: str, value: float | None = None, more: str = "") -> Batch:
    lie, unit = LIES[path]
    lie = lie if value is None else value
    return batch_with({path: f"{lie:.1f} L" if unit else f"{lie:.4f}"}, more=more)


def with_status(brewery: Brewery, status: str) -> tuple[Batch, Balance]:
    """The exact brew with a gravity pushed so far that the balance has a status."""
    for points in np.arange(0.0, 0.02, 0.0002):
        batch = lying("boil.before.gravity", TRUE["boil.before.gravity"] + points)
        balance = struck(batch, brewery)
        if balance.verdict.status == status:
            return batch, balance
    raise AssertionError(status)


@pytest.mark.parametrize(("status", "low", "high"), [(CLOSES, 0.05, 1.0), (STRAINED, 0.01, 0.05), (BROKEN, 0.0, 0.01)])
def test_the_global_test_comes_first(brewery, status, low, high):
    _, balance = with_status(brewery, status)
    verdict = balance.verdict
    # 0.01 rejects, and below 0.05 it is strained; the chance by the general library's distribution
    assert low <= stats.chi2.sf(verdict.chi_square, verdict.degrees_of_freedom) <= high
    assert bool(verdict.suspects) == (status == BROKEN)
    assert balance.holds == (status != BROKEN)
    assert bool(balance.figures) == (status != BROKEN)


def test_the_degrees_of_freedom_are_readings_and_expectations_less_unknowns(brewery):
    # ten readings and nine expectations (six of the brewhouse, conversion among them, and the kettle's marks: seven) for
    # ten unknowns: grist, two liquors, and those seven
    verdict = struck(batch_with({}), brewery).verdict
    assert len(verdict.readings) == 10
    assert verdict.degrees_of_freedom == 10 + 7 - 10


def test_the_limit_of_strain_is_sidaks_for_so_many_readings(brewery):
    verdict = struck(batch_with({}), brewery).verdict
    each = 1 - 0.99 ** (1 / len(verdict.readings))
    assert verdict.measurement_test_limit == pytest.approx(stats.norm.isf(each / 2))


@pytest.mark.parametrize("path", LIES)
def test_the_reading_that_lies_is_accused_and_told_what_would_fit(brewery, path):
    verdict = struck(lying(path), brewery).verdict
    assert verdict.status == BROKEN
    first, *others = verdict.suspects
    assert first.path == path
    assert verdict.alike == 1
    assert first.recorded == pytest.approx(LIES[path][0])
    # the truth, but for the rounding of what was written and the tables' own
    assert first.needed == pytest.approx(TRUE[path], abs=0.3 * first.needed_sd)
    assert [first.chi_square, *(s.chi_square for s in others)] == sorted(s.chi_square for s in verdict.suspects)
    assert first.chi_square < 0.2


@pytest.mark.parametrize("path", LIES)
def test_the_lie_is_strained_beyond_the_limit(brewery, path):
    verdict = struck(lying(path), brewery).verdict
    strains = {reading.path: reading.measurement_test for reading in verdict.readings}
    assert strains[path] == max(strains.values())
    assert strains[path] > verdict.measurement_test_limit


@pytest.mark.parametrize("path", LIES)
def test_the_words_hold_what_was_written_what_would_fit_and_the_unit(brewery, path):
    batch = lying(path)
    balance = struck(batch, brewery)
    said = sentence(balance, batch)
    assert batch.written(path) in said
    assert name_reading(path, batch).lower() in said.lower()
    needed = re.search(r"([\d.]+) ± ([\d.]+)( L)? would\.", said)
    assert needed is not None, said
    assert float(needed[1]) == pytest.approx(TRUE[path], abs=balance.verdict.suspects[0].needed_sd)
    assert (needed[3] == " L") == (LIES[path][1] == "L")
    assert "Everything else agrees." in said
    assert "!" not in said


@pytest.mark.parametrize("path", ["boil.before.volume", "mash.liquor", "fermenter.volume"])
def test_a_brewery_of_gallons_is_told_in_gallons(tmp_path, path):
    brewery = brewery_at(tmp_path, "units: us\n" + BREWERY)
    batch = lying(path)
    balance = struck(batch, brewery)
    said = sentence(balance, batch, brewery.units)
    litres = r"\d L\b"
    assert len(re.findall(litres, said)) == 1, said
    assert batch.written(path) in said
    needed = re.search(r"([\d.]+) ± [\d.]+ gal would\.", said)
    # 231 cubic inches
    assert float(needed[1]) * 3.785411784 == pytest.approx(TRUE[path], abs=balance.verdict.suspects[0].needed_sd)


def test_a_slip_is_worded_in_the_brewerys_units(tmp_path):
    brewery = brewery_at(tmp_path, "units: us\n" + BREWERY)
    warm = struck(batch_with({"boil.after.gravity": f"{TRUE['boil.after.gravity'] - 0.011:.4f}"}), brewery)
    assert warm.slip.code == "read_hot"
    assert re.search(r"about \d+ °F", warm.slip.words)
    hot = struck(lying("boil.before.volume"), brewery)
    assert hot.near_miss.words.endswith("gal.")
    grain = struck(batch_with({"grains[0].weight": f"{TRUE['grain']:.3f} kg"}), brewery)
    assert grain.slip.code == "grain_left_out"
    assert " lb of crystal lot" in grain.slip.words
    assert brewery.units == US


def test_two_lies_are_said_to_be_more_than_one(brewery):
    written = {"boil.before.gravity": "1.0755", "fermenter.volume": "24.5 L", "mash.first_wort": "1.0600"}
    batch = batch_with(written)
    balance = struck(batch, brewery)
    assert balance.verdict.status == BROKEN
    assert "more than one reading is off" in sentence(balance, batch)


def test_a_strained_balance_says_which_reading_is_adjusted_most(brewery):
    batch, balance = with_status(brewery, STRAINED)
    said = sentence(balance, batch)
    assert batch.written("boil.before.gravity") in said
    assert f"in {balance.verdict.p_value * 100:.0f} of 100 batches" in said
    assert "±" in said


def test_a_clean_balance_and_too_few_readings_in_words(brewery):
    batch = batch_with({})
    assert sentence(struck(batch, brewery), batch) == "The readings agree with one another."
    nothing = batch_of("style: bitter\n")
    assert sentence(struck(nothing, brewery), nothing).startswith("Too few readings")


def test_what_was_forgotten_accuses_no_reading(brewery):
    batch = batch_with({"grains[0].weight": f"{TRUE['grain']:.3f} kg"})
    balance = struck(batch, brewery)
    said = sentence(balance, batch)
    assert balance.slip.words in said
    assert "doesn't fit the rest" not in said
    assert "Everything else agrees" not in said


def test_the_blind_spots_are_named():
    assert "hot" in BLIND_SPOTS
    assert "can't be found here" in BLIND_SPOTS


def test_the_balanced_readings_of_a_broken_batch_are_those_without_the_suspect(brewery):
    path = "boil.after.gravity"
    verdict = struck(lying(path), brewery).verdict
    for reading in verdict.readings:
        if reading.path != "grains":
            assert reading.balanced == pytest.approx(TRUE[reading.path], abs=0.3 * reading.sd), reading.path


def test_surer_expectations_see_what_vague_ones_cannot(brewery):
    vague = replace(OWN, water_held=replace(OWN.water_held, sd=0.5), kettle_loss=replace(OWN.kettle_loss, sd=2.0))
    batch = lying("fermenter.volume", 21.5)
    assert struck(batch, brewery).verdict.chi_square > struck(batch, brewery, vague).verdict.chi_square + 5

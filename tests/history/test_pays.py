"""Where the extract goes and what pays first: by arithmetic on paper, and on breweries whose truth is known."""

from __future__ import annotations

import numpy as np
import pytest
from balance.simulated_brewery import Habits
from history.told import exact, exact_texts, tell_of

from journal.balance.vessels import WATER, Facts, rinse
from journal.history.pays import PLACES, Pays
from journal.history.pays.account import account, rinsed_without_end

#: A brewery that never varies and reads without error.
HABITS = Habits(conversion=0.93, dead_space=0.5, kettle_loss=1.5)


@pytest.fixture(scope="module")
def pays(tmp_path_factory: pytest.TempPathFactory) -> Pays:
    told = tell_of(tmp_path_factory.mktemp("pays"), exact_texts(12, HABITS))
    found = told.history.brewhouses[0].pays
    assert found is not None
    return found


def test_the_account_is_that_of_a_brewery_whose_truth_is_known(pays: Pays):
    truths = [truth.efficiency for truth in exact(12, HABITS)]
    mash, into = (np.mean([truth[name] for truth in truths]) for name in ("mash_efficiency", "brewhouse_efficiency"))
    by_place = {loss.place: loss for loss in pays.losses}
    assert tuple(by_place) == PLACES
    assert by_place["not dissolved"].share == pytest.approx(1 - HABITS.conversion, abs=0.002)
    assert by_place["kettle"].share == pytest.approx(mash - into, abs=0.002)
    in_the_tun = by_place["spent grain"].share + by_place["dead space"].share
    assert in_the_tun == pytest.approx(HABITS.conversion - mash, abs=0.002)
    assert pays.into_fermenter.value == pytest.approx(into, abs=0.002)


def test_losses_and_what_reaches_the_fermenter_make_one(pays: Pays):
    assert sum(loss.share for loss in pays.losses) + pays.into_fermenter.value == pytest.approx(1.0)
    assert sum(loss.physical for loss in pays.losses) + pays.into_fermenter_physical == pytest.approx(1.0)
    quarter = [loss.best_quarter or 0.0 for loss in pays.losses]
    assert sum(quarter) + (pays.into_fermenter_best_quarter or 0.0) == pytest.approx(1.0)
    assert all(loss.low < loss.share < loss.high for loss in pays.losses)


def test_the_dead_space_holds_the_last_wort():
    """By hand: 4 kg of extract in 20 kg of water; 8 kg stay, 2 × 0.97 of them in the dead space; 12 L of sparge.

    The first wort leaves 4 × 8/20 = 1.6, the sparge 1.6 × 8/19.9785 = 0.64069, of that 0.2425 in the dead space: 0.15537.
    """
    facts = Facts(5.0, 5.0, 0.0, 1, 1.0, 0.0, 0.0)
    u = {"potential_extract": 5.0, "conversion": 0.8, "mash_liquor": 20.0 / WATER, "sparge_liquor": 12.0}
    u |= {"water_held": (8.0 - 1.94) / 5.0, "dead_space": 2.0, "shortfall": 0.0, "boil_off": 3.0, "kettle_loss": 0.0}
    u |= {"top_up": 0.0, "fermenter_top_up": 0.0, "kettle_sugar": 0.0, "fermenter_sugar": 0.0}
    shares = account(u, facts)
    assert shares[0] == pytest.approx(0.2)
    assert shares[2] == pytest.approx(0.15537 / 5.0, abs=1e-5)
    assert shares[1] == pytest.approx((0.64069 - 0.15537) / 5.0, abs=1e-5)
    assert shares[3] == 0.0
    assert sum(shares) == pytest.approx(1.0)


def ballings_loss(fillings: int) -> float:
    """lb of extract lost from 100 lb of malt with 60 of extract and 7 of water, 750 lb of water in equal fillings, drained by `rinse`."""
    each, water, extract = 750.0 / fillings, 7.0, 60.0
    for filling in range(fillings):
        water += each
        # what he lets stay is wort, and of that the water counts
        kept = (120.0 if filling == 0 else 100.0) * water / (water + extract)
        extract, water = rinse(extract, kept, water, 0.0, 1), kept
    return extract


def test_halves_and_thirds_come_down_to_the_limit():
    """C. J. N. Balling, *Die Bierbrauerei*: 120 lb of wort stay after the first filling, 100 after each later one; 3.29 lb are lost in
    two fillings, 1.75 in three.
    """
    assert ballings_loss(2) == pytest.approx(3.29, abs=0.005)
    assert ballings_loss(3) == pytest.approx(1.75, abs=0.005)
    left, mash, sparge = 8.0, 18.0, 15.0
    behind = [rinse(1.0, left, mash, sparge, fillings) for fillings in (1, 2, 3, 5, 10, 100, 10_000)]
    assert behind == sorted(behind, reverse=True)
    assert rinsed_without_end(1.0, left, mash, sparge) == pytest.approx(behind[-1], abs=2e-5)
    assert rinsed_without_end(1.0, left, mash, sparge) < behind[-1]

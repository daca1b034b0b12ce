"""Where the extract goes and what pays first: by arithmetic on paper, and on breweries whose truth is known."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from balance.simulated_brewery import Habits
from history.told import exact, exact_texts, tell_of
from scipy.optimize import minimize_scalar

from journal.balance.vessels import WATER, Facts, rinse, vessels
from journal.history.pays import PLACES, Pays
from journal.history.pays.account import Unknowns, account, rinsed_without_end
from journal.history.pays.alter import equal_run_offs, more_sparge, one_filling_more, thinner_mash, with_habit
from journal.history.pays.habitual import Alteration

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


#: 5 kg of malt with 76.8 % of extract and 4 % of water, 15 kg of liquor in the mash, 10 kg of sparge; a kg of grain keeps 1.0 kg; all
#: dissolves. 3 L/h boiled off in an hour, nothing stays under the grain or in the kettle.
FACTS = Facts(3.84, 5.0, 0.2, 1, 1.0, 0.0, 0.0)
BREWED: Unknowns = {
    "potential_extract": 3.84,
    "conversion": 1.0,
    "mash_liquor": 15.0 / WATER,
    "sparge_liquor": 10.0 / WATER,
    "water_held": 1.0,
    "boil_off": 3.0,
    **dict.fromkeys(("dead_space", "shortfall", "kettle_loss", "top_up", "fermenter_top_up"), 0.0),
    **dict.fromkeys(("kettle_sugar", "fermenter_sugar"), 0.0),
}


def into_fermenter(alteration: Alteration, **otherwise: float) -> float:
    """Per cent of the potential that reaches the fermenter."""
    return 100.0 * float(account(*alteration((BREWED | otherwise, FACTS)))[-1])


@pytest.mark.parametrize(
    ("alteration", "per_cent"),
    [
        (lambda brewing: brewing, 89.035),
        (one_filling_more, 91.776),
        (more_sparge(2.0 / WATER), 90.325),
    ],
)
def test_a_rinsed_bed_gives_what_the_table_has(alteration: Alteration, per_cent: float):
    """The run-offs of a well-mixed bed, each worked out from its own mass balance (see `science/test_mash.py`)."""
    assert into_fermenter(alteration) == pytest.approx(per_cent, abs=0.001)


def test_equal_run_offs_are_where_the_slope_is_zero():
    """15.2 + 10 kg of water, 5 kg stay: 15.1 and 10.1 kg, so that 10.1 run off twice; a search finds no other share that gives more."""
    u, _ = equal_run_offs((BREWED, FACTS))
    assert u["mash_liquor"] * WATER == pytest.approx(14.9)
    assert u["sparge_liquor"] * WATER == pytest.approx(10.1)

    def lost(mash: float) -> float:
        return -into_fermenter(lambda brewing: brewing, mash_liquor=mash / WATER, sparge_liquor=(25.0 - mash) / WATER)

    best = minimize_scalar(lost, bounds=(8.0, 22.0), method="bounded", options={"xatol": 1e-8})
    assert best.x == pytest.approx(14.9, abs=1e-3)
    # by hand: 5/15.1 of the extract stays, and of that 5/15.1 once more
    assert into_fermenter(equal_run_offs) == pytest.approx(100.0 * (1.0 - (5.0 / 15.1) ** 2))
    in_thirds = equal_run_offs((BREWED, replace(FACTS, run_offs=2)))
    assert account(*in_thirds)[-1] == pytest.approx(1.0 - (5.0 / (5.0 + 20.2 / 3.0)) ** 3)


def test_more_sparge_is_boiled_off_again():
    """2 L at 3 L/h: 40 minutes, and as much water in the kettle's end as before."""
    u, facts = more_sparge(2.0)((BREWED, FACTS))
    assert facts.hours == pytest.approx(1.0 + 40.0 / 60.0)
    assert vessels(u, facts).knockout.water == pytest.approx(vessels(BREWED, FACTS).knockout.water)


def test_a_thinner_mash_and_less_sparge_by_hand():
    """2.5 L are 2.4955 kg: 17.6955 kg of water in the mash, 7.5045 in the sparge."""
    water = 2.5 * WATER
    behind = 5.0 / (15.2 + water) * 5.0 / (15.0 - water)
    assert into_fermenter(thinner_mash(0.5)) == pytest.approx(100.0 * (1.0 - behind))


def test_half_the_dead_space_keeps_half_its_water():
    """1 L under the grain is 0.97 kg: 5.97 kg stay, and 5.485 with half of it."""
    as_it_is, halved = (1.0 - left / 15.2 * left / (left + 10.0) for left in (5.97, 5.485))
    assert into_fermenter(lambda brewing: brewing, dead_space=1.0) == pytest.approx(100.0 * as_it_is)
    assert into_fermenter(with_habit("dead_space", 0.5), dead_space=1.0) == pytest.approx(100.0 * halved)


def test_half_the_loss_in_the_kettle_loses_half():
    whole, lost, halved = (
        into_fermenter(with_habit("kettle_loss", times), kettle_loss=2.0) for times in (0.0, 1.0, 0.5)
    )
    assert whole - halved == pytest.approx((whole - lost) / 2.0)


def test_a_squeezed_bag_keeps_less():
    """A kg of grain keeps 0.8 kg: 4 kg in all; nothing is sparged."""
    squeezed = with_habit("water_held", plus=-0.2)
    assert into_fermenter(squeezed, sparge_liquor=0.0) == pytest.approx(100.0 * (1.0 - 4.0 / 15.2))

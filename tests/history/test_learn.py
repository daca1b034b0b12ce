"""What earlier batches teach: robustly, slowly at first, and never more surely than they agree."""

from __future__ import annotations

from dataclasses import fields

import numpy as np
import pytest
from statsmodels.robust.norms import HuberT, estimate_location

from journal.balance import Expectation, Priors
from journal.history.learn import learn, level
from journal.numerics import Estimate

START = Priors(boil_off=Expectation(3.0, 0.8), kettle_loss=Expectation(1.5, 0.6))


def of(values: list[float], sd: float = 0.15, name: str = "boil_off") -> list[dict[str, Estimate]]:
    return [{name: Estimate(value, sd)} for value in values]


def boil_off(values: list[float], sd: float = 0.15, start: Priors = START) -> Expectation:
    found = learn(start, of(values, sd)).boil_off
    assert found is not None
    return found


@pytest.mark.parametrize("seed", range(5))
@pytest.mark.parametrize("wild", [0.0, 2.0, 20.0])
def test_the_middle_is_hubers(seed, wild):
    # P. J. Huber, Ann. Math. Stat. 35 (1964) 73, with the bend of 1.345; the general library's estimate at the same scale
    values = np.random.default_rng(seed).normal(3.3, 0.3, 12)
    values[0] += wild
    found = level([Estimate(value, 0.15) for value in values], 0.2)
    scale = np.hypot(0.15, found.spread)
    expected = estimate_location(values, scale, norm=HuberT(1.345), initial=np.median(values), maxiter=200)
    assert found.mean == pytest.approx(float(expected), abs=2e-4)


def test_one_wild_value_in_ten_does_little():
    calm = list(np.random.default_rng(1).normal(3.3, 0.2, 10))
    wild = [*calm[:4], 9.0, *calm[5:]]
    before, after = boil_off(calm), boil_off(wild)
    # the plain mean would move by more than half a litre an hour
    assert np.mean(wild) - np.mean(calm) > 0.5
    assert abs(after.mean - before.mean) < 0.12
    assert after.sd < 1.5 * before.sd


def test_how_wild_it_is_makes_no_difference():
    calm = list(np.random.default_rng(2).normal(3.3, 0.2, 9))
    wild, wilder = boil_off([*calm, 9.0]), boil_off([*calm, 90.0])
    assert (wilder.mean, wilder.sd) == pytest.approx((wild.mean, wild.sd), abs=5e-4)


@pytest.mark.parametrize("name", [field.name for field in fields(Priors)])
def test_it_takes_three_batches_to_teach_anything(name):
    value = 0.9 if name == "conversion" else 1.0
    assert learn(START, of([value] * 2, 0.01, name)) == START
    taught = learn(START, of([value] * 3, 0.01, name))
    assert getattr(taught, name).batches == 3
    others = {field.name for field in fields(Priors)} - {name}
    assert all(getattr(taught, other) == getattr(START, other) for other in others)


def test_few_batches_are_drawn_to_what_was_expected_before():
    means = [boil_off([4.0] * count, 0.5).mean for count in (3, 6, 12, 24)]
    assert means == sorted(means)
    assert all(3.0 < mean < 4.0 for mean in means)
    assert means[0] < 3.95 < means[-1]
    # by the weights of two independent estimates, each the inverse of its variance
    found = level([Estimate(4.0, 0.5)] * 3, 0.2)
    own, other = found.error**-2, 0.8**-2
    assert means[0] == pytest.approx((4.0 * own + 3.0 * other) / (own + other))


def test_vague_batches_are_drawn_more():
    assert boil_off([4.0] * 4, 1.5).mean < boil_off([4.0] * 4, 0.3).mean


def test_many_vague_batches_do_not_outvote_few_good_ones():
    said = of([6.0] * 6, 2.0) + of([3.3, 3.4, 3.2, 3.3, 3.3, 3.4, 3.2], 0.1)
    found = learn(START, said).boil_off
    assert found is not None
    assert found.mean == pytest.approx(3.3, abs=0.05)


def test_what_nothing_was_expected_of_is_learnt_from_the_batches_alone():
    found = learn(Priors(), of([4.0] * 3)).boil_off
    assert found is not None
    assert found.mean == pytest.approx(4.0)


def test_a_brewhouse_that_was_rebuilt_long_ago_is_forgotten():
    old, new = of([6.0] * 40), of([3.0] * 24)
    assert learn(START, old + new) == learn(START, new)


def test_batches_that_say_nothing_of_a_thing_teach_nothing_of_it():
    said = of([3.3] * 5) + of([1.4] * 5, name="water_held")
    taught = learn(START, said)
    assert taught.boil_off is not None
    assert (taught.boil_off.batches, taught.water_held.batches) == (5, 5)


@pytest.mark.parametrize("spread", [0.1, 0.2, 0.4])
def test_the_spread_is_that_of_the_batches(spread):
    rng = np.random.default_rng(7)
    found = []
    for _ in range(60):
        true = rng.normal(3.3, spread, 24)
        found.append(boil_off(list(rng.normal(true, 0.1)), 0.1).sd)
    # drawn towards the usual 0.2, and of 24 batches known to a fifth or so
    low, high = sorted((spread, 0.2))
    assert 0.75 * low < np.mean(found) < 1.25 * high


def test_batches_that_agree_better_than_their_readings_are_not_taken_for_sure():
    assert 0.05 < boil_off([3.3] * 24, 0.3).sd < 0.2


def test_the_next_batch_lies_where_it_was_expected():
    rng = np.random.default_rng(3)
    cases, inside = 1500, 0
    for _ in range(cases):
        centre = rng.normal(3.0, 0.8)
        true = rng.normal(centre, 0.2, 13)
        expected = boil_off(list(rng.normal(true[:12], 0.15)), 0.15)
        inside += abs(true[12] - expected.mean) <= 1.645 * expected.sd
    # what is asked of every interval of 90 %: the standard deviation of the share over so many is below 0.9 %
    assert 0.86 <= inside / cases <= 0.94

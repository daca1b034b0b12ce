"""Chart limits, run rules, steps and drifts, held to published numbers, general libraries and simulated series."""

from __future__ import annotations

import doctest
import importlib

import numpy as np
import pytest
from history.measure_change import KINDS, draw, measure
from scipy import stats
from statsmodels.datasets import nile

from journal.history.change import (
    LevelStep,
    describe_change,
    find_drift,
    find_steps,
    individuals_chart,
    limits_after,
    run_signals,
)
from journal.history.change.chance import chance_of_any, chance_of_split
from journal.history.change.drift import trend
from journal.history.change.weigh import BEND, spread_between, weigh

# NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2: flow rates of ten batches
FLOW_RATES = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1]
KIND = {kind.name: kind for kind in KINDS}


@pytest.mark.parametrize("module", ["chart", "runs", "drift"])
def test_the_worked_examples_hold(module):
    tried = doctest.testmod(importlib.import_module(f"journal.history.change.{module}"))
    assert tried.attempted > 0
    assert tried.failed == 0


# The chart


def test_limits_of_the_handbook():
    chart = individuals_chart(FLOW_RATES)
    assert chart.centre == pytest.approx(50.81, abs=5e-5)
    assert chart.upper == pytest.approx(55.8041, abs=5e-5)
    assert chart.lower == pytest.approx(45.8159, abs=5e-5)
    # mean moving range 1.8778, from the same page
    assert chart.sigma * 1.128 == pytest.approx(1.8778, abs=5e-5)
    assert run_signals(FLOW_RATES, chart.centre, chart.sigma) == []


def test_one_value_has_no_limits():
    with pytest.raises(ValueError, match="two values"):
        individuals_chart([80.0])
    assert limits_after([80.0], []) == []


def test_limits_are_reckoned_anew_after_each_step():
    values = [*FLOW_RATES, *(value + 20 for value in FLOW_RATES)]
    before, after = limits_after(values, [LevelStep(10, 20.0, 18.0, 22.0, 0.001)])
    assert before == individuals_chart(FLOW_RATES)
    assert after.centre == pytest.approx(before.centre + 20)
    assert after.sigma == pytest.approx(before.sigma)


# Nelson's rules 1, 2, 5 and 6 (J. Qual. Technol. 16 (1984) 237): vectors by construction


@pytest.mark.parametrize(
    ("values", "expected"),
    [
        ([0, 3.01], [(1, "nelson-1")]),
        ([0, 3.00], []),
        ([0.1] * 9, [(8, "nelson-2")]),
        ([0.1] * 8, []),
        ([0.1] * 8 + [-0.1] + [0.1] * 8, []),
        ([0.1] * 8 + [0.0], []),
        ([0.1] * 20, [(8, "nelson-2")]),
        ([0.1] * 9 + [-0.1] * 9, [(8, "nelson-2"), (17, "nelson-2")]),
        ([2.1, 0, 2.1], [(2, "nelson-5")]),
        ([2.1, 0, -2.1], []),
        ([2.1, 0, 0, 2.1], []),
        ([1.1, 1.1, 0, 1.1, 1.1], [(4, "nelson-6")]),
        ([-1.1, -1.1, 0, -1.1, -1.1], [(4, "nelson-6")]),
        ([1.1, 1.1, 0, 0, 1.1, 1.1], []),
        ([3.1, 3.1], [(0, "nelson-1"), (1, "nelson-1"), (1, "nelson-5")]),
        ([0, 0.1, 0.2, 0.3, 0.4, 0.5], []),
        ([0.1, -0.1] * 7, []),
    ],
)
def test_run_rules(values, expected):
    assert [(signal.index, signal.rule) for signal in run_signals(values, 0.0, 1.0)] == expected
    shifted = [85 - 2 * value for value in values]
    assert [(signal.index, signal.rule) for signal in run_signals(shifted, 85.0, 2.0)] == expected


def test_without_scatter_no_run():
    assert run_signals([83.3] * 20, 83.3, 0.0) == []
    assert run_signals([], 0.0, 1.0) == []


# Weights and wild values


def test_spread_between_batches_is_what_the_readings_leave():
    rng = np.random.default_rng(4)
    sds = rng.uniform(0.5, 2.0, 4000)
    values = rng.normal(0, np.hypot(1.5, sds)) + 10 * (np.arange(4000) >= 2000)
    assert spread_between(values, sds) == pytest.approx(1.5, rel=0.08)
    assert spread_between(rng.normal(0, 1.0, 4000), np.full(4000, 2.0)) < 0.001


def test_only_the_wild_value_is_bent():
    values = [80.0, 81.0, 79.5, 80.5, 98.0, 80.2, 79.8, 81.1, 80.4, 79.9]
    bent = weigh(values).values
    assert [index for index, value in enumerate(values) if bent[index] != value] == [4]
    assert bent[4] < 80.5 + BEND * 2


# The chance of a split


@pytest.mark.parametrize(("contrast", "share", "count"), [(0.5, 0.5, 12), (0.7, 0.25, 20), (0.9, 0.5, 8)])
def test_one_split_alone_is_the_t_test(contrast, share, count):
    # Student's test with a pooled variance: contrast over root sum of squares is t / sqrt(t² + n - 2)
    t = contrast * np.sqrt((count - 2) / (1 - contrast**2))
    expected = 2 * stats.t.sf(t, count - 2)
    assert chance_of_split(contrast, np.array([share]), count) == pytest.approx(expected, rel=1e-9)
    assert chance_of_any(contrast, 1, count) == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize("count", [8, 15, 40])
def test_the_bound_is_above_the_simulated_chance_and_close(count):
    side = 3 if count < 10 else 4
    places = np.arange(side, count - side + 1)
    draws = np.random.default_rng(count).normal(size=(60_000, count))
    draws -= draws.mean(axis=1, keepdims=True)
    sums = np.cumsum(draws, axis=1)[:, places - 1] / np.sqrt(places * (1 - places / count))
    largest = np.abs(sums).max(axis=1) / np.sqrt((draws**2).sum(axis=1))
    for chance in (0.003, 0.015):
        bound = chance_of_split(float(np.quantile(largest, 1 - chance)), places / count, count)
        sampling = 4 * np.sqrt(chance / len(draws))
        assert chance - sampling < bound < 1.25 * chance + sampling


def test_shuffling_agrees():
    # the chance of one simulated series against 4,000 shuffles of its own values
    rng = np.random.default_rng(12)
    values = rng.uniform(-1, 1, 30) + 0.5 * (np.arange(30) >= 14)
    places = np.arange(4, 27)

    def largest(rows):
        rows = rows - rows.mean(axis=-1, keepdims=True)
        sums = np.cumsum(rows, axis=-1)[..., places - 1] / np.sqrt(places * (1 - places / 30))
        return np.abs(sums).max(axis=-1) / np.sqrt((rows**2).sum(axis=-1))

    seen = largest(values)
    shuffled = largest(rng.permuted(np.tile(values, (4000, 1)), axis=1))
    share = float(np.mean(shuffled >= seen))
    assert 0.002 < share < 0.1
    assert chance_of_split(float(seen), places / 30, 30) == pytest.approx(share, rel=0.3)


# Steps


def test_the_nile_fell_after_1898():
    # G. W. Cobb, Biometrika 65 (1978) 243: annual flow at Aswan 1871-1970, level 1098 up to 1898 and 850 after
    data = nile.load_pandas().data
    (step,) = find_steps(list(data.volume))
    assert data.year[step.first] == 1899
    assert step.low < 849.97 - 1097.75 < step.high
    assert step.change == pytest.approx(849.97 - 1097.75, abs=5)
    assert step.p_value < 1e-6
    change = describe_change(list(data.volume))
    assert change.steps == (step,)
    assert change.drift is None


def test_the_interval_is_welchs():
    # by hand: means 2.5 and 12.5, both variances 5/3, so an error of sqrt(2 × 5/12) on 6 degrees of freedom, t 1.94318
    (even,) = find_steps([1.0, 2.0, 3.0, 4.0, 11.0, 12.0, 13.0, 14.0])
    assert (even.first, even.change) == (4, pytest.approx(10))
    assert even.high - even.change == pytest.approx(1.94318 * (2 * 5 / 12) ** 0.5, rel=1e-5)
    # uneven sides, against the general library
    before, after = [80.0, 81.2, 79.5, 80.6, 80.1, 79.0], [86.1, 85.0, 87.2, 84.4, 86.9, 85.5, 88.0, 86.0, 85.2]
    (uneven,) = find_steps([*before, *after])
    expected = stats.ttest_ind(after, before, equal_var=False).confidence_interval(0.9)
    assert (uneven.low, uneven.high) == (pytest.approx(expected.low), pytest.approx(expected.high))


def test_no_step_in_seven_values_or_in_none():
    assert find_steps([1.0, 1.1, 0.9, 9.0, 9.1, 8.9, 9.0]) == []
    assert find_steps([]) == []


@pytest.mark.parametrize("level", [83.3, 0.1, 0.7231, -4.7])
@pytest.mark.parametrize("count", [9, 23, 40])
def test_rounding_of_equal_values_is_no_step(level, count):
    uneven = list(np.random.default_rng(count).uniform(0.01, 0.02, count))
    for sds in (None, uneven):
        assert find_steps([level] * count, sds) == []
        steps = find_steps([level] * count + [level + 0.3] * count, sds and sds * 2)
        assert [step.first for step in steps] == [count]


def test_rounded_values_with_a_step():
    (step,) = find_steps([80.0] * 9 + [81.0] + [85.0] * 10)
    assert step.first == 10
    assert find_steps([80.0] * 10 + [99.0] + [80.0] * 9) == []


def test_steps_follow_unit_sign_and_order():
    values, sds = draw(KIND["step of 4, uneven readings"], np.random.default_rng(3))
    assert sds is not None
    (step,) = find_steps(values, sds)
    (scaled,) = find_steps(12 - values / 100, sds / 100)
    (mirrored,) = find_steps(values[::-1], sds[::-1])
    assert scaled.first == step.first
    assert mirrored.first == len(values) - step.first
    assert mirrored.change == pytest.approx(-step.change, rel=1e-6)
    for got, expected in ((scaled.change, -step.change), (scaled.low, -step.high), (scaled.high, -step.low)):
        assert 100 * got == pytest.approx(expected, rel=1e-6)


def test_an_unsure_reading_counts_for_less():
    values = np.tile([80.0, 81.0, 79.2, 80.4], 6)
    values[12:16] += 6
    sure, unsure = np.full(24, 0.5), np.full(24, 0.5)
    unsure[12:16] = 8.0
    assert [step.first for step in find_steps(values, sure)] == [12, 16]
    assert find_steps(values, unsure) == []


def test_several_steps_are_found():
    values = np.random.default_rng(3).normal(0, 1, 160) + np.repeat([0, 3, 0.5, 4], 40)
    firsts = [step.first for step in find_steps(values)]
    assert len(firsts) == 3
    assert np.abs(np.array(firsts) - [40, 80, 120]).max() <= 3


# Drifts


def test_mann_kendall_and_sen_by_hand():
    # R. O. Gilbert, Statistical Methods for Environmental Pollution Monitoring (1987), ch. 16, for the method;
    # of ten pairs eight rise: S = 8 - 2, Var S = 5 × 4 × 15 / 18
    found = trend([5.0, 6.0, 11.0, 8.0, 10.0])
    assert found.score == 6
    assert found.variance == pytest.approx(300 / 18)
    assert found.per_batch == pytest.approx(1.125)


def test_slope_of_helsel_and_hirsch():
    # D. R. Helsel and R. M. Hirsch, Statistical Methods in Water Resources (USGS), ch. 10: one wild value leaves the slope at 1
    values = [1.0, 2.0, 3.0, 4.0, 5.0, 16.0, 7.0]
    found = trend(values)
    assert found.per_batch == pytest.approx(1.0)
    # 14 of 5,040 orders are as steady: 0.0027778
    assert found.p_value == pytest.approx(14 / 5040)
    assert found.p_value == pytest.approx(stats.kendalltau(range(7), values, method="exact").pvalue)


@pytest.mark.parametrize("count", [8, 20, 45])
def test_trend_agrees_with_the_general_library(count):
    values = np.random.default_rng(count).normal(0, 1, count) + 0.03 * np.arange(count)
    found = trend(values)
    slope, _, low, high = stats.theilslopes(values, np.arange(count), 0.9)
    pairs = np.sort([(b - a) / (j - i) for i, a in enumerate(values) for j, b in enumerate(values) if i < j])
    widest_gap = np.diff(pairs[len(pairs) // 20 : -len(pairs) // 20]).max()
    assert found.per_batch == pytest.approx(slope, rel=1e-9)
    # the library rounds to whole ranks of slopes where this one interpolates
    assert found.low == pytest.approx(low, abs=2 * widest_gap)
    assert found.high == pytest.approx(high, abs=2 * widest_gap)
    kendall = stats.kendalltau(np.arange(count), values, method="exact" if count <= 30 else "asymptotic")
    assert found.p_value == pytest.approx(kendall.pvalue, rel=0.05)


def test_ties_take_from_the_variance():
    values = [1.0, 2.0, 2.0, 3.0, 3.0, 3.0, 4.0, 2.0]
    # n(n-1)(2n+5)/18 less the same for each group of ties: 8 × 7 × 21, and two groups of 3 × 2 × 11
    assert trend(values).variance == pytest.approx((8 * 7 * 21 - 2 * 3 * 2 * 11) / 18)


def test_variance_with_weights_is_that_of_many_shuffles():
    rng = np.random.default_rng(6)
    sds = rng.uniform(0.5, 3, 14)
    rows = rng.permuted(np.tile(rng.normal(size=14), (4000, 1)), axis=1)
    worth = 1 / np.hypot(sds, spread_between(rows[0], sds))
    worth /= worth.mean()
    first, last = np.triu_indices(14, 1)
    scores = np.sign(rows[:, last] - rows[:, first]) @ (worth[first] * worth[last])
    assert trend(rows[0], list(sds)).variance == pytest.approx(scores.var(), rel=0.1)


def test_a_long_series_hardly_loses_by_its_strands():
    values = np.random.default_rng(9).normal(0, 1, 600) + 0.001 * np.arange(600)
    found, (slope, _, low, high) = trend(values), stats.theilslopes(values, np.arange(600), 0.9)
    assert found.per_batch == pytest.approx(slope, abs=0.1 * (high - low))
    assert found.high - found.low == pytest.approx(high - low, rel=0.1)


def test_a_clear_drift_is_no_step():
    values = 80 + np.tile([0.0, 1.2, -0.9, 0.6, -1.1], 8) + np.linspace(0, 6, 40)
    change = describe_change(values, [0.5] * 40)
    assert change.steps == ()
    assert change.drift is not None
    assert change.drift.low < 6 / 39 < change.drift.high
    assert find_drift(values[:7]) is None
    assert find_drift([83.0] * 20) is None


# What is promised of simulated series (`measure_change.py` prints the whole table)


@pytest.mark.long
@pytest.mark.parametrize(
    ("kind", "at_least"),
    [
        ("step of 4", 0.95),
        ("step of 2.5", 0.70),
        ("step of 2.5, uneven readings", 0.70),
        ("spell of 4 from 14 to 26", 0.80),
    ],
)
def test_steps_are_found_within_three_batches(kind, at_least):
    # of a hundred, a share of 0.95 strays by 0.02 (binomial), one of 0.7 by 0.05: a fault that loses one step in ten is seen
    got = measure(KIND[kind], 100)
    assert got.near >= at_least
    assert got.covered >= 0.82


@pytest.mark.long
@pytest.mark.parametrize(
    "kind",
    ["nothing, 8 values", "nothing, 12 values", "nothing", "nothing, uneven readings", "one wild value"],
)
def test_chance_alone_seldom_makes_a_step(kind):
    # where one series in twenty did, 97 of a hundred such runs would have more than four of 200 (binomial)
    got = measure(KIND[kind], 200)
    assert got.found <= 0.02
    assert got.told_drift <= 0.015


@pytest.mark.long
def test_a_drift_is_called_one_in_most_series():
    slow, steep = measure(KIND["drift of 4"], 100), measure(KIND["drift of 8"], 40)
    assert slow.told_drift > 0.5
    assert slow.told_drift > slow.told_step
    assert steep.told_drift > 0.8
    stair = measure(KIND["two steps of 4"], 40)
    assert stair.told_step > 0.75

"""The parts of a search for changes, each by itself: worked by hand, by every order there is, or by another integral."""

from __future__ import annotations

from itertools import combinations, pairwise, permutations
from statistics import median

import numpy as np
import pytest
from history.measure_change import KINDS, draw
from scipy import integrate, special, stats

from journal.history.change import LevelStep, describe_change, find_drift, find_steps, limits_after
from journal.history.change.chance import chance_of_split
from journal.history.change.describe import SeriesChange
from journal.history.change.drift import trend
from journal.history.change.weigh import running_median, spread_between, weigh

KIND = {kind.name: kind for kind in KINDS}
#: Of a normal distribution half lies within so many standard deviations, and the mean range of two values is so many (any table).
HALF, MEAN_RANGE = 0.674490, 1.128
UPS_AND_DOWNS = [80.0, 81.0] * 6


# Weights


def test_the_spread_of_values_that_go_up_and_down_by_one() -> None:
    nothing = np.zeros(12)
    whole = 1 / HALF / 2**0.5
    assert spread_between(np.array(UPS_AND_DOWNS), nothing) == pytest.approx(whole, rel=1e-5)
    # readings explain a part of it
    assert spread_between(np.array(UPS_AND_DOWNS), nothing + 0.6) == pytest.approx((whole**2 - 0.36) ** 0.5, rel=1e-5)
    assert spread_between(np.array(UPS_AND_DOWNS), nothing + 2.0) < 0.001
    # each difference has both its readings
    uneven = np.tile([0.2, 0.9], 6)
    assert spread_between(np.array(UPS_AND_DOWNS), uneven) == pytest.approx((whole**2 - 0.85 / 2) ** 0.5, rel=1e-5)


def test_where_most_neighbours_are_equal_the_mean_range_stands_in() -> None:
    values = np.array([80.0] * 6 + [81.0, 80.0])
    assert spread_between(values, np.zeros(8)) == pytest.approx(2 / 7 / MEAN_RANGE)
    assert spread_between(values, np.full(8, 0.1)) == 0.0


def test_weights_are_inverse_variances_and_no_value_is_surer_than_a_fifth() -> None:
    sds = [1.0] * 9 + [2.0] * 2 + [0.01]
    weights = weigh([80.0] * 12, sds).weights
    assert weights.mean() == pytest.approx(1.0)
    assert weights / weights[0] == pytest.approx([1.0] * 9 + [0.25] * 2 + [25.0])


def test_without_any_scatter_all_weigh_alike() -> None:
    assert list(weigh([83.3] * 9).weights) == [1.0] * 9


def test_the_level_is_the_median_of_three_on_each_side_mirrored_at_the_ends() -> None:
    values = [5.0, 1.0, 9.0, 2.0, 8.0, 3.0, 7.0, 4.0, 6.0, 0.0]
    mirrored = [*values[3:0:-1], *values, *values[-2:-5:-1]]
    assert list(running_median(np.array(values))) == [median(mirrored[n : n + 7]) for n in range(10)]


def test_a_wild_value_is_bent_to_two_and_a_half_standard_deviations_from_its_neighbours() -> None:
    wild = [*UPS_AND_DOWNS[:5], 99.0, *UPS_AND_DOWNS[6:]]
    bent = weigh(wild).values
    spread = spread_between(np.array(wild), np.zeros(12))
    assert bent[5] == pytest.approx(80.0 + 2.5 * spread)
    assert list(bent[:5]) == wild[:5]
    assert list(bent[6:]) == wild[6:]


# The chance of a split


def beyond(coordinate: float, dimensions: int) -> float:
    """Chance that one coordinate of a random point on the unit sphere is larger: half a beta distribution."""
    if abs(coordinate) >= 1:
        return float(coordinate < 0)
    tail = special.betainc((dimensions - 1) / 2, 0.5, 1 - coordinate**2) / 2
    return float(tail if coordinate > 0 else 1 - tail)


@pytest.mark.parametrize(("largest", "count"), [(0.55, 12), (0.8, 12), (0.45, 40)])
def test_the_bound_is_worsleys_by_another_integral(largest: float, count: int) -> None:
    """Each split past the mark, less each with its neighbour before it: K. J. Worsley, Biometrika 69 (1982) 297."""
    shares = np.array([0.3, 0.42, 0.5, 0.7])
    dimensions = count - 1
    scale = special.gamma(dimensions / 2) / special.gamma((dimensions - 1) / 2) / np.pi**0.5

    def both(before: float, after: float) -> float:
        alike = (before * (1 - after) / after / (1 - before)) ** 0.5

        def at(c: float) -> float:
            needed = (largest - alike * c) / ((1 - alike**2) * (1 - c**2)) ** 0.5
            return float(scale * (1 - c**2) ** ((dimensions - 3) / 2) * beyond(needed, dimensions - 1))

        return float(integrate.quad(at, largest, 1)[0])

    expected = 2 * (len(shares) * beyond(largest, dimensions) - sum(both(*pair) for pair in pairwise(shares)))
    assert chance_of_split(largest, shares, count) == pytest.approx(min(1.0, expected), rel=2e-4)


# Steps


def largest_contrast(values: np.ndarray, weights: np.ndarray, side: int) -> tuple[int, float, np.ndarray]:
    """Where two means differ most, over the root of the sum of squares; and the weight before each place."""
    mean = np.average(values, weights=weights)
    squares = (weights * (values - mean) ** 2).sum()
    places = range(side, len(values) - side + 1)
    found = []
    for place in places:
        before, after = (np.average(values[part], weights=weights[part]) for part in (slice(place), slice(place, None)))
        left, right = weights[:place].sum(), weights[place:].sum()
        found.append(abs(after - before) * (left * right / (left + right) / squares) ** 0.5)
    best = int(np.argmax(found))
    return places[best], found[best], np.array([weights[:place].sum() for place in places]) / weights.sum()


@pytest.mark.parametrize("seed", [2, 5, 8])
def test_a_steps_place_size_and_chance_are_those_of_all_splits_tried(seed: int) -> None:
    values, sds = draw(KIND["step of 4, uneven readings"], np.random.default_rng(seed))
    series = weigh(values, sds)
    place, largest, shares = largest_contrast(series.values, series.weights, 4)
    (step,) = find_steps(values, sds)
    assert step.first == place
    # four fifths of the risk that is allowed are a lasting step's
    assert step.p_value == pytest.approx(chance_of_split(largest, shares, len(values)) / 0.8)
    before, after = (
        np.average(series.values[part], weights=series.weights[part]) for part in (slice(place), slice(place, None))
    )
    assert step.change == pytest.approx(after - before)


@pytest.mark.parametrize(
    ("count", "first", "found"), [(8, 3, 3), (9, 3, 3), (9, 6, 6), (10, 4, 4), (12, 4, 4), (12, 8, 8)]
)
def test_a_level_has_three_values_in_a_short_series_and_four_in_a_longer_one(
    count: int, first: int, found: int
) -> None:
    values = [80.0 + 0.01 * (n % 2) + 5 * (n >= first) for n in range(count)]
    assert [step.first for step in find_steps(values)] == [found]


def test_seven_values_show_nothing_and_two_have_limits() -> None:
    assert describe_change([1.0, 2.0, 3.0, 4.0, 9.0, 9.0, 9.0]) == SeriesChange((), None)
    limits = limits_after([80.0, 81.0, 85.0, 87.0, 86.0], [LevelStep(2, 5.5, 4.0, 7.0, 0.01)])
    assert [limit.centre for limit in limits] == [80.5, 86.0]


def test_a_level_of_too_few_values_is_no_level() -> None:
    assert [step.first for step in find_steps([80.0 + 0.01 * (n % 2) + 5 * (n >= 2) for n in range(9)])] != [2]
    for count in (10, 12):
        assert [step.first for step in find_steps([80.0 + 0.01 * (n % 2) + 5 * (n >= 3) for n in range(count)])] != [3]


def test_between_two_rigid_levels_nothing_is_unsure() -> None:
    (step,) = find_steps([80.0] * 8 + [85.0] * 9)
    assert (step.first, step.change, step.low, step.high) == (8, 5.0, 5.0, 5.0)


def test_a_spell_that_ends_is_two_steps_there_and_back() -> None:
    rng = np.random.default_rng(1)
    values = rng.normal(80, 1, 44) + 7 * ((np.arange(44) >= 20) & (np.arange(44) < 26))
    steps = find_steps(values)
    assert [step.first for step in steps] == [20, 26]
    assert steps[0].low < 7 < steps[0].high
    assert steps[1].low < -7 < steps[1].high


# Drifts


@pytest.mark.parametrize("sds", [None, [0.5, 2.0, 1.0, 3.0, 0.7, 1.5]])
def test_the_variance_of_a_score_is_that_of_all_orders(sds: list[float] | None) -> None:
    values = np.array([3.0, 1.0, 4.0, 1.5, 5.0, 9.0])
    own = np.zeros(6) if sds is None else np.array(sds)
    worth = np.ones(6) if sds is None else 1 / np.hypot(own, spread_between(values, own))
    worth = worth / worth.mean()

    def score(order: tuple[float, ...]) -> float:
        return float(sum(np.sign(order[j] - order[i]) * worth[i] * worth[j] for i, j in combinations(range(6), 2)))

    scores = [score(order) for order in permutations(values)]
    found = trend(values, sds)
    assert found.score == pytest.approx(score(tuple(values)))
    assert found.variance == pytest.approx(np.var(scores), rel=1e-9)
    if sds is None:
        as_far = np.mean(np.abs(scores) >= abs(found.score) - 1e-9)
        assert found.p_value == pytest.approx(as_far)


@pytest.mark.parametrize(
    "values", [[1.0, 2.0, 2.0, 3.0, 5.0, 4.0, 6.0, 7.0], list(np.sin(np.arange(40)) + np.arange(40) / 15)]
)
def test_with_ties_and_in_long_series_the_chance_is_the_normal_curves(values: list[float]) -> None:
    """R. O. Gilbert, Statistical Methods for Environmental Pollution Monitoring (1987), ch. 16: Z = (|S| - 1) / root of Var S."""
    found = trend(values)
    expected = 2 * stats.norm.sf((abs(found.score) - 1) / found.variance**0.5)
    assert found.p_value == pytest.approx(expected, rel=1e-9)


def test_no_value_is_surer_than_five_times_the_usual_one_in_a_pair_either() -> None:
    values = np.arange(9.0) ** 1.5
    sure, surer = ([2.0] * 8 + [each] for each in (0.0, 0.01))
    assert trend(values, sure).score == pytest.approx(trend(values, surer).score, rel=1e-3)


def test_a_long_series_is_strands_that_interleave() -> None:
    values = np.random.default_rng(3).normal(0, 1, 260) + 0.004 * np.arange(260)
    found = trend(values)
    strands = [trend(values[start::2]) for start in range(2)]
    assert found.score == sum(strand.score for strand in strands)
    assert found.variance == pytest.approx(sum(strand.variance for strand in strands))
    slopes = [(b - a) / (j - i) for s in range(2) for (i, a), (j, b) in combinations(list(enumerate(values))[s::2], 2)]
    assert found.per_batch == pytest.approx(np.median(slopes), abs=1e-5)


def test_a_drift_is_told_where_one_order_in_a_hundred_is_as_steady() -> None:
    # of 40,320 orders of eight, 1, 7, 27, 76 and 174 have no pair, one, two, three and four the other way round
    assert find_drift([0, 1, 2, 3, 4, 5, 6, 7]).p_value == pytest.approx(2 / 40320)
    assert find_drift([1, 0, 2, 3, 4, 5, 6, 7]).p_value == pytest.approx(2 * 8 / 40320)
    assert find_drift([0, 2, 1, 4, 3, 6, 5, 7]).p_value == pytest.approx(2 * 111 / 40320)
    assert find_drift([4, 0, 1, 2, 3, 5, 6, 7]) is None


# A step or a drift


@pytest.mark.long
def test_of_a_step_and_a_drift_the_better_description_stays() -> None:
    """Logarithm of the squares left, and two for each number chosen: a line two; steps their levels, and places after the first thrice."""
    decided = {True: 0, False: 0}
    for name, seeds in (("drift of 4", range(12)), ("step of 4", range(12)), ("two steps of 4", range(6))):
        for seed in seeds:
            values, sds = draw(KIND[name], np.random.default_rng(seed))
            steps, drift, told = find_steps(values, sds), find_drift(values, sds), describe_change(values, sds)
            if not steps or drift is None:
                assert told == type(told)(tuple(steps), drift)
                continue
            series, place = weigh(values, sds), np.arange(len(values))
            line = np.polyval(np.polyfit(place, series.values, 1, w=series.weights**0.5), place)
            stair = np.zeros(len(values))
            for start, end in pairwise([0, *(step.first for step in steps), len(values)]):
                stair[start:end] = np.average(series.values[start:end], weights=series.weights[start:end])
            left = [float(series.weights @ (series.values - fit) ** 2) for fit in (stair, line)]
            chosen = (len(steps) + 1 + 1 + 3 * (len(steps) - 1), 2)
            costs = [len(values) * np.log(squares) + 2 * numbers for squares, numbers in zip(left, chosen, strict=True)]
            decided[costs[0] <= costs[1]] += 1
            assert (told.steps == tuple(steps), told.drift is None) == (costs[0] <= costs[1],) * 2
    assert min(decided.values()) >= 3

"""Which practice goes with a better figure: verdicts against records with a known truth."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from history.measure_levers import LOT_SD, Truth, simulated, tally
from statsmodels.stats.multitest import multipletests

from journal.history import levers
from journal.history.levers import LeverResult, Row, matched_pairs, prepare
from journal.history.levers.study import holm_shares


def study(rows: list[Row], lot_sd: float, units: dict[str, str]) -> list[LeverResult]:
    (judged,) = levers.judge([levers.measure(prepare(rows, lot_sd), units)])
    return judged


def settle(rows: list[Row], results: list[LeverResult], lot_sd: float) -> levers.Settling | None:
    found = levers.settle_each(prepare(rows, lot_sd), results, levers.count_looked_at([results]))
    return next(iter(found), None)


def spread_between(rows: list[Row], results: list[LeverResult], lot_sd: float) -> float:
    return levers.spread_between(prepare(rows, lot_sd), results)


def holm(looked_at: list[tuple[str, float]]) -> list[float]:
    """P-values adjusted for all that was looked at."""
    return [min(p / share, 1.0) for (_, p), share in zip(looked_at, holm_shares(looked_at), strict=True)]


def test_holm():
    p = [0.011, 0.02, 0.3, 0.0004, 0.013, 0.9]
    ours = holm([(str(index), value) for index, value in enumerate(p)])
    assert ours == pytest.approx(multipletests(p, method="holm")[1], rel=1e-12)


def test_a_lever_of_many_words_weighs_no_more_than_one_number():
    # weights of S. Holm, Scand. J. Statist. 6 (1979) 65: of two levers, a word of four counts for an eighth of the error
    ours = holm([("crush", 0.01), *(("mixing", p) for p in (0.002, 0.5, 0.6, 0.7))])
    assert ours[1] == pytest.approx(0.002 * 4 * 2)
    assert ours[0] == pytest.approx(0.01 * (2 - 1 / 4))


def test_figures_searched_together_share_one_risk():
    """What is clear by itself at its last has to stand out from every figure that was looked at (Holm)."""
    rows = [simulated(seed, Truth(-0.2)) for seed in range(4)]
    measured = [levers.measure(prepare(each, LOT_SD), {}) for each in rows]
    together = levers.judge(measured)
    p = [(result.p_value, result.adjusted_p) for results in together for result in results if result.kind == "slope"]
    assert levers.count_looked_at(together) == 4 * levers.count_looked_at(together[:1])
    assert min(p)[1] == pytest.approx(min(p)[0] * levers.count_looked_at(together))
    alone = [result.adjusted_p for result in levers.judge(measured[:1])[0] if result.adjusted_p is not None]
    shared = [result.adjusted_p for result in together[0] if result.adjusted_p is not None]
    assert all(one <= other for one, other in zip(alone, shared, strict=True))


# Verdicts


def batches(count: int, crush_effect: float = -0.2, seed: int = 0, **levers: list[float] | list[str]) -> list[Row]:
    rng = np.random.default_rng(seed)
    settings = [dict(zip(levers, each, strict=True)) for each in zip(*levers.values(), strict=True)]
    return [
        Row(
            str(index),
            float(crush_effect * settings[index].get("crush", 0.0) + rng.normal(0, 0.01)),
            0.005,
            {"one": 1.0},
            settings[index],
        )
        for index in range(count)
    ]


def only(results: list[LeverResult], lever: str) -> LeverResult:
    (result,) = (result for result in results if result.lever == lever)
    return result


def near(result: LeverResult, truth: float) -> bool:
    """Within three and a half standard errors, as one record in a thousand is not."""
    return abs(result.effect - truth) < 3.5 * result.sd


COARSE_THEN_FINE = [1.3] * 10 + [0.9] * 10


def test_a_plain_slope():
    result = only(study(batches(20, crush=[0.9, 1.0, 1.2, 1.3] * 5), 0.006, {"crush": "1/mm"}), "crush")
    assert (result.kind, result.unit, result.batches, result.lowest, result.highest) == ("slope", "1/mm", 20, 0.9, 1.3)
    assert result.verdict == "clear"
    assert near(result, -0.2)


def test_words_are_held_against_the_commonest():
    rows = batches(20, crush=[0.9, 1.3] * 10, mixing=["stirred"] * 9 + ["once"] * 6 + ["rakes"] * 4 + ["paddle"])
    rows = [replace(row, value=row.value + 0.05 * (row.settings["mixing"] == "once")) for row in rows]
    results = {result.group: result for result in study(rows, 0.006, {}) if result.lever == "mixing"}
    assert {result.reference for result in results.values()} == {"stirred"}
    assert results["once"].verdict == "clear"
    assert near(results["once"], 0.05)
    assert results["rakes"].verdict == "not clear"
    assert results["paddle"].verdict == "too little variation"


@pytest.mark.parametrize(
    ("crush", "verdict"),
    [
        ([0.9, 1.0, 1.1, 1.2, 1.3, 0.9, 1.3], "too few batches"),
        ([1.0] * 12 + [0.8, 1.3], "too little variation"),
        ([1.0, 1.01, 1.02, 1.03] * 4, "too little variation"),
        ([1.0] * 12 + [0.9] * 3, "clear"),
    ],
    ids=["seven batches", "two away", "less than a tenth of a millimetre", "three away"],
)
def test_no_verdict_before_enough_was_tried(crush, verdict):
    result = only(study(batches(len(crush), -0.5, crush=crush), 0.006, {}), "crush")
    assert result.verdict == verdict
    assert (result.effect is None) == (verdict != "clear")


def test_two_levers_changed_in_the_same_week_are_not_told_apart():
    rows = batches(20, crush=COARSE_THEN_FINE, mixing=["stirred"] * 10 + ["rakes"] * 10)
    crush, mixing = only(study(rows, 0.0, {}), "crush"), only(study(rows, 0.0, {}), "mixing")
    assert crush.adjusted_p < 0.001
    assert (crush.verdict, crush.tangled_with, crush.apart) == ("not clear", ("mixing",), False)
    assert (mixing.verdict, mixing.tangled_with, mixing.apart) == ("not clear", ("crush",), False)


def test_a_few_batches_that_break_the_tangle_make_it_clear():
    rows = batches(
        32, crush=[1.3] * 14 + [0.9] * 14 + [1.3, 0.9] * 2, mixing=["stirred"] * 14 + ["rakes"] * 16 + ["stirred"] * 2
    )
    crush = only(study(rows, 0.0, {}), "crush")
    assert crush.tangled_with == ("mixing",)
    assert crush.adjusted_for == ("mixing",)
    assert crush.verdict == "clear"
    assert near(crush, -0.2)


def test_a_crush_that_changed_with_the_lot_of_malt():
    rows = batches(20, crush=COARSE_THEN_FINE)
    one_change = [replace(row, lots={"old" if index < 10 else "new": 1.0}) for index, row in enumerate(rows)]
    assert only(study(one_change, 0.006, {}), "crush").tangled_with == ("malt_lot",)
    assert only(study(one_change, 0.006, {}), "crush").verdict == "not clear"
    # of many lots on either side the sheets' errors average out
    many = [replace(row, lots={f"lot {index // 2}": 1.0}) for index, row in enumerate(rows)]
    assert only(study(many, 0.006, {}), "crush").verdict == "clear"


def test_what_a_lot_shares_does_not_average_out():
    rows = batches(20, crush=COARSE_THEN_FINE)
    few = [replace(row, lots={f"lot {index // 10}": 1.0}) for index, row in enumerate(rows)]
    shared, unshared = (only(study(few, lot_sd, {}), "crush") for lot_sd in (0.01, 0.0))
    # two lots of 0.01 each over 0.4 mm
    assert shared.sd == pytest.approx(math.hypot(unshared.sd, 0.01 * math.sqrt(2) / 0.4), rel=0.02)


def test_one_wild_batch_does_little():
    rows = simulated(5, Truth(-0.2))
    wild = [replace(row, value=row.value + 0.5) if row.batch == "17" else row for row in rows]
    before, after = (only(study(each, LOT_SD, {}), "crush") for each in (rows, wild))
    assert abs(after.effect - before.effect) < before.sd
    assert after.verdict == "clear"


def test_an_unrecorded_adjuster_costs_no_batch():
    rows = simulated(2, Truth(-0.2))
    gaps = [
        replace(
            row,
            settings={name: value for name, value in row.settings.items() if name != "mash_ph" or int(row.batch) > 4},
        )
        for row in rows
    ]
    whole, gappy = only(study(rows, LOT_SD, {}), "crush"), only(study(gaps, LOT_SD, {}), "crush")
    assert "mash_ph" in gappy.adjusted_for
    assert gappy.degrees_of_freedom == whole.degrees_of_freedom
    assert gappy.effect == pytest.approx(whole.effect, abs=0.5 * whole.sd)
    bare = [
        replace(
            row,
            settings={name: value for name, value in row.settings.items() if name != "mash_ph" or int(row.batch) > 20},
        )
        for row in rows
    ]
    assert "mash_ph" not in only(study(bare, LOT_SD, {}), "crush").adjusted_for


def test_adjusters_are_chosen_without_looking_at_the_outcome():
    rows = simulated(3, Truth())
    shuffled = [replace(row, value=other.value) for row, other in zip(rows, reversed(rows), strict=True)]
    chosen = [[result.adjusted_for for result in study(each, LOT_SD, {})] for each in (rows, shuffled)]
    assert chosen[0] == chosen[1]


def test_the_order_of_levers_and_the_level_of_the_figure_make_no_difference():
    rows = simulated(4, Truth(-0.1))
    turned = [
        replace(row, value=row.value + 0.8, settings=dict(sorted(row.settings.items(), reverse=True))) for row in rows
    ]
    one, other = (only(study(each, LOT_SD, {}), "crush") for each in (rows, turned))
    assert other.effect == pytest.approx(one.effect, rel=1e-3)
    assert other.adjusted_p == pytest.approx(one.adjusted_p, rel=1e-2)
    assert study(rows, LOT_SD, {}) == study(rows, LOT_SD, {})


def test_effects_go_by_the_levers_unit():
    rows = simulated(6, Truth())
    seconds = [
        replace(row, settings={**row.settings, "stirs in the mash": 60 * row.settings["stirs in the mash"]})
        for row in rows
    ]
    one, other = (only(study(each, LOT_SD, {}), "stirs in the mash") for each in (rows, seconds))
    assert other.effect == pytest.approx(one.effect / 60, rel=1e-6)
    assert other.p_value == pytest.approx(one.p_value, rel=1e-6)


@pytest.mark.long
@pytest.mark.parametrize(("crush", "clear_at_least"), [(-0.2, 39), (-0.1, 30)])
def test_a_crush_that_matters_is_found(crush, clear_at_least):
    # a share of the table of measure_levers.py: 98 % and 85 % of all records
    found = tally(Truth(crush), 40, start=1000)
    assert found.crush_clear >= clear_at_least
    assert 33 <= found.crush_covered <= 39


@pytest.mark.long
def test_levers_that_do_nothing_are_left_alone():
    found = tally(Truth(), 40, start=2000)
    assert 0.85 <= found.others_covered / found.others_looked <= 0.95
    assert max(found.falsely_clear.values(), default=0) <= 2


def test_no_record_at_all():
    assert study([], 0.006, {}) == []
    assert matched_pairs([], 0.006, 0.01) == []
    assert settle([], [], 0.006) is None
    assert spread_between([], [], 0.006) == 0.0


# Natural experiments, the next brew, lots


def pair_rows() -> list[Row]:
    def row(batch: str, value: float, lots: dict[str, float], **settings: float | str) -> Row:
        return Row(batch, value, 0.01, lots, settings)

    return [
        row("1", 0.80, {"a": 1.0}, crush=1.3, mash_ph=5.40, mixing="rakes"),
        row("2", 0.86, {"a": 1.0}, crush=1.0, mash_ph=5.44, mixing="rakes"),
        row("3", 0.82, {"a": 0.5, "b": 0.5}, crush=1.3, mash_ph=5.40, mixing="stirred"),
        row("4", 0.83, {"b": 1.0}, crush=1.0, mixing="stirred"),
    ]


def test_matched_pairs_differ_in_one_lever_only():
    crush, mixing = matched_pairs(pair_rows(), 0.02, 0.0)
    assert (crush.lever, crush.first, crush.second, crush.before, crush.after) == ("crush", "1", "2", 1.3, 1.0)
    assert crush.difference == pytest.approx(0.06)
    # one lot: its error cancels
    assert crush.sd == pytest.approx(0.01 * math.sqrt(2))
    assert (mixing.lever, mixing.first, mixing.second) == ("mixing", "1", "3")
    # half of one lot against half of another: twice (0.5 × 0.02)²
    assert mixing.sd == pytest.approx(math.sqrt(2 * 0.01**2 + 2 * 0.01**2))


def test_batches_differ_by_their_own_scatter_too():
    assert matched_pairs(pair_rows(), 0.02, 0.03)[0].sd == pytest.approx(math.sqrt(2 * (0.01**2 + 0.03**2)))


def test_the_setting_hardly_tried_tells_most():
    rows = batches(16, -0.02, seed=4, crush=[1.3] * 4 + [0.9] + [1.2, 1.3] * 5 + [1.3])
    results = study(rows, 0.006, {"crush": "1/mm"})
    found = settle(rows, results, 0.006)
    assert (found.lever, found.after, found.now, found.setting) == ("crush", "15", 1.3, 0.9)
    assert found.sd_now == pytest.approx(only(results, "crush").sd)
    # brewing it does what was said
    more = [*rows, Row("16", -0.018, 0.005, {"one": 1.0}, {"crush": 0.9})]
    assert only(study(more, 0.006, {}), "crush").sd < found.sd_now
    assert found.sd_then == pytest.approx(only(study(more, 0.006, {}), "crush").sd, rel=0.25)


def test_a_tangle_is_settled_by_changing_one_of_the_two():
    rows = batches(20, crush=COARSE_THEN_FINE, mixing=["stirred"] * 10 + ["rakes"] * 10)
    found = settle(rows, study(rows, 0.0, {}), 0.0)
    assert found.lever in ("crush", "mixing")
    assert found.sd_now is None
    spread = spread_between(rows, study(rows, 0.0, {}), 0.0)
    # one batch against ten, over 0.4 mm where it's the crush
    step = 0.4 if found.lever == "crush" else 1.0
    assert found.sd_then == pytest.approx(math.hypot(spread, 0.005) * math.sqrt(1 + 1 / 10) / step, rel=1e-3)


def test_no_brewer_is_asked_for_what_nobody_would_brew():
    """A mash of 8 L/kg was tried once; the next brew is asked to go no further than 5 (common practice)."""
    thin = [3.0] * 4 + [8.0, 7.0, 8.0] + [3.1, 3.0] * 4 + [3.0]
    rows = batches(16, seed=4, liquor_to_grist=thin, hulls=[0.0, 0.3, 0.0, 0.3] * 4)
    found = settle(rows, study(rows, 0.006, {"liquor_to_grist": "kg/L", "hulls": "1"}), 0.006)
    assert (found.lever, found.setting) == ("liquor_to_grist", 5.0)


def asked_thickness(thin: list[float], rows_of: Callable[[list[Row]], list[Row]]) -> float | None:
    rows = rows_of(batches(16, seed=4, liquor_to_grist=thin))
    found = settle(rows, study(rows, 0.006, {"liquor_to_grist": "kg/L"}), 0.006)
    return found and found.setting


def test_a_mash_is_asked_for_that_the_brewer_made_so_and_that_goes_into_the_tun():
    """Three bags at 4.2 L/kg among sparged mashes of 3.0 to 3.2: a sparged mash goes a step of 0.2 beyond, or to what the tun holds."""
    thin = [3.0, 3.0, 3.1, 3.2, 4.2, 4.2, 4.2] + [3.1, 3.0] * 4 + [3.0]

    def lautered(rows: list[Row], **more: object) -> list[Row]:
        methods = ["bag" if row.settings["liquor_to_grist"] > 4 else "batch sparge" for row in rows]
        return [replace(row, method=method, **more) for row, method in zip(rows, methods, strict=True)]

    assert asked_thickness(thin, list) == 4.2
    assert asked_thickness(thin, lautered) == pytest.approx(3.4)
    assert asked_thickness(thin, lambda rows: lautered(rows, most={"liquor_to_grist": 3.3})) == pytest.approx(3.3)
    # a brew that is thinner than handbooks have it already is not asked for the handbooks' limit
    assert asked_thickness([6.6 if each > 4 else 5.5 for each in thin], list) is None


def test_nothing_to_settle_where_all_is_clear():
    rows = batches(20, crush=[0.9, 1.0, 1.2, 1.3] * 5)
    assert settle(rows, study(rows, 0.006, {}), 0.006) is None


@pytest.mark.long
def test_the_interval_of_the_verdict_leaves_zero_out_just_where_the_verdict_is_clear():
    for seed in range(12):
        for result in study(simulated(seed, Truth(-0.03)), LOT_SD, {}):
            if result.effect is not None:
                out = result.judged_low > 0 or result.judged_high < 0
                assert (result.verdict == "clear") == (out and result.apart), (seed, result)
                assert result.judged_low <= result.low <= result.effect <= result.high <= result.judged_high


def test_one_factor_alone_is_judged_by_the_plain_interval():
    result = only(study(batches(20, -0.2, crush=COARSE_THEN_FINE), 0.0, {}), "crush")
    assert (result.judged_low, result.judged_high) == pytest.approx((result.low, result.high))

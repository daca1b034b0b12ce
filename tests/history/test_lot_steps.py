"""A step that comes with a new lot of malt has to stand out from what two sheets may differ by."""

from __future__ import annotations

import math
from collections.abc import Sequence

import pytest

from journal.history.change import LevelStep, find_steps
from journal.history.lot_steps import steps_beyond_lots

#: A certificate's half a point of 81 (common practice), as a share.
SHEET = 0.0062
SDS = [0.004] * 24
OLD, NEW = {"old": 1.0}, {"new": 1.0}


def series(change: float) -> list[float]:
    """Twelve batches, and twelve after a change, about two level stretches."""
    wave = (0.004, -0.005, 0.001, -0.002, 0.005, -0.003)
    return [wave[index % 6] + (change if index >= 12 else 0.0) for index in range(24)]


def half(step: LevelStep) -> float:
    return (step.high - step.low) / 2


def steps(change: float, lots: Sequence[dict[str, float]], sheet: float = SHEET) -> tuple[LevelStep, ...]:
    return steps_beyond_lots(series(change), SDS, lots, sheet)


def test_less_than_sheets_allow_is_no_step_where_the_lot_changed() -> None:
    # two sheets together: 0.0062 · √2 = 0.0088, and 0.016 is less than twice that
    assert [step.first for step in find_steps(series(0.016), SDS)] == [12]
    assert steps(0.016, [OLD] * 12 + [NEW] * 12) == ()


def test_the_same_change_within_a_lot_is_a_step() -> None:
    assert [step.first for step in steps(0.016, [OLD] * 24)] == [12]


def test_the_same_change_is_a_step_where_sheets_dont_matter() -> None:
    assert [step.first for step in steps(0.016, [OLD] * 12 + [NEW] * 12, sheet=0.0)] == [12]


def test_more_than_sheets_allow_is_a_step_though_the_lot_changed() -> None:
    (step,) = steps(0.04, [OLD] * 12 + [NEW] * 12)
    assert step.first == 12
    assert step.change == pytest.approx(0.04, abs=0.004)
    assert step.low < 0.04 < step.high


def test_the_interval_is_widened_by_what_two_sheets_differ_by() -> None:
    (within,) = steps(0.04, [OLD] * 24)
    (across,) = steps(0.04, [OLD] * 12 + [NEW] * 12)
    assert across.change == within.change
    # independent errors add as squares; 1.7 standard errors are 90 % with some twenty degrees of freedom (any table of t)
    widened = math.sqrt(half(across) ** 2 - half(within) ** 2) / 1.7
    assert widened == pytest.approx(SHEET * math.sqrt(2), rel=0.01)
    assert (across.high + across.low) / 2 == pytest.approx(across.change)


def test_a_lot_that_is_half_of_the_grist_counts_half() -> None:
    blend = {"old": 0.5, "new": 0.5}
    (within,) = steps(0.04, [OLD] * 24)
    (across,) = steps(0.04, [OLD] * 12 + [blend] * 12)
    widened = math.sqrt(half(across) ** 2 - half(within) ** 2) / 1.7
    assert widened == pytest.approx(SHEET * math.hypot(0.5, 0.5), rel=0.01)


def test_lots_that_come_and_go_on_both_sides_explain_nothing() -> None:
    mixed = [OLD if index % 2 else NEW for index in range(24)]
    (step,) = steps(0.016, mixed)
    (within,) = steps(0.016, [OLD] * 24)
    assert half(step) == pytest.approx(half(within))


def test_a_change_between_two_lots_need_only_stand_out_from_its_own_stretches() -> None:
    # a third lot long before says nothing of the change
    values = [-0.06 + value for value in series(0.0)[:12]] + series(0.04)
    lots = [{"older": 1.0}] * 12 + [OLD] * 24
    found = steps_beyond_lots(values, [0.004] * 36, lots, SHEET)
    assert [step.first for step in found] == [12, 24]
    first, second = (half(step) for step in found)
    assert second < first

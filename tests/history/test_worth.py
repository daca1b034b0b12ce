"""What a better efficiency is worth, by arithmetic on paper."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
import pytest
from scipy.stats import ttest_ind
from texts import batch_of, settings_at

from journal.figures import BatchFigures, figures_of
from journal.history.change import LevelStep
from journal.history.worth import Worth, worth_of
from journal.reading import Batch, Brewery, Malts

MALTS = """
    island-pale: {kind: pale malt, price: 2.00}
    island-amber: {kind: amber malt, price: 5.00}
    gift: {kind: wheat malt}
"""
PALE = "grains: [{malt: island-pale, weight: 5 kg}]"
#: Four fifths at 2.00 and one fifth at 5.00: 2.60 a kilogram.
MIXED = "grains: [{malt: island-pale, weight: 4 kg}, {malt: island-amber, weight: 1 kg}]"
UNPRICED = "grains: [{malt: island-pale, weight: 4 kg}, {malt: gift, weight: 1 kg}]"


@dataclass(frozen=True)
class Got:
    batch: str
    value: float
    residual: float


@pytest.fixture(scope="module")
def malts(tmp_path_factory: pytest.TempPathFactory) -> Malts:
    return settings_at(tmp_path_factory.mktemp("malts"), "", MALTS)[1]


def worth(
    residuals: list[float],
    steps: list[int],
    malts: Malts,
    grist: str = PALE,
    lots: Mapping[str, Mapping[str, float]] | None = None,
) -> Worth | None:
    """Batches of 5 kg that got 0.80 and what stands in `residuals`."""
    points = [Got(str(number), 0.80 + residual, residual) for number, residual in enumerate(residuals, start=1)]
    batches: dict[str, Batch] = {point.batch: batch_of(grist) for point in points}
    figures: dict[str, BatchFigures] = {
        batch_id: figures_of(batch, Brewery(), malts) for batch_id, batch in batches.items()
    }
    changes = [LevelStep(first, 0.0, 0.0, 0.0, 0.0) for first in steps]
    return worth_of(points, changes, batches, figures, malts, lots or {}, 0.006)


def test_grain_and_money_saved_since_a_step(malts: Malts) -> None:
    found = worth([0.0] * 6 + [0.04] * 4, [6], malts)
    assert found is not None
    assert (found.since, found.batches) == ("7", 4)
    assert found.change == pytest.approx(0.04)
    # each 5 kg gave at 0.84 what at 0.80 would have wanted 5 · 0.84 / 0.80 = 5.25 kg
    assert found.saved.grain == pytest.approx(4 * 0.25)
    assert found.saved.money == pytest.approx(4 * 0.25 * 2.00)


def test_a_worse_level_spends_grain(malts: Malts) -> None:
    found = worth([0.0] * 6 + [-0.04] * 5, [6], malts)
    assert found is not None
    # 5 · 0.76 / 0.80 = 4.75 kg would have done
    assert found.saved.grain == pytest.approx(-5 * 0.25)
    assert found.saved.money == pytest.approx(-5 * 0.25 * 2.00)


def test_without_a_step_the_first_five_are_what_the_rest_is_held_against(malts: Malts) -> None:
    found = worth([-0.02, 0.02, 0.0, 0.01, -0.01, 0.04, 0.0, 0.02], [], malts)
    assert found is not None
    assert (found.since, found.batches) == ("6", 3)
    assert found.change == pytest.approx(0.02)
    assert found.saved.grain == pytest.approx(5 * (0.04 + 0.0 + 0.02) / 0.80)


def test_of_several_steps_the_last_is_held_against_the_stretch_before_it(malts: Malts) -> None:
    found = worth([0.10] * 5 + [0.0] * 4 + [0.02] * 3, [5, 9], malts)
    assert found is not None
    assert (found.since, found.batches) == ("10", 3)
    assert found.change == pytest.approx(0.02)


def test_a_grist_costs_what_its_malts_cost_by_weight(malts: Malts) -> None:
    found = worth([0.0] * 6 + [0.04] * 4, [6], malts, MIXED)
    assert found is not None
    assert found.saved.money == pytest.approx(found.saved.grain * 2.60)


@pytest.mark.parametrize("grist", [UNPRICED, "grains: [{malt: pale malt, weight: 5 kg}]"])
def test_where_a_price_is_missing_there_is_grain_and_no_money(grist: str, malts: Malts) -> None:
    found = worth([0.0] * 6 + [0.04] * 4, [6], malts, grist)
    assert found is not None
    assert found.saved.grain == pytest.approx(1.0)
    assert found.saved.money is None


@pytest.mark.parametrize(("batches", "steps"), [(0, []), (5, []), (7, []), (10, [2]), (10, [8])], ids=str)
def test_too_few_batches_on_either_side_are_worth_nothing(batches: int, steps: list[int], malts: Malts) -> None:
    assert worth([0.0] * batches, steps, malts) is None


def test_three_on_either_side_are_enough(malts: Malts) -> None:
    assert worth([0.0] * 6, [3], malts) is not None


def test_the_interval_is_that_of_welch(malts: Malts) -> None:
    """Held against SciPy's unequal-variance t test (Welch 1947)."""
    before, after = [0.010, -0.012, 0.004, -0.002, 0.001], [0.031, 0.018, 0.025, 0.040]
    found = worth(before + after, [5], malts)
    assert found is not None
    published = ttest_ind(after, before, equal_var=False).confidence_interval(0.90)
    assert (found.low, found.high) == pytest.approx((published.low, published.high), rel=1e-9)
    assert found.sure
    assert found.least.grain < found.saved.grain < found.most.grain


def test_scatter_is_not_called_a_saving(malts: Malts) -> None:
    found = worth([0.02, -0.02, 0.01, -0.01, 0.0, 0.015, -0.015, 0.01], [], malts)
    assert found is not None
    assert not found.sure
    assert found.least.grain < 0 < found.most.grain


def test_another_lot_widens_the_interval_by_what_its_sheet_may_have_wrong(malts: Malts) -> None:
    residuals = [0.010, -0.012, 0.004, -0.002, 0.001, 0.031, 0.018, 0.025, 0.040]
    of_one = worth(residuals, [5], malts, lots={str(n): {"a": 1.0} for n in range(1, 10)})
    of_two = worth(residuals, [5], malts, lots={str(n): {"a" if n < 6 else "b": 1.0} for n in range(1, 10)})
    assert of_one is not None
    assert of_two is not None
    # the two sheets' errors, 0.6 % of an efficiency of about 0.83 each, however many batches there are
    mean_after = 0.80 + float(np.mean(residuals[5:]))
    apart = 2**0.5 * 0.006 * mean_after
    assert (of_two.high - of_two.low) ** 2 - (of_one.high - of_one.low) ** 2 > (2 * 1.6 * apart) ** 2

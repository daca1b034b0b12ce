"""What each lot gave against its sheet."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats

from journal.history.moved.lots import LotEffect, lot_effects
from journal.history.moved.ratio import design_of, moves_of
from journal.history.moved.said import Said
from journal.history.moved.whitened import Whitened


def effects_of(values: np.ndarray, lots: np.ndarray, sd: float, sheet: float) -> dict[str, LotEffect]:
    """Lots by batches that each say one thing of the extract, as a fraction, with a standard deviation."""
    names = [f"lot {lot}" for lot in dict.fromkeys(lots.tolist())]
    shares = np.array([[f"lot {lot}" == name for lot in lots] for name in names], dtype=float)
    level = np.full((len(lots), 1, 1), 1.0 / sd)
    w = Whitened(
        tuple(map(str, range(len(lots)))),
        values[:, None] / sd,
        np.concatenate([level, shares.T[:, None, :] / sd], axis=2),
        np.array([1e-6, *([sheet**-2.0] * len(names))]),
        ("hydrometer",),
        np.full((1, len(lots), 1), 1.0 / sd),
        np.ones(1),
        tuple(names),
        np.arange(1, len(names) + 1),
        shares,
        np.full(len(names), sheet),
    )
    return {effect.lot: effect for effect in lot_effects(w, moves_of(design_of(w), Said()), [])}


def test_a_lot_that_gives_less_than_its_sheet():
    rng = np.random.default_rng(3)
    lots = np.repeat(np.arange(8), 5)
    effects = effects_of(rng.normal(0, 0.008, 40) - 0.02 * (lots == 4), lots, 0.009, 0.008)
    assert effects["lot 4"].batches == 5
    assert effects["lot 4"].high < 0.0
    assert sum(effect.low <= 0.0 <= effect.high for effect in effects.values()) >= 6


def test_a_sheet_that_is_simply_wrong_pulls_little():
    """Four points less extract of 81: the estimate is near what the batches say, not half way to the sheet."""
    lots = np.repeat(np.arange(8), 5)
    effect = effects_of(-0.05 * (lots == 4) * 1.0, lots, 0.009, 0.006)["lot 4"]
    assert effect.effect == pytest.approx(-0.05, abs=0.008)
    assert effect.low <= -0.05 <= effect.high


def test_intervals_of_lots_hold_what_they_say():
    inside = total = 0
    for seed in range(60):
        rng = np.random.default_rng(seed)
        sheet = rng.normal(0, 0.008, 6)
        lots = np.repeat(np.arange(6), 5)
        found = effects_of(np.repeat(sheet, 5) + rng.normal(0, 0.018, 30), lots, 0.018, 0.008)
        inside += sum(found[f"lot {i}"].low <= truth <= found[f"lot {i}"].high for i, truth in enumerate(sheet))
        total += len(found)
    assert 0.85 <= inside / total <= 0.97


def test_the_mixture_by_plain_numbers():
    """One lot against many: Bayes' rule on a fine grid, the level known."""
    lots = np.repeat(np.arange(40), 5)
    values = np.where(lots == 7, -0.02, 0.0)
    effect = effects_of(values, lots, 0.01, 0.006)["lot 7"]
    grid = np.linspace(-0.15, 0.15, 60001)
    prior = 0.7 * stats.norm(0, 0.006).pdf(grid) + 0.3 * stats.norm(0, np.hypot(0.006, 0.03)).pdf(grid)
    # 195 other batches know the level to 0.01 / √195, and their lots' sheets to 0.006 / √39
    doubt = np.sqrt(0.01**2 / 5 + 0.01**2 / 195 + 0.006**2 / 39)
    weight = prior * stats.norm(-0.02, doubt).pdf(grid)
    below = np.cumsum(weight) / np.sum(weight)
    assert effect.effect == pytest.approx(np.sum(grid * weight) / np.sum(weight), abs=3e-4)
    assert effect.low == pytest.approx(grid[np.searchsorted(below, 0.05)], abs=5e-4)
    assert effect.high == pytest.approx(grid[np.searchsorted(below, 0.95)], abs=5e-4)

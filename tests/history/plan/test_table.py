"""The table on the working sheet: the same as single corrections, in round steps, and quick."""

from __future__ import annotations

import numpy as np
import pytest
from history.plan.planned import KNOWN, PALE, entry_of, figures

from journal.balance import Priors
from journal.history.plan import KETTLE, KNOCKOUT, Aim, Plan, correct, correction_table, make_plan
from journal.numerics import Estimate

AIM = Aim(1.050, 20.0, 3.0, 1.0)
PLAN = make_plan(AIM, PALE, KNOWN)
assert isinstance(PLAN, Plan)
BATCH = entry_of(PLAN, AIM, "target: {gravity: 1.050, volume: 20 L}")


def test_the_table_holds_what_a_single_correction_says() -> None:
    found = correction_table(BATCH, figures(BATCH), KNOWN, KETTLE)
    assert found is not None
    for row, gravity in enumerate(found.gravities):
        for column, volume in enumerate(found.volumes):
            # 0.001 of a hydrometer and 2 % of a volume (defaults, common practice)
            readings = (Estimate(gravity, 0.001), Estimate(volume, 0.02 * PLAN.kettle.volume))
            alone = correct(BATCH, figures(BATCH), KNOWN, KETTLE, *readings)
            assert alone is not None
            cell = found.cells[row][column]
            assert cell is not None
            assert cell.original_gravity.value == pytest.approx(alone.original_gravity.value, abs=1e-6)
            assert cell.leave == alone.leave


@pytest.mark.parametrize("priors", [KNOWN, Priors()], ids=["known", "common practice"])
@pytest.mark.parametrize("place", [KETTLE, KNOCKOUT])
def test_the_table_spans_what_may_be_read_in_round_steps(priors: Priors, place: str) -> None:
    found = correction_table(BATCH, figures(BATCH), priors, place)
    assert found is not None
    # five standard deviations are more than three times the half width of a 90 % range
    for axis, range_, most in ((found.gravities, found.gravity, 12), (found.volumes, found.volume, 7)):
        assert axis[0] < range_.low
        assert axis[-1] > range_.high
        assert 3 <= len(axis) <= most
        steps = np.diff(axis)
        assert np.allclose(steps, steps[0])
        assert axis[0] / steps[0] == pytest.approx(round(axis[0] / steps[0]))
    assert np.diff(found.gravities)[0] == pytest.approx(0.001) or np.diff(found.gravities)[0] == pytest.approx(0.002)
    middle = found.cells[len(found.gravities) // 2][len(found.volumes) // 2]
    assert middle is not None
    assert abs(middle.original_gravity.value - 1.050) < 0.003


def test_columns_that_are_round_in_gallons() -> None:
    found = correction_table(BATCH, figures(BATCH), KNOWN, KETTLE, unit=3.785411784)
    assert found is not None
    gallons = np.array(found.volumes) / 3.785411784
    assert np.allclose(gallons * 10, np.round(gallons * 10))


def test_a_pot_on_the_stove_has_a_table_too() -> None:
    aim = Aim(1.050, 3.0, 3.0, 1.0)
    plan = make_plan(aim, PALE, Priors())
    assert isinstance(plan, Plan)
    batch = entry_of(plan, aim)
    found = correction_table(batch, figures(batch), Priors(), KETTLE)
    assert found is not None
    cells = [cell for row in found.cells for cell in row]
    assert sum(cell is not None for cell in cells) > len(cells) / 2

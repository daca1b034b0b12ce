"""What the page of a planned batch is told: series that give the correction, and say so where they don't reach."""

from __future__ import annotations

import numpy as np
import pytest
from history.plan.planned import KNOWN, PALE, entry_of, figures

from journal.history.plan import GRAVITY, KETTLE, KNOCKOUT, VOLUME, Aim, Corrector, Plan, forecast_of, make_plan
from journal.history.plan.correction_series import correction_series

AIM = Aim(1.050, 20.0, 3.0, 1.0)
PLAN = make_plan(AIM, PALE, KNOWN)
assert isinstance(PLAN, Plan)
BATCH = entry_of(PLAN, AIM, "target: {gravity: 1.050, volume: 20 L}")
SD = {VOLUME: 0.3, GRAVITY: 0.001}


@pytest.mark.parametrize("place", [KETTLE, KNOCKOUT])
def test_the_series_give_the_correction(place: str) -> None:
    """Of readings by the page's own way to a belief, for which the command's is looked up beside it."""
    found = correction_series(BATCH, figures(BATCH), KNOWN, place, (0.3, 0.001))
    forecast = forecast_of(BATCH, figures(BATCH), KNOWN)
    assert found is not None
    assert forecast is not None
    corrector = Corrector(forecast, place, SD)
    expected = np.array([corrector.expected(name).expected for name in (VOLUME, GRAVITY)])
    assert found.expected == pytest.approx(expected)
    prior, turn = np.array(found.prior), np.array(found.turn)
    spread = prior + np.diag([0.3**2, 0.001**2])
    for off in ((0.0, 0.0), (1.5, -0.8), (-1.0, -1.2), (2.5, 2.0)):
        read = expected + np.array(off) * np.sqrt(np.diag(spread))
        moved = np.zeros(2)
        for _ in range(found.steps):
            at = turn @ moved
            shown = [found.series[name].at(*at) for name in ("volume", "gravity")]
            moved = np.linalg.solve(spread, read - shown + prior @ moved)
        at = turn @ moved
        assert np.all(np.abs(at) <= 1)
        wanted = corrector.correct({VOLUME: float(read[0]), GRAVITY: float(read[1])})
        assert wanted is not None
        assert found.series["volume"].at(*at) == pytest.approx(wanted.volume.value, abs=1e-4)
        assert found.series["original_gravity"].at(*at) == pytest.approx(wanted.original_gravity.value, abs=1e-6)
        for remedy in wanted.remedies:
            assert found.series[remedy.kind].at(*at) == pytest.approx(remedy.amount, abs=0.01)
            assert found.series[f"{remedy.kind} lands"].at(*at) == pytest.approx(remedy.fermenter_volume, abs=1e-4)

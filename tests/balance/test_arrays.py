"""Several states at once come out as one after the other would."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from balance.simulated_brewery import Habits
from history.told import texts
from texts import journal_at

from journal.balance import common_practice
from journal.balance.equations import build_model
from journal.balance.vessels import gravity_of
from journal.figures import figures_of
from journal.reading import Brewhouse
from journal.science import wort


def test_gravities_of_many_strengths_are_those_of_each() -> None:
    strengths = np.linspace(-3.0, 60.0, 400)
    each = [wort.gravity_from_plato(strength) for strength in strengths.tolist()]
    assert gravity_of(strengths) == pytest.approx(each, abs=1e-13)


def test_no_wort_is_so_strong() -> None:
    assert np.isnan(gravity_of(np.array([12.0, 250.0]))).tolist() == [False, True]


def test_states_in_columns_are_predicted_as_states_alone(tmp_path: Path) -> None:
    journal, _ = journal_at(tmp_path, {"1.md": texts(1, Habits())[0]})
    (batch,) = journal.batches
    model = build_model(
        batch, figures_of(batch, journal.brewery, journal.malts), common_practice(Brewhouse(), "batch sparge")
    )
    rng = np.random.default_rng(1)
    states = model.start[:, None] * rng.uniform(0.97, 1.03, (len(model.start), 7))
    alone = np.stack([model.predict(state) for state in states.T], axis=1)
    assert model.predict(states) == pytest.approx(alone, rel=1e-12)

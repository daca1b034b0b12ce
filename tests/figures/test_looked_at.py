"""Figures that only pages show are worked out when they are asked for, and are then the same."""

from __future__ import annotations

from collections.abc import Collection
from pathlib import Path
from typing import Any

import pytest

from journal.balance.verdict import BROKEN
from journal.figures import CATALOGUE, BatchFigures, figures_of
from journal.figures.looked_at import LOOKED_AT, completed
from journal.publishing import understanding
from journal.reading import Journal, read_journal

DOZEN = Path(__file__).parent / "dozen"


@pytest.fixture(scope="module")
def dozen() -> Journal:
    return read_journal(DOZEN)[0]


def test_completed_figures_are_those_that_are_worked_out_at_once(dozen: Journal) -> None:
    assert set(CATALOGUE) > LOOKED_AT
    for batch in dozen.batches:
        given = (batch, dozen.brewery, dozen.malts)
        whole, times = figures_of(*given), []

        def rest(whole: BatchFigures = whole, times: list[int] = times) -> BatchFigures:
            times.append(1)
            return whole

        figures = completed(figures_of(*given, LOOKED_AT), rest)
        seen = {name: figures.results.get(name) or figures.wanting[name] for name in LOOKED_AT}
        assert seen == {name: whole.results.get(name) or whole.wanting[name] for name in LOOKED_AT}
        assert not times
        assert dict(figures.results) == whole.results
        assert dict(figures.wanting) == whole.wanting
        assert list(figures.results) == list(whole.results)
        assert len(times) == 1


def test_a_check_completes_the_figures_of_broken_batches_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: dict[str, int] = {}

    def count(batch: Any, *given: Any) -> BatchFigures:
        asked_for: Collection[str] = given[2]
        asked[batch.id] = asked.get(batch.id, 0) + (asked_for is not LOOKED_AT)
        return figures_of(batch, *given)

    monkeypatch.setattr(understanding, "figures_of", count)
    record = understanding.understand(DOZEN, for_pages=False)
    broken = {batch.id for batch in record.batches if record.balances[batch.id].verdict.status == BROKEN}
    assert asked.keys() == {batch.id for batch in record.batches}
    completed_for = {batch for batch, times in asked.items() if times}
    assert completed_for <= broken, (
        "a check asks for a figure that LOOKED_AT doesn't have (journal/figures/looked_at.py)"
    )

"""A mash that gave two worts has one point in every trend, where the grist stands."""

from __future__ import annotations

from pathlib import Path

import pytest
from balance.simulated_brewery import Habits
from history.told import texts
from texts import journal_at

from journal.history import history_of
from journal.history.fold import balance_all
from journal.publishing.understanding import figure_all

STRONG = """---
batch: 22
title: Strong
brewed: 2027-04-11
grains: [{malt: pale malt, weight: 8 kg, extract: 80 %, moisture: 4 %}]
mash: {liquor: 21 L}
lauter: {method: batch sparge, liquor: 6 L}
boil: {before: {volume: 18 L, gravity: 16.0 °P}, after: {volume: 15 L, gravity: 19.0 °P}, time: 60 min}
fermenter: {volume: 14 L, gravity: 19.0 °P}
---
"""
SMALL = """---
batch: 23
title: Small
second_wort_of: 22
lauter: {method: batch sparge, liquor: 13 L}
boil: {before: {volume: 14 L, gravity: 7.5 °P}, after: {volume: 12 L, gravity: 8.8 °P}, time: 60 min}
fermenter: {volume: 11 L, gravity: 8.8 °P}
---
"""


def test_the_pair_is_one_point_and_the_point_is_the_pairs(tmp_path: Path) -> None:
    entries: dict[str, str | bytes] = {f"{n}.md": text for n, text in enumerate(texts(6, Habits()), start=1)}
    journal, _ = journal_at(tmp_path, {**entries, "22.md": STRONG, "23.md": SMALL})
    figures = figure_all(journal)
    (story,) = history_of(journal, figures, balance_all(journal, figures)).brewhouses
    for name in ("brewhouse_efficiency", "mash_efficiency"):
        course = story.course(name)
        assert course is not None
        points = [point for point in course.points if point.batch in {"22", "23"}]
        assert [point.batch for point in points] == ["22"]
        assert points[0].value == pytest.approx(figures["23"][name].value)
        # the sheet's error, which all batches of a lot share, is no part of its own
        assert points[0].sd < figures["22"][name].sd

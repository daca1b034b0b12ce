"""What pages say in rarer cases: no boil, water after it, shares that come to nothing, a level that changed, nothing left to gain."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from balance.simulated_brewery import BREWERY, Habits, Instruments, brew, read
from balance.simulated_brewery import entry as written
from history.rinsing_brewery import brewery_of_house, limit_house
from pages.seen import seen_at
from pages.test_sheet import PLAN, US, planned, sheet_of, task, text_of
from pages.test_told import told

pytestmark = pytest.mark.long


@pytest.mark.parametrize(("brewery", "said", "unit"), [(BREWERY, "2.0 L", "L"), (US, "2.10 qt", "qt")])
def test_water_that_is_added_in_the_fermenter_is_a_task_with_a_box(
    brewery: str, said: str, unit: str, tmp_path: Path
) -> None:
    record = planned(tmp_path, PLAN.replace("fermenter: {", "fermenter: {top_up: 2.0 L, "), 4, brewery)
    # 2.0 L are 2.113 quarts of 57.75 cubic inches, and a twentieth is as well as anybody measures
    found = task(sheet_of(record), "Fermenter", "Water added")
    assert found.amount.replace("\u00a0", " ") == said
    assert found.boxes[0].typed is not None
    assert found.boxes[0].typed.unit == unit


def test_what_is_not_boiled_is_said_not_to_be_made_safe(tmp_path: Path) -> None:
    plan = PLAN.replace("time: 60 min", "time: 0 min").replace("boiled: 10 min", "boiled: 0 min")
    found = task(sheet_of(planned(tmp_path, plan.replace("boiled: 60 min", "boiled: 0 min"), 4)), "Boil", "Not boiled")
    assert "not made safe" in found.note


def test_shares_that_come_to_no_weights_say_why(tmp_path: Path) -> None:
    shares = PLAN.replace("weight: 4.20 kg", "share: 100 %").replace("gravity: 1.048", "gravity: 1.180")
    text = text_of(planned(tmp_path, shares.replace("mash: {liquor: 14.0 L, ", "mash: {")))
    assert "The shares can't be turned into weights" in text.replace("’", "'")


def test_a_year_tells_of_a_level_that_changed_in_it(tmp_path: Path) -> None:
    rng, entries = np.random.default_rng(4), []
    for number in range(1, 31):
        habits = replace(Habits(), conversion=0.86 if number < 16 else 0.94)
        entries.append(written(number, read(brew(habits, 0.0, rng), Instruments(), rng), Habits()))
    text = seen_at(told(tmp_path, entries), "years/2020.html").text.replace("\u00a0", " ")
    found = re.search(r"Conversion efficiency from batch (\d+) on: ", text)
    assert found is not None, text[:2000]
    assert abs(int(found[1]) - 16) <= 3


def test_a_brewhouse_at_its_limit_is_told_so(tmp_path: Path) -> None:
    made = brewery_of_house(limit_house(np.random.default_rng(20_001)), BREWERY, np.random.default_rng(20_001))
    text = seen_at(told(tmp_path, made.entries, made.settings), "what-pays.html").text
    assert "near what these vessels can do" in text
    assert "Change first" not in text

"""The data files keep the contract for what was expected, what changed, and which practice goes with it."""

from __future__ import annotations

import csv
import json
import math
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from balance.simulated_brewery import BREWERY, Habits, Instruments, brew, entry, read

from journal.history import History
from journal.history.change import LevelStep, Signal
from journal.pages.data import _unit, batches_csv, journal_json
from journal.pages.record import Record
from journal.publishing import understand, with_history

COUNT = 16
SPOILT = 9
HABITS = Habits()
WATCHED = {"conversion_efficiency", "lauter_efficiency", "mash_efficiency", "brewhouse_efficiency", "boil_off"}
EXPECTED = WATCHED | {
    "kettle_volume",
    "kettle_gravity",
    "knockout_volume",
    "knockout_gravity",
    "fermenter_volume",
    "original_gravity",
}
VERDICTS = {"clear", "not clear", "too little variation", "too few batches"}
#: What a lever is called, and what an effect on an efficiency is per: mm, pH, K, min, L/kg, WK; shares and words none.
LEVERS = {
    "crush": "1/mm",
    "mash_ph": "1/pH",
    "mash_temperature": "1/K",
    "mash_time": "1/min",
    "liquor_to_grist": "kg/L",
    "hulls": "1",
    "huskless": "1",
    "lauter_time": "1/min",
}


def levers(number: int) -> str:
    crush = 0.9 + 0.1 * (number * 3 % 5)
    return (
        f"crush: {crush:.1f} mm\n"
        f"practice: {{lid: {['on', 'off'][number * 5 % 3 % 2]}}}\n"
        f"mash: {{rests: [{64 + number * 7 % 4} degC for {55 + number * 2 % 7} min], ph: {5.2 + number * 5 % 4 / 20:.2f}, "
    )


def write(root: Path) -> None:
    rng = np.random.default_rng(77)
    entries = root / "entries"
    entries.mkdir()
    (entries / "brewery.yaml").write_text(BREWERY, "utf-8")
    for number in range(1, COUNT + 1):
        readings = read(brew(HABITS, 0.0, rng), Instruments(), rng)
        if number == SPOILT:
            readings["boil.after.gravity"] -= 0.012
        text = entry(number, readings, HABITS).replace("mash: {", levers(number))
        text = text.replace("lauter: {", f"lauter: {{time: {60 + number * 11 % 5} min, ")
        (entries / f"{number:02d}.md").write_text(text, "utf-8")


@dataclass(frozen=True)
class Data:
    record: Record
    whole: dict[str, Any]
    rows: dict[str, dict[str, str]]


@pytest.fixture(scope="module")
def data(tmp_path_factory: pytest.TempPathFactory) -> Data:
    root = tmp_path_factory.mktemp("data")
    write(root)
    record = with_history(understand(root))
    rows = {row["batch"]: row for row in csv.DictReader(batches_csv(record).splitlines())}
    return Data(record, json.loads(journal_json(record)), rows)


@pytest.mark.parametrize("sign", ["=", "+", "-", "@", "\t"])
def test_a_title_is_no_formula_and_a_number_stays_a_number(sign: str, data: Data) -> None:
    """OWASP, “CSV Injection”: what a spreadsheet takes for a formula begins with one of these."""
    first, *others = data.record.batches
    entries = tuple(
        replace(each, batch=replace(each.batch, title=f"{sign}cmd|x!A1"))
        if each.batch and each.batch.id == first.id
        else each
        for each in data.record.journal.entries
    )
    record = replace(data.record, journal=replace(data.record.journal, entries=entries))
    rows = list(csv.DictReader(batches_csv(record).splitlines()))
    assert rows[0]["title"] == f"'{sign}cmd|x!A1"
    numbers = [cell for row in rows for name, cell in row.items() if name.endswith("]") and cell]
    assert all(math.isfinite(float(cell)) for cell in numbers)
    assert others


def test_the_root_has_what_is_agreed(data: Data) -> None:
    assert {"format", "brewery", "batches", "history", "levers"} <= set(data.whole)


def test_where_the_extract_goes_and_what_would_bring_more(data: Data) -> None:
    """The names that the contract has; the places in the order of the work, the changes best first."""
    (gains,) = data.whole["gains"]
    assert gains["brewhouse"] == data.record.history.brewhouses[0].record.key
    assert gains["batches"] == COUNT - 1
    assert [loss["place"] for loss in gains["losses"]] == ["not dissolved", "spent grain", "dead space", "kettle"]
    assert all(loss["low"] < loss["share"] < loss["high"] for loss in gains["losses"])
    shares = sum(loss["share"] for loss in gains["losses"]) + gains["into_fermenter"]["share"]
    assert shares == pytest.approx(1.0, abs=1e-6)
    numbered = [change for change in gains["changes"] if change["basis"] in {"model", "record"}]
    assert {"change", "at", "gain", "low", "high", "basis", "kg_a_year"} <= set(numbered[0])
    assert [change["gain"] for change in numbered] == sorted((change["gain"] for change in numbered), reverse=True)
    assert all(change["low"] <= change["gain"] <= change["high"] for change in numbered)
    others = [change for change in gains["changes"] if change not in numbered]
    assert all(change["basis"] == "common practice" and "gain" not in change for change in others)


def test_recipe_and_beer_are_what_the_entry_and_its_figures_say(tmp_path: Path) -> None:
    (tmp_path / "entries").mkdir()
    text = """---
batch: 7
title: Lamp
brewed: 2026-03-01
grains: [{malt: pale malt, weight: 4.2 kg}, {malt: caramel malt, weight: 10 oz}]
mash: {additions: [{addition: gypsum, amount: 4 g}]}
boil:
  hops: [{hop: East Field, weight: 1 oz, alpha: 5.5 %, boiled: 60 min}]
  additions: [{addition: sucrose, weight: 200 g}]
fermenter: {volume: 19 L, gravity: 1.045, yeast: house, pitched: 2026-03-01 18:00}
package: {on: 2026-03-15, volume: 17.5 L, gravity: 1.008}
tasting: [{on: 2026-04-01, score: 4, out_of: 5}]
---
"""
    (tmp_path / "entries" / "7.md").write_text(text, "utf-8")
    (batch,) = json.loads(journal_json(understand(tmp_path)))["batches"]
    recipe, beer = batch["recipe"], batch["beer"]
    ounce = 0.028349523125  # kg, avoirdupois: UK Weights and Measures Act 1985
    caramel = 10 * ounce
    assert [grain["malt"] for grain in recipe["grains"]] == ["pale malt", "caramel malt"]
    assert [grain["kg"] for grain in recipe["grains"]] == pytest.approx([4.2, caramel])
    assert [grain["share"] for grain in recipe["grains"]] == pytest.approx(
        [4.2 / (4.2 + caramel), caramel / (4.2 + caramel)]
    )
    (hop,) = recipe["hops"]
    assert (hop["hop"], hop["alpha"], hop["at"], hop["min"]) == ("East Field", 0.055, "boil", 60)
    assert hop["g"] == pytest.approx(1000 * ounce)
    assert recipe["additions"] == [
        {"addition": "gypsum", "amount": "4 g", "kg": 0.004, "at": "mash"},
        {"addition": "sucrose", "amount": "200 g", "kg": 0.2, "at": "boil"},
    ]
    assert recipe["yeast"] == "house"
    assert {name: beer[name] for name in ("original_gravity", "final_gravity", "volume_l", "score")} == {
        "original_gravity": 1.045, "final_gravity": 1.008, "volume_l": 17.5, "score": 0.8,
    }  # fmt: skip
    assert beer["alcohol_by_volume"] == batch["figures"]["alcohol_by_volume"]["value"]
    assert "bitterness" not in beer, "what isn't known is left out"


def test_what_is_of_unit_one_says_so() -> None:
    assert [_unit(unit) for unit in ("1", "ratio", "SG", "kg")] == ["1", "1", "1", "kg"]


def test_what_was_expected(data: Data) -> None:
    for batch in data.whole["batches"]:
        expected = batch["expected"]
        if int(batch["batch"]) <= 3:
            assert expected == {}, "nothing is learnt of fewer than three"
            continue
        assert set(expected) == EXPECTED
        for found in expected.values():
            assert set(found) == {"value", "low", "high", "level", "from_batches"}
            assert found["low"] < found["value"] < found["high"]
            assert found["level"] == 0.9
    counts = [next(iter(batch["expected"].values()))["from_batches"] for batch in data.whole["batches"][3:]]
    # the broken one teaches nothing
    assert counts == [*range(3, SPOILT), *range(SPOILT - 1, COUNT - 1)]


def test_the_course_of_each_figure(data: Data) -> None:
    history = data.whole["history"]
    assert set(history) == WATCHED
    for figure, course in history.items():
        assert {"centre", "lower", "upper", "signals", "steps"} <= set(course)
        assert course["lower"] < course["centre"] < course["upper"], figure
        assert course["batches"] == COUNT - 1
        assert course["provisional"] is False


def test_a_step_and_a_signal_name_their_batches_though_one_is_left_out(data: Data) -> None:
    story = data.record.history.brewhouses[0]
    course = story.courses[0]
    step, signal = LevelStep(SPOILT, -0.02, -0.03, -0.01, 0.004), Signal(SPOILT + 2, "nelson-2", "nine in a row")
    changed = replace(course, steps=(step,), signals=(signal,))
    history = History((replace(story, courses=(changed, *story.courses[1:])),))
    shown = json.loads(journal_json(replace(data.record, history=history)))["history"][course.figure]
    # counted from 0, and without the broken one: place 9 is batch 11
    agreed = {"first_batch": str(SPOILT + 2), "change": -0.02, "low": -0.03, "high": -0.01, "p_value": 0.004}
    assert shown["steps"] == [agreed]
    assert shown["signals"] == [{"batch": str(SPOILT + 4), "rule": "nelson-2", "text": "nine in a row"}]


def test_levers_have_the_agreed_names_units_and_verdicts(data: Data) -> None:
    found = data.whole["levers"]
    assert {lever["figure"] for lever in found} == {
        "brewhouse_efficiency",
        "conversion_efficiency",
        "lauter_efficiency",
    }
    for lever in found:
        agreed = {"lever", "figure", "unit", "effect", "low", "high", "level", "batches", "verdict", "tangled_with"}
        assert agreed <= set(lever)
        assert lever["verdict"] in VERDICTS
        assert lever["level"] == 0.9
        assert lever["batches"] == COUNT - 1
        assert isinstance(lever["tangled_with"], list)
        if lever["verdict"] in {"clear", "not clear"}:
            assert lever["low"] < lever["effect"] < lever["high"]
        else:
            assert lever["effect"] is None
    units = {lever["lever"]: lever["unit"] for lever in found}
    assert {name: units[name] for name in LEVERS} == LEVERS
    assert "lid" in units


def test_brewhouses_have_their_own(data: Data) -> None:
    (only,) = data.whole["brewhouses"].values()
    assert only == {"history": data.whole["history"], "levers": data.whole["levers"]}


def test_the_table_holds_reconciled_values_where_the_balance_closes(data: Data) -> None:
    closed = [b for b in data.whole["batches"] if b["balance"]["status"] in {"closes", "strained"}]
    assert len(closed) == COUNT - 1
    for batch in closed:
        row = data.rows[batch["batch"]]
        for name, column in (("mash_efficiency", "mash_efficiency [1]"), ("kettle_volume", "kettle_volume [L]")):
            assert float(row[column]) == batch["balanced"][name]["value"]
            assert float(row[column]) != batch["figures"][name]["value"]


def test_the_table_holds_recorded_values_where_it_is_broken(data: Data) -> None:
    batch = data.whole["batches"][SPOILT - 1]
    assert (batch["balance"]["status"], batch["balanced"]) == ("broken", {})
    row = data.rows[str(SPOILT)]
    assert float(row["knockout_gravity [1]"]) == batch["figures"]["knockout_gravity"]["value"]


def test_a_journal_without_batches_keeps_the_contract(tmp_path: Path) -> None:
    (tmp_path / "entries").mkdir()
    whole = json.loads(journal_json(with_history(understand(tmp_path))))
    assert (whole["batches"], whole["history"], whole["levers"], whole["gains"]) == ([], {}, [], [])

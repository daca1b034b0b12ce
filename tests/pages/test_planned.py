"""A brew's plan kept beside its result, and the malt that planned brews need."""

from __future__ import annotations

from pathlib import Path

import pytest
from balance.simulated_brewery import BREWERY, Habits
from history.told import texts
from pages.seen import batch_of, page_at, record_at, seen_at
from pages.test_sheet import PAGE, PLAN, US, model, number, planned, text_of
from pages.test_told import told
from texts import entry

from journal.pages import Record
from journal.pages.site.malt_needed import MaltNeededModel


def test_once_something_is_measured_the_plan_stands_beside_the_result(tmp_path: Path) -> None:
    done = PLAN.replace("fermenter: {yeast: house}", "fermenter: {yeast: house, volume: 18.4 L, gravity: 1.050}")
    done = done.replace(
        "  time: 60 min",
        "  time: 60 min\n  before: {volume: 23.5 L, gravity: 1.043}\n  after: {volume: 20.0 L, gravity: 1.050}",
    )
    found = planned(tmp_path, done)
    assert model(found).sheet is None
    rows = {row.name: row for row in model(found).expected if row.planned}
    gravity, volume = rows["original_gravity"], rows["fermenter_volume"]
    assert gravity.planned
    assert volume.planned
    assert (gravity.planned.text, volume.planned.text) == ("1.048", "19.0\u00a0L")
    assert gravity.got
    assert volume.got
    assert number(gravity.difference) == pytest.approx(1000 * (number(gravity.got.text) - 1.048), abs=0.51)
    assert number(volume.difference) == pytest.approx(number(volume.got.text) - 19.0, abs=0.06)
    assert "calculated anew from the batches before this one" in text_of(found)
    assert gravity.span, "what was to be expected stands there as well"


def test_without_a_target_nothing_was_planned(tmp_path: Path) -> None:
    found = batch_of(told(tmp_path, texts(2, Habits())), "2")
    assert found.sheet is None
    assert not any(row.planned for row in found.expected)


SHOPPING = """
grains: [{malt: meadow-pale, weight: 4.0 kg}, {malt: amber malt, weight: 250 g}]
boil: {hops: [{hop: East Field, weight: 30 g}, {hop: harbour-cone, weight: 20 g}], additions: [{addition: sucrose, weight: 200 g}]}
fermenter: {yeast: {strain: staithe ale, form: dry, amount: 1 packet}}
mash: {additions: [{addition: gypsum, amount: 4 g}, {addition: lactic acid 80 %, amount: 3 mL}]}
package: {priming: {addition: table sugar, weight: 120 g}}
"""
MORE = (
    "grains: [{malt: meadow-pale, weight: 3.5 kg}, {malt: meadow-pale, weight: 500 g}, {malt: wheat malt}]\n"
    """
boil: {hops: [{hop: East Field, weight: 45 g}]}
stand: {hops: [{hop: East Field, weight: 25 g}], additions: [{addition: gypsum, amount: 1 g}]}
fermenter: {yeast: {strain: staithe ale, form: dry, amount: 2 packets}, hops: [{hop: dry one}]}
"""
)


def needed(record: Record) -> MaltNeededModel:
    found = page_at(record, "malt-needed.html").model
    assert isinstance(found, MaltNeededModel)
    return found


def shopping(root: Path, brewery: str = BREWERY) -> Record:
    first = entry(SHOPPING, head="batch: 1\ntitle: One\nbrewed: 2026-12-01\n")
    second = entry(MORE, head="batch: 2\ntitle: Two\nbrewed: 2026-12-08\n")
    malts = "meadow-pale: {name: Meadow pale, lot: '7', kind: pale malt, price: 1.50}\n"
    malts += "harbour-cone: {name: Harbour cone, alpha: 6 %, price: 40}\n"
    return told(root, [first, second], brewery, malts)


def test_malt_for_all_planned_brews_is_added_up(tmp_path: Path) -> None:
    found = needed(shopping(tmp_path))
    rows = {row.malt.words: row for row in found.rows}
    pale = rows["Meadow pale, lot 7"]
    assert [amount.replace("\u00a0", " ") for amount in (*pale.amounts, pale.total)] == [
        "4.00 kg",
        "4.00 kg",
        "8.00 kg",
    ]
    assert pale.cost == "12.00"
    assert rows["amber malt"].amounts[1] == ""
    assert found.rows[0] is pale, "the most first"
    assert [text.replace("\u00a0", " ") for text in found.total] == ["4.57 kg", "4.00 kg", "8.57 kg"]
    assert found.cost == "12.00"
    assert "wheat malt" in found.remark


def test_hops_yeast_and_the_rest_are_added_up_by_what_they_are_measured_in(tmp_path: Path) -> None:
    record = shopping(tmp_path)
    rows = {
        group.words: {
            row.thing.words: [text.replace("\u00a0", " ") for text in (*row.amounts, row.total, row.cost)]
            for row in group.rows
        }
        for group in needed(record).others
    }
    assert rows["Hops"] == {
        "East Field": ["30 g", "70 g", "100 g", ""],
        "Harbour cone": ["20 g", "", "20 g", "0.80"],
        "dry one": ["", "some", "some", ""],
    }
    assert rows["Yeast"] == {"staithe ale, dry": ["1 packet", "2 packets", "3 packets", ""]}
    assert rows["Salts, acids and the rest"] == {
        "gypsum": ["4 g", "1 g", "5 g", ""],
        "lactic acid 80 %": ["3 mL", "", "3 mL", ""],
    }
    # the sugar of the boil, and that for the bottles under its other name
    assert (
        next(row.total for row in needed(record).rows if row.malt.words == "sucrose or table sugar").replace(
            "\u00a0", " "
        )
        == "320 g"
    )
    assert "staithe ale, dry" in seen_at(record, "malt-needed.html").text


def test_malt_for_planned_brews_in_pounds(tmp_path: Path) -> None:
    """8 kg is 17 lb 10 oz: a pound is 0.45359237 kg (NIST SP 811)."""
    assert needed(shopping(tmp_path, US)).rows[0].total == "17\u00a0lb\u00a010\u00a0oz"


def test_the_list_is_found_from_home_malts_and_sheet(tmp_path: Path) -> None:
    record = planned(tmp_path, earlier=0)
    for path in ("index.html", "malts.html", PAGE):
        assert any(href.endswith("malt-needed.html") for href in seen_at(record, path).hrefs)


def test_where_nothing_is_planned_the_list_says_so_kindly(tmp_path: Path) -> None:
    text = seen_at(record_at(tmp_path, {}), "malt-needed.html").text
    assert "Nothing is planned just now, so there is nothing to fetch." in text

"""What pages seldom come to: two pairs that read alike, a long list's rows, a page that can't be made, a value nobody can judge."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest
from balance.simulated_brewery import BREWERY, Habits
from figures.test_relatives import SMALL, STRONG
from history.told import Told, exact_texts, tell_of
from pages.seen import LITTLE, PLANNED, head, one_batch, record_at, see, seen_at
from texts import entry

from journal.history.brewhouse import brewhouse_records
from journal.history.pays.answer import PayingChange
from journal.measures import Measure
from journal.pages import Page, Record, Renderer
from journal.pages.brewhouses import brewhouse_views
from journal.pages.index import Index
from journal.pages.parts.batch_list import batch_list
from journal.pages.parts.earlier_batches import pack_rows
from journal.pages.parts.paying import _against_the_balance
from journal.pages.parts.shared_wort import other_worts
from journal.pages.site.brewhouse import _stated
from journal.pages.site.broken import unmade_model
from journal.pages.site.compare import pairs_of
from journal.pages.site.trends import control_charts
from journal.problems import internal_fault
from journal.reading import Batch


@pytest.fixture(scope="module")
def told(tmp_path_factory: pytest.TempPathFactory) -> Told:
    return tell_of(tmp_path_factory.mktemp("told"), exact_texts(6, Habits()), BREWERY + HOUSE)


@pytest.fixture(scope="module")
def index(told: Told) -> Index:
    return Index(Record(told.journal, told.figures, (), told.balances, told.history))


#: States what no batch can bear out: the simulated brewery leaves 1.5 L in the kettle.
HOUSE = "brewhouses: {shed: {kettle: {loss: 1.5 L}, boil_off: 6 L/h}}\n"


def test_two_pairs_that_read_alike_have_a_page_each(told: Told) -> None:
    """Batches 1, 2-3 and 1-2, 3: both pairs would be `1-2-3`."""
    ids = dict(zip("1234", ("1", "2-3", "1-2", "3"), strict=True))
    by_file = {each.file: each for each in told.journal.entries}
    entries = tuple(
        replace(each, batch=replace(each.batch, batch=ids.get(each.batch.id, each.batch.id)))
        for each in by_file.values()
        if each.batch
    )
    balances = {ids.get(batch, batch): balance for batch, balance in told.balances.items()}
    figures = {ids.get(batch, batch): found for batch, found in told.figures.items()}
    record = Record(replace(told.journal, entries=entries), figures, (), balances, told.history)
    paths = {(pair.first.id, pair.second.id): pair.path for of in pairs_of(Index(record)) for pair in of.pairs}
    assert paths["1", "2-3"] == "compare/1-2-3.html"
    assert paths["1-2", "3"] == "compare/1-2-3-2.html"
    assert len(set(paths.values())) == len(paths) == 5


def test_rows_that_a_long_list_leaves_out_are_packed_as_they_would_stand(tmp_path: Path) -> None:
    files = {
        "30.md": entry(LITTLE + "style: mild\ntags: [cask]\n", head=head("30", "Little", "2025-12-30")),
        "33.md": entry(PLANNED, head=head("33", "Next", "2026-06-01")),
    }
    index = Index(record_at(tmp_path, files))
    rows = {row.id: row for row in batch_list(index, index.batches).rows}
    packed = json.loads(pack_rows([rows["30"], rows["33"]]))
    little, planned = packed["rows"]
    assert little[:7] == ["30", "", rows["30"].order, "2025-12-30", "Little", "mild · cask", ""]
    assert (planned[0], planned[6], planned[8], planned[9]) == ("33", "p", [], [])
    # 1.046 is all that is known of its strength
    assert little[7][0] == ["1.046", 1.046]
    assert little[7][1] == []
    of_kind = dict(zip(packed["kinds"], little[10], strict=True))
    assert [packed["keys"][key] for key in of_kind["style"]] == ["mild"]
    assert pack_rows([]) == ""


def test_a_chart_is_drawn_beforehand_for_each_brewhouse_that_has_a_course(index: Index, tmp_path: Path) -> None:
    (chart,) = control_charts(index)
    assert chart.name == f"{brewhouse_views(index)[0].anchor}-control"
    assert len(chart.picture.dots) == 6
    assert list(control_charts(Index(one_batch(tmp_path)))) == []


def test_record_and_balance_that_disagree_on_the_mash_are_both_said_to_be_open() -> None:
    def change(key: str, now: float, setting: float) -> PayingChange:
        return PayingChange(key, "", "", 0.01, 0.0, 0.02, None, 0.0, "record", 1.0, None, None, now, setting)

    class Answer:
        changes = (change("thinner-mash", 3.0, 3.5), change("liquor_to_grist", 3.0, 2.5), change("crush", 1.2, 1.0))

    thinner, thicker, crush = Answer.changes
    assert "disagree on how thick to mash" in _against_the_balance(Answer, thinner)  # type: ignore[arg-type]
    assert _against_the_balance(Answer, thicker) == _against_the_balance(Answer, thinner)  # type: ignore[arg-type]
    assert _against_the_balance(Answer, crush) == ""  # type: ignore[arg-type]
    Answer.changes = (thinner, change("liquor_to_grist", 3.0, 3.5), crush)
    assert _against_the_balance(Answer, thinner) == ""  # type: ignore[arg-type]


def test_a_stated_value_is_judged_by_batches_enough_and_by_no_instrument_that_moved(told: Told, index: Index) -> None:
    (record,) = brewhouse_records(told.journal, told.balances)
    boil_off = next(found for found in record.learnt if found.name == "boil_off")
    many = replace(boil_off, level=replace(boil_off.level, batches=12))
    assert "6 batches are too few to hold against it" in _stated(index, boil_off, doubted=False).replace("six", "6")
    assert "your last 12 batches say 3.3" in _stated(index, many, doubted=False).replace("\u00a0", " ")
    assert "is open, see above" in _stated(index, many, doubted=True)
    borne_out = replace(many, stated=Measure(many.level.mean, "litre / hour"))
    assert "does not contradict it" in _stated(index, borne_out, doubted=True)
    assert _stated(index, replace(many, stated=None), doubted=False) == ""


def test_a_page_that_a_fault_of_ours_keeps_from_being_made_says_so_in_its_place(index: Index) -> None:
    fault = internal_fault("the page trends.html", "ZeroDivisionError: by <nothing>")
    html = Renderer().render(Page("trends.html", "broken.html.j2", lambda: unmade_model(index, "trends.html", fault)))
    seen = see(html)
    assert "This page can’t be made." in html
    assert "A fault of the program" in seen.text
    assert "ZeroDivisionError: by <nothing>" in seen.text
    assert not seen.all("nothing")


def batch(index: Index, named: str) -> Batch:
    return next(each for each in index.batches if each.id == named)


def test_of_a_later_wort_without_its_kettle_no_account_is_given(tmp_path: Path) -> None:
    files = {"a22.md": f"---\nbatch: 22\n{STRONG}---\n", "a23.md": f"---\nbatch: 23\n{SMALL}---\n"}
    whole = Index(record_at(tmp_path / "whole", files))
    told = other_worts(whole, batch(whole, "22"))
    assert told is not None
    assert told.words == "23"
    # 14 L of 7.5 °P: 14 × 1.0279 × 0.075 kg (CRC Handbook)
    assert told.value == pytest.approx(14 * 1.0279 * 0.075, abs=2e-3)
    assert other_worts(whole, batch(whole, "23")) is None
    files["a23.md"] = files["a23.md"].replace("boil: {before: {volume: 14 L, gravity: 7.5 °P}}\n", "")
    record = record_at(tmp_path / "without", files)
    without = Index(record)
    assert other_worts(without, batch(without, "22")) is None
    assert "into the kettle of 23" not in seen_at(record, "accounts/22.html").text

"""What moved is one story on every page."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from balance.simulated_brewery import BREWERY
from history.moved_brewery import Moved, journal_of
from pages.seen import seen_at

from journal.pages.record import Record
from journal.publishing import understand, with_history

pytestmark = pytest.mark.long

SAID = "From batch 20 on the hydrometer reads 3.5 points high (2.8 to 4.1)."


PLAN = """---
batch: 41
title: Next
brewed: 2020-03-20
target: {gravity: 1.048, volume: 18 L}
grains: [{malt: pale malt, weight: 4.20 kg}]
mash: {liquor: 13.0 L, rests: [66 degC for 60 min]}
lauter: {method: batch sparge, liquor: 15.0 L}
boil: {time: 60 min}
---
"""


@cache
def hydrometer_record(checks: str = "") -> Record:
    """Forty batches, the hydrometer 3 points high from the 20th on, and a plan; with what `checks` of it showed."""
    texts = journal_of(9, (Moved("hydrometer", 0.003),)).entries
    with TemporaryDirectory() as folder:
        entries = Path(folder) / "entries"
        entries.mkdir()
        said = BREWERY.replace("{uncertainty: 0.0007}", f"{{uncertainty: 0.0007{checks}}}")
        assert checks in said
        (entries / "brewery.yaml").write_text(said)
        (entries / "41.md").write_text(PLAN)
        for number, text in enumerate(texts, start=1):
            (entries / f"{number:02d}.md").write_text(text)
        return with_history(understand(Path(folder)))


@pytest.mark.parametrize("page", ["trends.html", "practice.html", "brewhouse.html", "malts.html"])
def test_every_page_says_the_same(page: str):
    assert SAID in seen_at(hydrometer_record(), page).text


@pytest.mark.parametrize("page", ["trends.html", "index.html"])
def test_a_value_stands_corrected_beside_what_was_written(page: str):
    text = seen_at(hydrometer_record(), page).text
    assert "by the readings as written" in text
    assert "once they are corrected" in text
    assert "of grain" not in text


def test_the_check_that_would_settle_it_stands_there():
    assert (
        "Float the hydrometer in distilled water at 20 degC: it must show 1.000."
        in seen_at(hydrometer_record(), "trends.html").text
    )


def test_the_first_page_leads_to_what_would_settle_it():
    page = seen_at(hydrometer_record(), "index.html")
    assert SAID in page.text
    assert "What would settle it" in page.text


def test_the_levels_say_that_they_are_not_corrected():
    assert (
        "The levels below are those of the readings as written." in seen_at(hydrometer_record(), "brewhouse.html").text
    )


def test_the_first_page_shows_its_picture_as_written():
    assert "brewhouse efficiency, %, as written" in seen_at(hydrometer_record(), "index.html").text


def test_a_check_says_from_when_on_it_counts():
    record = hydrometer_record()
    (since,) = [batch.day for batch in record.journal.batches if batch.id == "20"]
    assert f"with since: {since} the readings from batch 20 on" in seen_at(record, "trends.html").text


def test_the_next_brew_is_told_what_it_will_be_read_with():
    planned = seen_at(hydrometer_record(), "batches/41.html").text
    assert SAID in planned
    assert "This plan goes by readings as you take them now, that error included." in planned


def test_a_check_that_agrees_is_asked_for_its_day_and_one_that_does_not_is_told():
    agrees = hydrometer_record(", checks: [{on: 2020-03-10, of: water at 20 degC, shows: 1.003}]")
    (since,) = [batch.day for batch in agrees.journal.batches if batch.id == "20"]
    page = seen_at(agrees, "trends.html").text
    assert f"Add since: {since} to your check of the hydrometer in brewery.yaml" in page
    assert "the hydrometer reads" in seen_at(agrees, "index.html").text, "it is still to be done"
    denies = hydrometer_record(", checks: [{on: 2020-03-10, of: water at 20 degC, shows: 1.000}]")
    page = seen_at(denies, "trends.html").text
    assert "Your check of the hydrometer shows otherwise" in page
    assert "The record corrects these batches" not in page

"""Where it goes, what pays: the page says what the record's account says, and no other page says otherwise."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from pages.seen import record_at, see

from journal.history.pays import Pays
from journal.pages import Page, Record, Renderer, pages_of
from journal.pages.parts.paying import readings_to_add
from journal.pages.site.home import HomeModel
from journal.pages.site.practice import PracticeModel
from journal.pages.site.what_pays import PaysSection, WhatPaysModel
from journal.publishing import understand
from journal.publishing.understanding import with_history

ROOT = Path(__file__).parents[2]

pytestmark = pytest.mark.long


@pytest.fixture(scope="module")
def demo() -> Record:
    return with_history(understand(ROOT))


def page_at(record: Record, path: str) -> Page:
    return next(page for page in pages_of(record) if page.path == path)


def sections(record: Record) -> tuple[PaysSection, ...]:
    model = page_at(record, "what-pays.html").model
    assert isinstance(model, WhatPaysModel)
    return model.sections


def accounts(record: Record) -> list[Pays]:
    return [story.pays for story in record.history.brewhouses if story.pays]


def test_the_picture_is_the_account_and_all_of_it(demo: Record) -> None:
    for section, pays in zip(sections(demo), accounts(demo), strict=True):
        picture = section.picture
        assert picture is not None
        assert 100 * picture.into + sum(bar.value for bar in picture.bars) == pytest.approx(100.0)
        assert [bar.value for bar in picture.bars] == pytest.approx([100 * loss.share for loss in pays.losses])
        for bar, row in zip(picture.bars, section.rows, strict=False):
            assert bar.reach[0] <= bar.value <= bar.reach[1]
            assert picture.axis.holds(bar.reach[0])
            assert picture.axis.holds(bar.reach[1])
            # what can be had back at most and what must stay are the whole of it
            assert float(row.most) + bar.least == pytest.approx(bar.value, abs=0.051)
        # the last row is the sum of the others: kilograms of malt, each told to the nearest hundredth or tenth
        *each, whole = [float(row.malt.split("\u00a0")[0]) for row in section.rows]
        assert whole == pytest.approx(sum(each), abs=0.2)


def test_one_sentence_one_next_brew_one_efficiency(demo: Record) -> None:
    first = sections(demo)[0]
    home, practice = page_at(demo, "index.html").model, page_at(demo, "practice.html").model
    assert isinstance(home, HomeModel)
    assert isinstance(practice, PracticeModel)
    assert home.pays == first.answer
    assert practice.sections[0].settle == first.next_brew != ""
    # the table of sparge against fillings has, nearest to how it is brewed, what the picture has; single brews were filled otherwise
    assert first.what_if is not None
    now = next(row.cells[row.now] for row in first.what_if.rows if row.now >= 0)
    assert first.picture is not None
    assert float(now) == pytest.approx(100 * first.picture.into, abs=0.5)
    # one factor, one verdict: what the record is clear about here is clear on the page of practice
    clear = {factor.words for factor in practice.sections[0].clear}
    told = [row.words for row in (*first.changes, *first.small) if row.basis.href]
    said = [*told, first.settled]
    assert said
    assert all(any(words.lower().startswith(factor) for factor in clear) for words in said)


def test_changes_stand_by_their_worth_and_what_is_drawn_is_the_verdict(demo: Record) -> None:
    for section, pays in zip(sections(demo), accounts(demo), strict=True):
        rows = (*section.changes, *section.small)
        gains = [row.strip.latest[0] for row in rows]
        assert gains == sorted(gains, reverse=True)
        assert len(rows) == len(pays.changes)
        for row in rows:
            # a value and the ends of its interval, which stands beside it, have as many digits
            shown = row.gain.removesuffix("\N{NO-BREAK SPACE}points").split()[0].split("\N{NO-BREAK SPACE}")[0]
            ends = row.interval.replace("\N{NO-BREAK SPACE}", " ").split(" to ")
            assert len(shown.partition(".")[2]) == max(len(end.partition(".")[2]) for end in ends)
            assert row.strip.reach is not None
            assert row.clear == row.strip.clear == (row.strip.reach[0] > 0.0)


def test_under_five_batches_only_the_account_is_told_and_whether_it_is_good(demo: Record) -> None:
    story = demo.history.brewhouses[0]
    assert story.pays
    few = replace(story.pays, ending="too few batches", batches=story.pays.batches[:4], handbook=(), next_brew=None)
    record = replace(demo, history=replace(demo.history, brewhouses=(replace(story, pays=few),)))
    section = sections(record)[0]
    assert not section.told
    assert (section.habits, section.usual, section.unwritten, section.next_brew) == ((), "", "", "")
    assert section.answer.endswith("Of practice nothing is said before there are five.")
    html = Renderer().render(page_at(record, "what-pays.html"))
    assert "<h3>Is it good?</h3>" in html
    assert "Other brewers’ numbers can’t be compared with yours" in see(html).text


def test_a_brewery_that_counts_in_pounds_is_told_in_pounds(demo: Record) -> None:
    journal = replace(demo.journal, brewery=replace(demo.journal.brewery, units="us"))
    metric, pounds = sections(demo)[0], sections(replace(demo, journal=journal))[0]
    assert "kg" not in pounds.batches
    for row, other in zip(metric.rows, pounds.rows, strict=True):
        weights = [float(each.malt.split("\u00a0")[0]) for each in (row, other)]
        # 0.45359237 kg are a pound (NIST Handbook 44, appendix C); both are told to a tenth
        assert weights[1] * 0.45359237 == pytest.approx(weights[0], abs=0.08)
    (one, same) = (section.what_if.rows[0] for section in (metric, pounds) if section.what_if)
    assert one.sparge.endswith("L")
    assert same.sparge.endswith("gal")
    assert one.cells == same.cells


def test_a_journal_without_a_batch_says_what_is_needed(tmp_path: Path) -> None:
    record = record_at(tmp_path, {})
    (section,) = sections(record)
    assert section.picture is None
    assert section.answer.startswith("No batch counts yet")
    assert "the volume and gravity in the fermenter and the volume and gravity of the full kettle" in section.good[-1]
    assert Renderer().render(page_at(record, "what-pays.html"))


def test_the_readings_to_add_are_those_that_are_missing(demo: Record) -> None:
    batches = [batch for batch in demo.batches if not batch.planned]
    assert readings_to_add(batches) == ()
    bare = [batch for batch in batches if not batch.mash.first_wort]
    assert bare
    assert "the strength of the first wort" in readings_to_add(bare)


def test_the_page_stands_first_after_the_batches(demo: Record) -> None:
    hrefs = see(Renderer().render(page_at(demo, "what-pays.html"))).hrefs
    assert hrefs.index("what-pays.html") == hrefs.index("batches.html") + 1

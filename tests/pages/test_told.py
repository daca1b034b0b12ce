"""The pages that tell the record: trends with their limits, the brewhouse, the practice, neighbours side by side."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from balance.simulated_brewery import BREWERY, Habits, Instruments, brew, entry, read
from history.told import TWO_HOUSES, exact_texts, planned, texts, with_fields
from pages.seen import page_at, record_at, seen_at
from texts import journal_at

from journal.history import balance_all, history_of
from journal.pages import Record, pages_of
from journal.pages.brewhouses import brewhouse_views
from journal.pages.index import Index
from journal.pages.parts.courses import CourseView, course_view
from journal.pages.site.brewhouse import BrewhouseModel, BrewhouseSection, Learnt
from journal.pages.site.compare import CompareModel
from journal.pages.site.malts import MaltsModel
from journal.pages.site.numbers import NumbersModel
from journal.pages.site.practice import PracticeModel, PracticeSection
from journal.pages.site.trends import TrendSection, TrendsModel
from journal.publishing.cache import InProcessCache
from journal.publishing.understanding import figure_all

pytestmark = pytest.mark.long

#: The mill's gap over 24 batches: coarse, then fine, which brings a twentieth more of the extract into the wort.
COARSE, FINE, CHANGED_AT, BATCHES = 1.30, 1.00, 13, 24
GAIN = 0.05


#: What the same early batches come to is worked out once.
MEMORY = InProcessCache()


def told(root: Path, entries: list[str], brewery: str = BREWERY, malts: str = "{}\n") -> Record:
    """A journal with everything that its record tells."""
    files = {f"{place:03d}.md": text for place, text in enumerate(entries)}
    journal, problems = journal_at(root, {"brewery.yaml": brewery, "malts.yaml": malts, **files})
    figures = figure_all(journal, MEMORY)
    balances = balance_all(journal, figures, memory=MEMORY)
    return Record(journal, figures, tuple(problems), balances, history_of(journal, figures, balances, MEMORY))


def crushed(count: int = BATCHES, seed: int = 5) -> list[str]:
    """Batches of a brewer who set the mill finer at CHANGED_AT, and now and then went back."""
    rng = np.random.default_rng(seed)
    made = []
    for number in range(1, count + 1):
        fine = number >= CHANGED_AT and number % 6 != 0
        habits = replace(Habits(conversion=0.90), conversion=0.90 + (GAIN if fine else 0.0))
        text = entry(number, read(brew(habits, 0.0, rng), Instruments(), rng), habits)
        made.append(with_fields(text, f"crush: {FINE if fine else COARSE} mm\npractice: {{turns: {number}}}"))
    return made


@pytest.fixture(scope="module")
def record(tmp_path_factory: pytest.TempPathFactory) -> Record:
    return told(tmp_path_factory.mktemp("crushed"), crushed())


def course(record: Record, figure: str) -> CourseView:
    index = Index(record)
    found = course_view(index, brewhouse_views(index)[0], figure)
    assert found is not None
    return found


def trends(record: Record) -> TrendSection:
    model = page_at(record, "trends.html").model
    assert isinstance(model, TrendsModel)
    return model.sections[0]


def stepping(root: Path) -> Record:
    """A brewery that never varies but for one step of conversion, from 0.90 to 0.95 at batch 11."""
    before, after = (exact_texts(20, Habits(conversion=conversion)) for conversion in (0.90, 0.95))
    return told(root, [*before[:10], *after[10:]])


def test_a_step_is_told_with_its_batch_its_size_and_new_limits(tmp_path: Path) -> None:
    record = stepping(tmp_path)
    (sentence,) = (words for words in trends(record).changed if words.startswith("Conversion"))
    assert re.search(r"changed from batch 11 on by \+(4\.9|5\.0)", sentence)
    conversion = course(record, "conversion_efficiency")
    panel = conversion.panel()
    assert panel.changes == (panel.dots[10].day,)
    first, second = panel.bands
    assert (first.last, second.first) == (panel.dots[9].day, panel.dots[10].day)
    assert second.centre - first.centre == pytest.approx(5, abs=0.5)


def test_what_a_step_was_worth_stands_in_the_verdict_and_nowhere_else(tmp_path: Path) -> None:
    record = stepping(tmp_path)
    said = trends(record).sentence
    assert re.search(r"it changed from batch 11 on by \+3\.\d+.points", said)
    assert "which has saved" in said
    assert " of grain (" in said


def test_without_a_step_no_page_claims_that_grain_was_saved(tmp_path: Path) -> None:
    record = told(tmp_path, texts(20, Habits(), seed=12))
    assert not course(record, "brewhouse_efficiency").course.steps
    assert "no lasting change in 20 batches" in trends(record).sentence
    for path in ("index.html", "trends.html", "practice.html", "malts.html", "brewhouse.html"):
        assert "saved" not in seen_at(record, path).text, path


def test_a_point_of_the_control_chart_says_its_batch_and_what_is_left(record: Record) -> None:
    view, chart = course(record, "brewhouse_efficiency"), trends(record).control
    assert chart is not None
    assert [dot.name for dot in chart.dots] == [point.batch for point in view.course.points]
    assert [dot.value for dot in chart.dots] == pytest.approx([100 * point.residual for point in view.course.points])
    assert [dot.name for dot in chart.dots if dot.marked][-1] == str(BATCHES)
    assert view.words(BATCHES - 1) in chart.dots[-1].words


def test_limits_are_those_of_the_points_by_the_handbook(record: Record) -> None:
    """Centre ± 2.66 times the mean moving range: NIST/SEMATECH e-Handbook, 6.3.2.2."""
    panel = course(record, "lauter_efficiency").panel()
    values = [dot.value for dot in panel.dots]
    ranges = [abs(after - before) for before, after in pairwise(values)]
    (band,) = panel.bands
    assert band.centre == pytest.approx(sum(values) / len(values))
    reach = 3 / 1.128 * sum(ranges) / len(ranges)
    assert (band.low, band.high) == pytest.approx((band.centre - reach, band.centre + reach))


@pytest.mark.parametrize(
    ("count", "says"),
    [
        (4, "five batches are needed to tell change from chance, and there are four"),
        (8, "They are provisional"),
        (13, "three standard deviations"),
    ],
)
def test_the_first_batches_get_no_verdict_and_the_next_a_provisional_one(count: int, says: str, tmp_path: Path) -> None:
    made = told(tmp_path, texts(count, Habits()))
    section = trends(made)
    text = seen_at(made, "trends.html").text
    assert says in text.replace("\u00a0", " ")
    assert (section.control is not None) == (section.others is not None) == (count >= 5)
    assert len(section.strips) == (6 if count < 5 else 0)
    assert ("provisional" in text) == (count == 8)


def test_the_pictures_of_values_show_what_the_table_of_the_year_says(record: Record) -> None:
    model = page_at(record, "numbers.html").model
    assert isinstance(model, NumbersModel)
    picture = model.sections[0].picture
    assert picture is not None
    mash = next(panel for panel in picture.panels if panel.words.startswith("mash"))
    best = [record.best(batch.id, "mash_efficiency") for batch in record.batches]
    assert [dot.value for dot in mash.dots] == pytest.approx([100 * result.value for result in best if result])


def test_how_often_expectations_were_right_is_counted(record: Record) -> None:
    model = page_at(record, "numbers.html").model
    assert isinstance(model, NumbersModel)
    row = next(row for row in model.sections[0].hits if row.figure.href.endswith("#mash_efficiency"))
    held = [
        balance.foreseen["mash_efficiency"].low
        <= balance.figures["mash_efficiency"].value
        <= balance.foreseen["mash_efficiency"].high
        for balance in record.balances.values()
        if balance.holds and balance.foreseen["mash_efficiency"].batches > 0
    ]
    assert (row.right, row.of) == (sum(held), len(held))


def test_a_brewhouse_has_a_section_of_its_own_and_says_which(tmp_path: Path) -> None:
    houses = ["shed", "barn", "shed"] * 4
    entries = [with_fields(t, f"brewhouse: {h}") for t, h in zip(texts(12, Habits()), houses, strict=True)]
    made = told(tmp_path, entries, TWO_HOUSES)
    for path in ("trends.html", "practice.html", "brewhouse.html", "compare.html"):
        seen = seen_at(made, path)
        assert seen.text.index("Shed") < seen.text.index("Barn"), path
        assert len(set(seen.ids)) == len(seen.ids), path


def practice(record: Record) -> PracticeSection:
    model = page_at(record, "practice.html").model
    assert isinstance(model, PracticeModel)
    return model.sections[0]


def test_the_crush_that_went_with_more_conversion_is_clear_over_the_range_tried(record: Record) -> None:
    section = practice(record)
    crush = next(factor for factor in section.clear if factor.words == "mill gap")
    assert crush.tried == "1.30\u00a0→\u00a01.00\u00a0mm", "told the way that goes with more"
    conversion = next(effect for effect in crush.effects if effect.figure == "conversion")
    assert conversion.verdict == "clear"
    low, high = (float(end.replace("−", "-")) for end in re.findall(r"−?[\d.]+", conversion.interval))
    assert 0 < low < 100 * GAIN < high
    assert "mill gap 1.30" in section.answer.replace("Mill", "mill")


def test_all_figures_of_a_factor_lie_on_one_axis_and_the_whole_brewhouse_among_them(record: Record) -> None:
    section = practice(record)
    for factor in (*section.clear, *section.others):
        assert {"brewhouse", "conversion", "lauter"} <= {effect.figure for effect in factor.effects}
        assert {effect.strip.axis for effect in factor.effects} == {section.axis.axis if section.axis else None}


def test_the_interval_drawn_is_the_one_that_the_verdict_goes_by(record: Record) -> None:
    section = practice(record)
    for factor in (*section.clear, *section.others):
        for effect in factor.effects:
            assert effect.strip.reach is not None
            low, high = effect.strip.reach
            assert low < effect.strip.latest[0] < high
            assert (effect.verdict == "can’t tell yet") == (low <= 0.0 <= high), effect
            assert effect.strip.clear == effect.clear == (effect.verdict == "clear")
            # the same stands beside it in words
            said = [end.replace("\u2212", "-") for end in effect.interval.split("\u00a0to\u00a0")]
            for end, drawn in zip(said, (low, high), strict=True):
                assert float(end) == pytest.approx(drawn, abs=0.51 * 10.0 ** -len(end.partition(".")[2]))


def test_what_is_clear_comes_first_and_the_rest_is_one_line(record: Record) -> None:
    section = practice(record)
    assert all(factor.clear for factor in section.clear)
    assert not any(factor.clear for factor in section.others)
    assert all(factor.words in section.rest for factor in section.others)


def test_practice_is_association_and_what_cannot_be_told_is_in_plain_sight(record: Record) -> None:
    text = seen_at(record, "practice.html").text
    assert "associations in your own record, not causes" in text
    assert "can’t tell yet" in text


def test_with_few_batches_practice_says_what_it_takes(tmp_path: Path) -> None:
    text = seen_at(told(tmp_path, crushed(4)), "practice.html").text
    assert "Can’t tell yet: a factor needs eight batches" in text


def test_pairs_that_differ_in_one_factor_stand_side_by_side(record: Record) -> None:
    for pair in practice(record).pairs:
        assert pair.first.href != pair.second.href
        assert "±" in pair.difference


def vessels(record: Record) -> BrewhouseSection:
    model = page_at(record, "brewhouse.html").model
    assert isinstance(model, BrewhouseModel)
    return model.sections[0]


def learnt(record: Record) -> dict[str, Learnt]:
    return {each.words: each for each in vessels(record).learnt}


def test_a_stated_value_stands_beside_what_the_record_says(tmp_path: Path) -> None:
    brewery = BREWERY + "brewhouses: {shed: {boil_off: 4.5 ± 0.3 L/h, kettle: {loss: 1.5 L}}}\n"
    found = learnt(told(tmp_path, texts(16, Habits()), brewery))
    assert re.match(r"You state 4\.5.* in brewery\.yaml; your last \d+ batches say 3\.", found["Boil-off"].stated)
    assert found["Boil-off"].disagrees
    assert "does not contradict" in found["Kettle loss"].stated
    assert found["Conversion"].stated == ""


def test_each_thing_learnt_has_its_axis_its_level_and_a_point_a_batch(record: Record) -> None:
    picture = vessels(record).picture
    assert picture is not None
    boil_off = picture.panels[0]
    assert boil_off.words == "Boil-off, L/h"
    assert len(boil_off.dots) == BATCHES
    (band,) = boil_off.bands
    assert float(boil_off.latest.split("\u00a0")[0]) == pytest.approx(band.centre, abs=0.006)
    assert band.low < band.centre < band.high
    assert [link.href for link in picture.links] == [f"batches/{n}.html" for n in range(1, BATCHES + 1)]
    assert "boil-off" in picture.links[-1].words


def test_neighbours_have_a_page_that_says_what_differed(record: Record) -> None:
    model = page_at(record, f"compare/{CHANGED_AT - 1}-{CHANGED_AT}.html").model
    assert isinstance(model, CompareModel)
    crush = next(row for row in model.practice if row.lever == "mill gap")
    assert (crush.first, crush.second) == ("1.30 mm", "1.00 mm")
    assert model.before is not None
    assert model.before.href == f"compare/{CHANGED_AT - 2}-{CHANGED_AT - 1}.html"
    conversion = next(row for row in model.outcomes if row.figure.words == "conversion efficiency")
    assert (conversion.verdict == "more than chance") is conversion.more
    # the first sentence says what the difference is made of, with the verdicts of the table and of what is drawn
    assert [part.step for part in model.parts] == ["malt", "mash", "run-off", "kettle"]
    assert all(f"{part.step} " in model.made_of for part in model.parts)
    for part in model.parts:
        low, high = part.strip.reach or (0.0, 0.0)
        assert (low > 0.0 or high < 0.0) is part.more is part.strip.clear
    mash = next(part for part in model.parts if part.step == "mash")
    assert mash.more is conversion.more


def test_every_pair_of_neighbours_is_in_the_list(record: Record) -> None:
    hrefs = seen_at(record, "compare.html").hrefs
    assert {f"compare/{n}-{n + 1}.html" for n in range(1, BATCHES)} <= set(hrefs)


def test_without_a_pair_the_list_says_so(tmp_path: Path) -> None:
    assert "no two neighbouring batches yet" in seen_at(record_at(tmp_path, {}), "compare.html").text


def test_a_lot_that_gives_less_than_its_sheet_is_news_on_its_place(tmp_path: Path) -> None:
    """Brews of four lots in turn, one of which holds 5 % less extract than its sheet says."""
    rng = np.random.default_rng(8)
    entries, lots, habits = [], "abcd", Habits()
    for number in range(1, 29):
        lot = lots[number % 4]
        truth = brew(habits, -0.05 * habits.malt_extract if lot == "b" else 0.0, rng)
        text = entry(number, read(truth, Instruments(), rng), habits)
        entries.append(re.sub(r"malt: pale lot, (weight: [\d.]+ kg).*?\}", rf"malt: lot-{lot}, \1}}", text))
    sheet = "{kind: pale malt, extract: 81 ± 1 %, moisture: 4.0 ± 0.1 %, price: 1.50}"
    malts = "".join(f"lot-{lot}: {sheet}\n" for lot in lots)
    model = page_at(told(tmp_path, entries, malts=malts), "malts.html").model
    assert isinstance(model, MaltsModel)
    said = {sheet.name: sheet.told for group in model.groups for sheet in group.malts}
    assert any("less extract than its sheet says" in words for words in said["lot-b"]), said
    assert not any("less extract" in words for words in said["lot-a"]), said


def test_neighbours_are_of_one_brewhouse_and_not_planned(tmp_path: Path) -> None:
    houses = ["shed", "barn", "shed", "shed", "barn"]
    entries = [with_fields(t, f"brewhouse: {h}") for t, h in zip(texts(5, Habits()), houses, strict=True)]
    made = told(tmp_path, [*entries, with_fields(planned(6), "brewhouse: shed")], TWO_HOUSES)
    pages = {page.path for page in pages_of(made)}
    assert {path for path in pages if path.startswith("compare/")} == {
        "compare/1-3.html",
        "compare/3-4.html",
        "compare/2-5.html",
    }

"""Home, batches, malts, and the catalogue."""

from __future__ import annotations

from pathlib import Path

import pytest
from pages.seen import LITTLE, PLANNED, WHOLE, head, one_batch, page_at, record_at, seen_at
from texts import entry

from journal.figures import CATALOGUE
from journal.pages import Record
from journal.pages.paths import malt_anchor
from journal.pages.site.batches import BatchesModel
from journal.pages.site.figures import CatalogueModel
from journal.pages.site.home import HomeModel
from journal.pages.site.malts import MaltRow, MaltsModel
from journal.pages.site.year import YearModel

IMPOSSIBLE = WHOLE.replace("gravity: 1.044", "gravity: 1.068")


def sheets(record: Record) -> dict[str, MaltRow]:
    model = page_at(record, "malts.html").model
    assert isinstance(model, MaltsModel)
    return {sheet.anchor: sheet for group in model.groups for sheet in group.malts}


def test_the_last_batch_stands_first_with_its_beer_its_score_and_its_diary(tmp_path: Path) -> None:
    tasted = WHOLE + 'tasting: [{on: 2026-06-01, words: "Round.", score: 7, out_of: 10}]\n'
    prose = "The tap stood *open* all morning. " + "Nobody minded the rain. " * 20
    files: dict[str, str | bytes] = {
        "1.md": entry(LITTLE, head=head("1", brewed="2026-01-01")),
        "2.md": entry(tasted, prose, head=head("2", brewed="2026-02-01")),
    }
    record = record_at(tmp_path, files)
    home = page_at(record, "index.html").model
    assert isinstance(home, HomeModel)
    last = home.latest
    assert last is not None
    assert last.batch.href == "batches/2.html"
    gravity, alcohol = record.figures["2"]["original_gravity"].value, record.figures["2"]["alcohol_by_volume"].value
    assert last.beer[0].text == f"{gravity:.3f}\N{NO-BREAK SPACE}→ 1.011"
    assert last.beer[1].text == f"{100 * alcohol:.1f}\N{NO-BREAK SPACE}%"
    assert (last.score, last.tasted) == ("7/10", "Round.")
    assert last.diary.startswith("The tap stood open all morning. ")
    assert last.diary.endswith("rain.")
    assert len(last.diary) <= 180


def test_a_kind_stands_among_the_malts_by_the_name_that_its_brewer_has_for_it(tmp_path: Path) -> None:
    sugars = "fermenter: {additions: [{addition: DME, weight: 200 g}, {addition: damsons, weight: 1 kg}]}"
    files: dict[str, str | bytes] = {
        "1.md": entry(sugars, head=head("1", brewed="2026-01-01")),
        "2.md": entry(sugars.replace("DME", "spray malt"), head=head("2", brewed="2026-02-01")),
    }
    rows = {row.name: row.facts for row in sheets(record_at(tmp_path, files)).values()}
    assert rows["damsons"] == ("counts as plums",)
    assert rows["malt extract, dry"] == ("written as DME and spray malt",)


def test_a_brew_is_a_dot_on_its_year_and_a_planned_one_is_open(tmp_path: Path) -> None:
    files: dict[str, str | bytes] = {
        "1.md": entry(LITTLE, head=head("1", brewed="2025-01-01")),
        "2.md": entry(LITTLE, head=head("2", brewed="2026-12-31")),
        "3.md": entry(PLANNED, head=head("3", brewed="2027-02-01")),
    }
    home = page_at(record_at(tmp_path, files), "index.html").model
    assert isinstance(home, HomeModel)
    seen = [(y.year.words, y.strip.dots, y.strip.open_dots) for y in home.years]
    assert seen == [("2027", (), (32.0,)), ("2026", (365.0,), ()), ("2025", (1.0,), ())]


def test_a_year_has_its_sums_its_best_and_what_changed(tmp_path: Path) -> None:
    coarse, fine = "crush: 1.30 mm\n", "crush: 1.00 mm\n"
    tasting = 'tasting: [{{on: 2026-06-01, words: "{words}", score: {score}, out_of: {most}}}]\n'
    files: dict[str, str | bytes] = {
        f"{n}.md": entry(LITTLE + coarse, head=head(str(n), brewed=f"2025-0{n}-01")) for n in range(1, 4)
    }
    for n, fields in enumerate(
        (
            tasting.format(words="Fair.", score=6, most=10),
            tasting.format(words="The best yet.", score=4, most=5),
            "grains: [{malt: amber malt}]\n",
        ),
        start=4,
    ):
        whole = (
            LITTLE if "grains" not in fields else LITTLE.replace("grains: [{malt: meadow-pale, weight: 4.20 kg}]\n", "")
        )
        files[f"{n}.md"] = entry(whole + fine + fields, head=head(str(n), brewed=f"2026-0{n}-01"))
    model = page_at(record_at(tmp_path, files), "years/2026.html").model
    assert isinstance(model, YearModel)
    facts = [fact.replace("\N{NO-BREAK SPACE}", " ") for fact in model.facts]
    assert facts == ["3 brews", "60 L of beer", "8 kg of malt (known for 2 of 3)"]
    assert [(best.batch.href, best.score) for best in model.best] == [("batches/5.html", "4/5")]
    assert model.before == ("2025", "years/2025.html")
    assert model.after is None
    assert model.changed[0] == "Mill gap: mostly 1.00 mm, the year before 1.30 mm."
    assert "amber malt" in model.changed[1]
    assert [row.id for row in model.listed.rows] == ["6", "5", "4"]


def test_batches_of_one_beer_lie_over_one_another_by_style(tmp_path: Path) -> None:
    files: dict[str, str | bytes] = {
        f"{n}.md": entry(f"{LITTLE}style: bitter\n", head=head(str(n), title, f"2026-0{n}-01"))
        for n, title in enumerate(("Gate", "Lamp", "gate", "Gate"), start=1)
    }
    record = record_at(tmp_path, files)
    (entered,) = page_at(record, "by/style.html").model.entered  # type: ignore[attr-defined]
    (beer,) = entered.beers
    assert (beer.title, beer.batches) == ("Gate", 3)
    gravities = [record.figures[batch]["original_gravity"].value for batch in ("1", "3", "4")]
    strip = beer.strips[0]
    assert (*strip.earlier, *strip.latest) == pytest.approx(gravities)
    assert "Brewed several times" not in seen_at(record, "by/year.html").text


def test_what_is_odd_needs_attention_and_leads_to_its_batch(tmp_path: Path) -> None:
    home = page_at(one_batch(tmp_path, IMPOSSIBLE), "index.html").model
    assert isinstance(home, HomeModel)
    (attention,) = home.attention
    assert attention.batch.href == "batches/31.html"
    assert attention.severity == "warning"


def test_every_batch_is_in_the_table_with_a_key_to_sort_by(tmp_path: Path) -> None:
    files = {"9.md": entry(WHOLE, head=head("9", brewed="2026-01-01")), "10.md": entry(LITTLE, head=head("10"))}
    record = record_at(tmp_path, dict(files))
    model = page_at(record, "batches.html").model
    assert isinstance(model, BatchesModel)
    rows = model.listed.rows
    assert [row.id for row in rows] == ["10", "9"]
    assert [row.order for row in rows] == [1, 0]
    key = float(rows[1].efficiency_key)
    assert key == pytest.approx(record.figures["9"]["brewhouse_efficiency"].value, abs=1e-6)
    assert float(rows[1].cells[0].key) == pytest.approx(record.figures["9"]["original_gravity"].value, abs=1e-5)
    assert rows[0].cells[1] == ("", "")
    assert [year.words for year in model.listed.years] == ["2 batches"]
    assert "2026-01-01" in [time["datetime"] for time in seen_at(record, "batches.html").all("time")]


def test_a_lot_says_where_it_went_and_what_those_batches_gave(tmp_path: Path) -> None:
    stronger = WHOLE.replace("gravity: 1.044", "gravity: 1.046")
    files = {
        "1.md": entry(WHOLE, head=head("1", brewed="2026-01-01")),
        "2.md": entry(stronger, head=head("2", brewed="2026-02-01")),
        "3.md": entry(
            WHOLE.replace("gravity: 1.051, yeast", "gravity: 1.099, yeast"), head=head("3", brewed="2026-03-01")
        ),
    }
    record = record_at(tmp_path, dict(files))
    pale = sheets(record)["malt-meadow-pale"]
    assert [link.href for link in pale.batches] == ["batches/3.html", "batches/2.html", "batches/1.html"]
    assert pale.used.replace("\N{NO-BREAK SPACE}", " ") == "12.60 kg in 3 batches"
    assert [link.href for link in pale.left_out] == ["batches/3.html"]
    sheet, efficiency = pale.strips
    values = [record.figures[batch]["brewhouse_efficiency"].value for batch in ("1", "2")]
    assert efficiency is not None
    assert efficiency.dots == pytest.approx([100 * value for value in values])
    assert len(efficiency.left_out) == 1
    assert sheet is not None
    assert sheet.latest == (pytest.approx(81.5),)
    assert "2 batches: " in " ".join(pale.told)


def test_a_lot_in_many_batches_lists_the_latest_and_leads_to_the_rest(tmp_path: Path) -> None:
    files: dict[str, str | bytes] = {
        f"{n}.md": entry(LITTLE, head=head(str(n), brewed=f"2026-01-{n:02}")) for n in range(1, 21)
    }
    pale = sheets(record_at(tmp_path, files))["malt-meadow-pale"]
    assert len(pale.batches) == 12
    assert pale.batches[0].href == "batches/20.html"
    assert pale.earlier == ("8 earlier", "batches.html?malt=meadow-pale")


def test_all_malts_lie_on_the_same_axes(tmp_path: Path) -> None:
    rows = sheets(one_batch(tmp_path)).values()
    for column in zip(*(row.strips for row in rows), strict=True):
        assert len({strip.axis for strip in column if strip}) <= 1


def test_a_kind_without_a_sheet_is_typical_and_no_more_than_half_gives_nothing(tmp_path: Path) -> None:
    amber = sheets(one_batch(tmp_path))[malt_anchor("amber malt")]
    assert {group.origin for group in amber.labs} == {"what is typical of its kind"}
    assert amber.strips[-1] is None


def test_the_catalogue_defines_every_figure_at_its_own_name(tmp_path: Path) -> None:
    seen = seen_at(record_at(tmp_path, {}), "figures.html")
    assert set(CATALOGUE) <= set(seen.ids)
    assert {"term-lautering", "term-knockout", "term-trub", "term-liquor", "term-hulls"} <= set(seen.ids)


def test_the_catalogue_leads_forth_and_back(tmp_path: Path) -> None:
    model = page_at(record_at(tmp_path, {}), "figures.html").model
    assert isinstance(model, CatalogueModel)
    figures = [figure for group in model.groups for figure in group.figures]
    takes = {(figure.name, link.href.removeprefix("#")) for figure in figures for link in figure.takes}
    gives = {(link.href.removeprefix("#"), figure.name) for figure in figures for link in figure.gives}
    assert takes == gives
    assert ("mash_efficiency", "kettle_extract") in takes


def test_every_caution_names_its_source(tmp_path: Path) -> None:
    cautions = page_at(record_at(tmp_path, {}), "cautions.html").model.cautions  # type: ignore[attr-defined]
    assert all(caution.sources and caution.sentences for caution in cautions)
    assert len({caution.anchor for caution in cautions}) == len(cautions)

"""Home, batches, malts, and the catalogue."""

from __future__ import annotations

from pathlib import Path
from statistics import mean, stdev

import pytest
from pages.seen import LITTLE, WHOLE, head, one_batch, page_at, record_at, seen_at
from texts import entry

from journal.figures import CATALOGUE
from journal.pages import Record
from journal.pages.models.lists import BatchesModel, HomeModel
from journal.pages.models.malts import MaltSheet, MaltsModel
from journal.pages.site.figures import CatalogueModel

IMPOSSIBLE = WHOLE.replace("gravity: 1.044", "gravity: 1.068")


def sheets(record: Record) -> dict[str, MaltSheet]:
    model = page_at(record, "malts.html").model
    assert isinstance(model, MaltsModel)
    return {sheet.anchor: sheet for group in model.groups for sheet in group.malts}


def test_the_latest_six_stand_first(tmp_path: Path) -> None:
    files = {f"{n}.md": entry(LITTLE, head=head(str(n), brewed=f"2026-01-{n:02}")) for n in range(1, 12)}
    home = page_at(record_at(tmp_path, dict(files)), "index.html").model
    assert isinstance(home, HomeModel)
    assert [row.id for row in home.latest] == ["11", "10", "9", "8", "7", "6"]


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
    assert [row.id for row in model.rows] == ["10", "9"]
    assert [row.order for row in model.rows] == [1, 0]
    key = float(model.rows[1].mash_efficiency.key)
    assert key == pytest.approx(record.figures["9"]["mash_efficiency"].value, abs=1e-6)
    assert model.rows[0].mash_efficiency.number is None
    assert "2026-01-01" in [time["datetime"] for time in seen_at(record, "batches.html").all("time")]


def test_a_lot_says_where_it_went_and_what_those_batches_gave(tmp_path: Path) -> None:
    stronger = WHOLE.replace("gravity: 1.044", "gravity: 1.046")
    files = {
        "1.md": entry(WHOLE, head=head("1", brewed="2026-01-01")),
        "2.md": entry(stronger, head=head("2", brewed="2026-02-01")),
        "3.md": entry(IMPOSSIBLE, head=head("3", brewed="2026-03-01")),
    }
    record = record_at(tmp_path, dict(files))
    pale = sheets(record)["malt-meadow-pale"]
    assert [link.href for link in pale.batches] == ["batches/1.html", "batches/2.html", "batches/3.html"]
    assert pale.used is not None
    assert pale.used.text == "12.60\N{NO-BREAK SPACE}kg"
    assert [link.href for link in pale.left_out] == ["batches/3.html"]
    gave = pale.gave[0]
    values = [record.figures[batch]["mash_efficiency"].value for batch in ("1", "2")]
    assert gave.batches == 2
    # two batches some points apart: shown to whole per cents
    assert float(gave.number.whole + gave.number.fraction) == pytest.approx(100 * mean(values), abs=0.5)
    assert float(gave.number.sd) == pytest.approx(100 * stdev(values), abs=0.5)
    # the foot of the page says that every other ± is one standard uncertainty
    assert "mean ± standard deviation of 2 batches" in seen_at(record, "malts.html").text


def test_a_kind_without_a_sheet_is_typical_and_no_more_than_half_gives_nothing(tmp_path: Path) -> None:
    amber = sheets(one_batch(tmp_path))["malt-amber-malt"]
    assert {group.origin for group in amber.labs} == {"what is typical of its kind"}
    assert amber.gave == ()


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

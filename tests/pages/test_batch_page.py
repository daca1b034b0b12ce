"""A batch's page and its accounts: what is said first, what opens, what is wanting, and that what a brewer writes stays text."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from pages.seen import LITTLE, WHOLE, accounts_of, batch_of, head, one_batch, record_at, seen_at
from reading.kept_format import once
from texts import entry

from journal.pages.grist import lot_name
from journal.pages.index import Index
from journal.pages.model import Number
from journal.pages.paths import reading_anchor
from journal.pages.render import ticked
from journal.reading.lines import Addition, Hop, name_of_line
from journal.reading.schema import field_lines
from journal.reading.table import lines_of

CASES = Path(__file__).parents[1] / "reading" / "cases"


def value(number: Number) -> float:
    return float((number.whole + number.fraction).replace("−", "-"))


def test_it_opens_with_what_a_brewer_would_say(tmp_path: Path) -> None:
    leads = batch_of(one_batch(tmp_path)).lead
    assert leads[0].endswith("of the malt’s extract went into the fermenter.")
    assert leads[-1] == "Nothing odd."


def test_with_little_recorded_it_names_the_reading_that_would_tell(tmp_path: Path) -> None:
    without_volume = LITTLE.replace("volume: 20.0 L, ", "")
    leads = batch_of(one_batch(tmp_path, without_volume)).lead
    assert leads[0].endswith("can’t be worked out without the volume in the fermenter.")


def test_without_a_fermenter_it_says_what_reached_the_kettle(tmp_path: Path) -> None:
    kettle = (
        "brewhouse: shed\ngrains: [{malt: meadow-pale, weight: 4.2 kg}]\nboil: {before: {volume: 25 L, gravity: 1.044}}"
    )
    leads = batch_of(one_batch(tmp_path, kettle)).lead
    assert "reached the kettle" in leads[0]
    assert (
        leads[1]
        == "How much of it went into the fermenter can’t be worked out without the volume and gravity in the fermenter."
    )


def test_an_impossible_value_stands_below_the_sentence_with_its_line(tmp_path: Path) -> None:
    record = one_batch(tmp_path, WHOLE.replace("gravity: 1.044", "gravity: 1.068"))
    found = batch_of(record)
    assert found.lead[-1] == "One thing is odd:"
    (notice,) = found.notices
    line = (tmp_path / "entries" / "31.md").read_text("utf-8").splitlines()[notice.line - 1]
    assert notice.excerpt is not None
    assert notice.excerpt.before + notice.excerpt.marked + notice.excerpt.after == line
    page, _, anchor = notice.row.partition("#")
    assert page == "accounts/31.html"
    assert anchor in seen_at(record, page).ids
    assert any(row.odd for group in accounts_of(record).recorded for row in group.rows)
    assert "../batches/31.html#odd" in seen_at(record, page).hrefs


def test_the_chain_names_what_is_wanting_for_each_efficiency(tmp_path: Path) -> None:
    chain = {link.name: link for link in accounts_of(one_batch(tmp_path, LITTLE)).chain}
    assert chain["brewhouse_efficiency"].figure is not None
    assert chain["mash_efficiency"].wanting == "the volume and gravity before the boil"
    assert chain["conversion_efficiency"].wanting == "the mash liquor and the first wort"


def test_what_is_wanting_is_said_once_for_each_set_of_readings(tmp_path: Path) -> None:
    wanting = accounts_of(one_batch(tmp_path, LITTLE)).wanting
    readings = [item.readings for item in wanting]
    assert len(set(readings)) == len(readings)
    assert "The volume and gravity at knockout" in readings


def test_each_doubt_leads_to_what_was_recorded(tmp_path: Path) -> None:
    record = one_batch(tmp_path)
    seen = seen_at(record, "accounts/31.html")
    rows = [link.figure for link in accounts_of(record).chain if link.figure]
    doubts = [doubt for row in rows for doubt in row.working.doubts]
    local = [doubt.reading.href for doubt in doubts if doubt.reading.href.startswith("#")]
    assert local
    assert {href[1:] for href in local} <= set(seen.ids)
    gravity = next(doubt for doubt in doubts if doubt.reading.words == "gravity before the boil")
    assert gravity.written == "1.044"
    assert any(doubt.reading.href == "malts.html#malt-meadow-pale" for doubt in doubts)


def test_the_brewers_own_writing_stands_beside_what_it_counts_as(tmp_path: Path) -> None:
    rows = {row.anchor: row for group in accounts_of(one_batch(tmp_path)).recorded for row in group.rows}
    (amber,) = rows["r-grains-1"].pieces
    assert amber.written == "9 oz"
    assert amber.counted is not None
    assert amber.counted.unit == "kg"
    # 9 × 28.349523125 g, the avoirdupois ounce of the UK Weights and Measures Act 1985
    assert abs(value(amber.counted) - 9 * 0.028349523125) < 0.006
    (volume,) = rows["r-boil-before-volume"].pieces
    assert volume.written == "25.0 L at 65 degC"
    assert volume.counted is not None
    # water, and wort nearly as much, shrinks by 1.8 % from 65 to 20 °C: 0.98055 over 0.99820 kg/L, common tables
    assert abs(value(volume.counted) - 25.0 * 0.98055 / 0.99820) < 0.1


#: Fields that stand elsewhere on the page than among what was recorded: in its head, as the name of a row, in a part of their own.
ELSEWHERE = """
    batch title brewed part_of taken second_wort_of joins blend_of style brewhouse tags practice trust readings readings[].at grains
    mash.rests mash.readings mash.additions additions[].addition additions[].diastatic_power additions[].source
    boil.before.additions mash.hops boil.hops stand.hops fermenter.hops package.hops hops[].hop fermenter.yeast picture clock
    lauter.additions boil.additions stand.additions fermenter.additions package.additions souring.readings souring.readings[].at
    water.sources water.sources[].name fermenter.temperatures fermenter.temperatures[].on
    part_of second_wort_of joins blend_of taken
"""


def test_every_field_of_an_entry_stands_among_what_was_recorded(tmp_path: Path) -> None:
    names = ("complete.md", "47-mash.csv", "47-fermentation.csv", "settings/brewery.yaml", "settings/malts.yaml")
    linked: dict[str, str | bytes] = {"settings.txt": "-", "kettle.png": b"\x89PNG\r\n\x1a\n"}
    record = record_at(tmp_path, linked | {Path(name).name: (CASES / name).read_bytes() for name in names})
    (batch,) = record.journal.batches
    ids = set(seen_at(record, "accounts/47-b.html").ids)
    shown = {once(re.sub(r"\[\d+\]", "[]", path)) for path in batch.places if reading_anchor(path) in ids}
    # a malt's laboratory values and the words of a tasting have no anchor of their own
    asked = {once(line.path) for line in field_lines() if line.written and not re.match(r"grains\[|tasting", line.path)}
    assert asked - shown == set(ELSEWHERE.split())


def test_whatever_an_entry_can_hold_of_a_recipe_stands_in_it_and_leads_to_its_row(tmp_path: Path) -> None:
    names = ("complete.md", "47-mash.csv", "47-fermentation.csv", "settings/brewery.yaml", "settings/malts.yaml")
    linked: dict[str, str | bytes] = {"settings.txt": "-", "kettle.png": b"\x89PNG\r\n\x1a\n"}
    record = record_at(tmp_path, linked | {Path(name).name: (CASES / name).read_bytes() for name in names})
    (batch,) = record.journal.batches
    ids = set(seen_at(record, "accounts/47-b.html").ids)
    led = [href.partition("#") for href in seen_at(record, "batches/47-b.html").hrefs if "/accounts/" in href]
    assert {anchor for _, _, anchor in led if anchor} <= ids
    lines = [line for group in batch_of(record, "47-b").recipe for line in group.lines]
    told = " ".join(line.what.words for line in lines)
    things = [line for kinds in (Addition, Hop) for _, line in lines_of(batch, kinds)]
    assert len(things) > 5
    for thing in things:
        assert lot_name(Index(record), name_of_line(thing)) in told


def test_rows_know_their_line(tmp_path: Path) -> None:
    record = one_batch(tmp_path)
    lines = (tmp_path / "entries" / "31.md").read_text("utf-8").splitlines()
    rows = {row.anchor: row for group in accounts_of(record).recorded for row in group.rows}
    assert lines[rows["r-mash-first-wort"].line - 1].strip() == "first_wort: 1.077"
    assert lines[rows["r-boil-hops-0"].line - 1].strip().startswith("hops:")


def test_a_brewery_of_us_units_sees_them(tmp_path: Path) -> None:
    brewery = "name: Lock Cottage\nunits: us\nbrewhouses: {shed: {name: The shed}}\n"
    record = record_at(tmp_path, {"31.md": entry(WHOLE)}, brewery)
    rows = {row.anchor: row for group in accounts_of(record).recorded for row in group.rows}
    (volume,) = rows["r-fermenter-volume"].pieces
    assert volume.counted is not None
    assert volume.counted.unit == "gal"
    # 231 cubic inches: 27 CFR 30.11
    assert abs(value(volume.counted) - 20.1 / 3.785411784) < 0.06


def test_cautions_stand_where_the_hazard_is(tmp_path: Path) -> None:
    groups = {
        group.words: [link.href for link in group.cautions] for group in accounts_of(one_batch(tmp_path)).recorded
    }
    assert groups["Mash"] == ["cautions.html#acids"]
    assert groups["Boil"] == ["cautions.html#boil-over"]
    assert groups["Package"] == ["cautions.html#pressure", "cautions.html#kegs"]
    mild = WHOLE.replace("lactic acid 80 %", "gypsum")
    groups = {
        g.words: [link.href for link in g.cautions] for g in accounts_of(one_batch(tmp_path / "b", mild)).recorded
    }
    assert groups["Mash"] == []


def test_whatever_the_brewer_writes_stays_text(tmp_path: Path) -> None:
    nasty = "<script>alert(1)</script>"
    fields = WHOLE.replace("style: bitter", f"style: '{nasty}'").replace("run_off: slow", f"'{nasty}': '{nasty}'")
    fields = fields.replace("East Field", f"'{nasty}'").replace("[cask]", f"['{nasty}']")
    files = {"31.md": entry(fields, f"Plain {nasty} <b>bold</b>\n", head=head("31", f"'{nasty}'"))}
    record = record_at(tmp_path, dict(files))
    for path in ("index.html", "batches.html", "batches/31.html", "accounts/31.html", "recipes/31.html"):
        seen = seen_at(record, path)
        assert all("src" in attributes for attributes in seen.scripts), path
        assert nasty in seen.text, path
    assert not seen_at(record, "batches/31.html").all("b")


def test_a_broken_entry_shows_what_stands_in_the_way(tmp_path: Path) -> None:
    record = one_batch(tmp_path, "boil:\n  before:\n    volume: 25,0 L\n<i>: 1")
    seen = seen_at(record, "batches/31.html")
    assert "This entry can’t be read yet" in seen.text
    assert "Write 25.0 with a decimal point." in seen.text
    assert "25,0" in seen.text
    assert not seen.all("i")


def test_the_way_leads_to_the_batches_before_and_after(tmp_path: Path) -> None:
    files = {f"{n}.md": entry(LITTLE, head=head(str(n), f"Beer {n}", f"2026-0{n}-01")) for n in (1, 2, 3)}
    record = record_at(tmp_path, dict(files))
    first, middle = batch_of(record, "1"), batch_of(record, "2")
    assert first.before is None
    assert middle.before is not None
    assert middle.after is not None
    assert (middle.before.href, middle.after.href) == ("batches/1.html", "batches/3.html")


@pytest.mark.parametrize(("rests", "between"), [("67 degC for 60 min", True), ("64 degC for 60 min", False)])
def test_a_mash_between_the_amylases_ranges_is_said_to_be_there_and_not_to_have_had_nought(
    tmp_path: Path, rests: str, between: bool
) -> None:
    # single infusions at 65 to 68 °C are common practice, and convert: both amylases work there
    found = accounts_of(one_batch(tmp_path, WHOLE.replace("66.5 degC for 60 min", rests)))
    assert found.mash
    said = "both work" in found.mash.remark
    named = {link.words for link in found.nought} & {"minutes for beta-amylase", "minutes for alpha-amylase"}
    assert (said, named) == ((True, set()) if between else (False, {"minutes for alpha-amylase"}))


def test_no_line_breaks_within_a_number_and_its_uncertainty() -> None:
    assert str(ticked("it came to 107 ± 2 %: see `1.0 ± 0.1 L`")) == (
        "it came to 107\u00a0±\u00a02\u00a0%: see <code>1.0 ± 0.1 L</code>"
    )

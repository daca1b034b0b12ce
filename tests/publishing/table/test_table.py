"""An old notebook's table becomes entries; the journal as a table, read in again, is the same journal."""

from __future__ import annotations

import csv
import dataclasses
import io
from datetime import date
from pathlib import Path

import pytest
from bench.generate import generate
from click.testing import CliRunner
from hypothesis import given, settings
from hypothesis import strategies as st

from journal.cli import main
from journal.measures import Measure
from journal.publishing.refused import Refused
from journal.publishing.table import Taken, take_in, write_out
from journal.publishing.table.field_path import find_field, known_fields, path_text
from journal.publishing.table.heads import Column, LeftAlone
from journal.reading import Batch, read_journal
from journal.reading.collect import read_entry

#: What a batch holds besides its recorded fields.
BESIDE = {
    "source",
    "places",
    "names",
    "prose_start",
    "mash_log",
    "fermentation_log",
    "digest",
    "facts_digest",
    "relatives",
}


def taken(table: str, map_text: str = "", ids: frozenset[str] = frozenset()) -> Taken:
    found = take_in(table.encode(), map_text, ids)
    assert isinstance(found, Taken), found
    return found


def refused(table: str, map_text: str = "") -> str:
    found = take_in(table.encode(), map_text)
    assert isinstance(found, Refused)
    return found.why


def recorded(batch: Batch) -> dict[str, object]:
    values = {f.name: getattr(batch, f.name) for f in dataclasses.fields(batch) if f.name not in BESIDE}
    return {**values, "prose": batch.prose.strip()}


def assert_survives(root: Path) -> int:
    journal, _ = read_journal(root)
    again = taken(write_out(journal.batches))
    assert len(again.rows) == len(journal.batches) > 0
    for batch, row in zip(journal.batches, again.rows, strict=True):
        assert row.unread == ()
        # what a part takes from its whole is not written in it
        written, _ = read_entry(batch.source)
        assert written is not None
        assert recorded(row.batch) == recorded(written)
    return len(journal.batches)


def test_a_row_is_an_entry_in_the_units_of_its_heads() -> None:
    table = "brewed (DD.MM.YYYY),title,grains pale malt (kg),grains amber malt (g),boil.before.volume (gal),boil.before.gravity (°P)\n"
    (row,) = taken(table + "3.10.2025,Kitchen Bitter,4.2,0,6.6 at 150 degF,10.3\n").rows
    batch = row.batch
    assert (batch.id, batch.title, batch.brewed) == ("1", "Kitchen Bitter", date(2025, 10, 3))
    assert [(grain.malt, grain.weight and grain.weight.value) for grain in batch.grains] == [("pale malt", 4.2)]
    volume = batch.boil.before.volume
    # a US gallon is 231 cubic inches, 3.785411784 L (27 CFR 30.11)
    assert volume is not None
    assert volume.value == pytest.approx(6.6 * 3.785411784)
    assert volume.at == pytest.approx((150 - 32) / 1.8)
    assert batch.boil.before.gravity is not None
    assert batch.boil.before.gravity.value == 10.3


def test_a_map_says_what_other_heads_mean_with_decimal_commas_and_local_dates() -> None:
    table = "Sudtag;Name;Vol;Temp;Laune\n5.1.25;Wheat;24,5;66,5;gut\n"
    heads = (
        "# ours\nSudtag = brewed, DD.MM.YY\nName = title\nVol = boil.before.volume, L, decimal comma\n"
        "Temp = boil.before.volume at, degC, decimal comma\nLaune =\n"
    )
    found = taken(table, heads)
    (row,) = found.rows
    assert (row.batch.brewed, row.batch.title) == (date(2025, 1, 5), "Wheat")
    assert row.batch.boil.before.volume is not None
    assert (row.batch.boil.before.volume.value, row.batch.boil.before.volume.at) == (24.5, 66.5)
    assert not isinstance(found.heads[-1], Column)


def test_a_cell_that_cannot_be_read_is_told_and_kept_and_its_entry_goes_without() -> None:
    (row,) = taken("brewed,boil.before.volume (L),boil.before.gravity\n2025-01-05,24;5,1.041\n").rows
    (cell,) = row.unread
    assert cell.head == "boil.before.volume (L)"
    assert row.batch.boil.before.volume is None
    assert row.batch.boil.before.gravity is not None
    assert '"24;5"' in row.text


@pytest.mark.parametrize(
    "cell", ["24,5", "1.234,5", "24.5 h", "lots", "24.5 L at noon", "\x00", "\x1b[31m", "x" * 5000, "=1+1", "<script>"]
)
def test_hostile_cells_do_no_harm(cell: str) -> None:
    text = io.StringIO()
    csv.writer(text).writerows([["brewed", "title", "boil.before.volume (L)"], ["2025-01-05", "Wheat", cell]])
    (row,) = taken(text.getvalue()).rows
    assert [unread.place for unread in row.unread] == [2]
    assert (row.batch.title, row.batch.brewed) == ("Wheat", date(2025, 1, 5))


def test_the_sparge_takes_a_unit_in_its_head_although_it_may_be_a_list() -> None:
    (row,) = taken("brewed,lauter.liquor (gal)\n2025-01-05,4\n").rows
    # 27 CFR 30.11: a gallon is 231 cubic inches, 3.785411784 L
    assert isinstance(row.batch.lauter.liquor, Measure)
    assert row.batch.lauter.liquor.value == pytest.approx(4 * 3.785411784)


def test_a_column_of_notes_is_told_what_a_batchs_words_are_called() -> None:
    (_, notes) = taken("brewed,Notes\n2025-01-05,good\n").heads
    assert isinstance(notes, LeftAlone)
    assert "did you mean `prose`?" in notes.why


def test_a_decimal_comma_is_read_only_where_that_is_said() -> None:
    assert taken('brewed,"crush (mm, decimal comma)"\n2025-01-05,"1,05"\n').rows[0].batch.crush is not None
    assert taken('brewed,crush (mm)\n2025-01-05,"1,05"\n').rows[0].batch.crush is None


@pytest.mark.parametrize(
    ("table", "map_text", "words"),
    [
        ("title,boil.before.volume (L)\nA,24\n", "", "no column says when"),
        ("batch,brewed\n7,2025-01-05\n7,2025-02-05\n", "", "batch 7 stands in 2 rows"),
        ("brewed,boil.before.volume (kg/L)\n2025-01-05,24\n", "", "is no unit of a volume"),
        ("brewed,mash.strike (L)\n2025-01-05,24\n", "", "is no unit of a temperature"),
        ("brewed (M/D)\n2025-01-05\n", "", "is no form of dates"),
        ("brewed,crush (mm),crush (in)\n2025-01-05,1,1\n", "", "means the same as"),
        ("brewed,title (L)\n2025-01-05,1\n", "", "has no unit"),
        ("brewed\n2025-01-05\n", "Crush = crush, mm\n", "speaks of a column “Crush”"),
        ("brewed\n2025-01-05\n", "no equals sign\n", "line 1 of the map"),
        ("\n\n", "", "has no heads"),
        ('brewed\n"2025', "", "can't be read as CSV"),
        ("brewed" + "," * 10_000 + "\n", "", "1,000 columns are the most"),
    ],
)
def test_a_table_that_cannot_be_meant_is_refused_in_one_line(table: str, map_text: str, words: str) -> None:
    why = refused(table, map_text)
    assert words in why
    assert "\n" not in why


def test_a_head_nobody_knows_is_left_alone_with_the_nearest_name() -> None:
    found = taken("brewed,boil.befor.volume (L)\n2025-01-05,24\n")
    column = found.heads[1]
    assert not isinstance(column, Column)
    assert "boil.before.volume" in column.why


def test_not_utf8_is_refused() -> None:
    found = take_in("brewed,title\n2025-01-05,Märzen\n".encode("latin-1"))
    assert isinstance(found, Refused)
    assert "UTF-8" in found.why


def test_rows_without_an_id_are_numbered_past_all_others() -> None:
    found = taken("batch,brewed\n,2025-01-05\n9,2025-01-06\n,2025-01-07\n3,2025-01-08\n", ids=frozenset({"3", "12"}))
    assert [row.batch.id for row in found.rows] == ["13", "9", "14"]
    assert "batch 3 is in the journal already" in found.skipped[0]


def test_every_field_has_a_path_that_finds_it() -> None:
    assert len(known_fields()) > 80
    for name in known_fields():
        field = find_field(name)
        assert field is not None, name
        assert path_text(field.parts) == name
    assert find_field("boil.before") is None
    assert find_field("boil.hops[999].weight") is None
    assert find_field("trust.boil.before.volume") is not None


def test_the_demo_survives_the_round() -> None:
    assert assert_survives(Path(__file__).parents[3]) > 30


@pytest.mark.parametrize("seed", range(4))
def test_generated_journals_survive_the_round(seed: int, tmp_path: Path) -> None:
    generate(10, tmp_path, seed)
    assert_survives(tmp_path)


@pytest.mark.long
def test_fifty_generated_journals_survive_the_round(tmp_path: Path) -> None:
    for seed in range(50):
        generate(3 + seed % 7, tmp_path / str(seed), seed + 100)
        assert_survives(tmp_path / str(seed))


@settings(max_examples=150, deadline=None)
@given(st.text(st.characters(blacklist_categories=("Cc", "Cs")), max_size=60))
def test_any_words_survive_the_round_and_no_cell_begins_a_formula(words: str) -> None:
    table = io.StringIO()
    csv.writer(table).writerows([["brewed", "title", "prose"], ["2025-01-05", words, words]])
    (row,) = taken(table.getvalue()).rows
    out = write_out([row.batch])
    (again,) = taken(out).rows
    assert recorded(again.batch) == recorded(row.batch)
    for cell in next(csv.reader(io.StringIO(out.partition("\n")[2], newline=""))):
        assert not cell.startswith(("=", "+", "-", "@", "\t", "\r")) or cell.lstrip("+-").replace(".", "", 1).isdigit()


def test_the_command_says_what_it_takes_and_never_writes_over(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "entries").mkdir()
    (tmp_path / "old.csv").write_text("brewed,title,mood\n2025-01-05,Wheat,fine\n2025-02-30,Odd,\n", "utf-8")
    monkeypatch.chdir(tmp_path)
    dry = CliRunner().invoke(main, ["begin", "--table", "old.csv", "--dry-run"])
    assert dry.exit_code == 0, dry.output
    # without a terminal nobody can be asked
    unasked = CliRunner().invoke(main, ["begin", "--table", "old.csv"], input="y\n")
    assert unasked.exit_code == 1
    assert "say --yes" in unasked.output
    assert dry.output.removesuffix("Nothing is written.\n") in unasked.output
    assert not [*(tmp_path / "entries").rglob("*.md")]
    first = CliRunner().invoke(main, ["begin", "--table", "old.csv", "--yes"])
    assert first.exit_code == 0, first.output
    assert "left alone: no field is called `mood`" in first.output
    assert "2 of 2 rows are entries now" in first.output
    written = {path: path.read_bytes() for path in (tmp_path / "entries").rglob("*.md")}
    assert len(written) == 2
    # what was shown is what is written
    assert all(path.name in dry.output for path in written)
    assert min(written.items())[1].decode() in dry.output
    again = CliRunner().invoke(main, ["begin", "--table", "old.csv", "--map", "old.csv"])
    assert again.exit_code == 2
    CliRunner().invoke(main, ["begin", "--table", "old.csv", "--yes"])
    assert all(path.read_bytes() == before for path, before in written.items())


def test_the_table_command_prints_what_begin_reads(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    generate(4, tmp_path, 3)
    monkeypatch.chdir(tmp_path)
    out = CliRunner().invoke(main, ["table"]).output
    assert len(taken(out).rows) == 4
    assert CliRunner().invoke(main, ["table", "--out", "all.csv"]).exit_code == 0
    assert CliRunner().invoke(main, ["table", "--out", "all.csv"]).exit_code == 1

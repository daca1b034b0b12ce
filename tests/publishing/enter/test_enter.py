"""What the working sheet gave goes into the planned entry, and nothing that was there goes out."""

from __future__ import annotations

import codecs
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from hypothesis import given, settings
from hypothesis import strategies as st

from journal.cli import main
from journal.problems import Source
from journal.publishing.enter import Entered, enter
from journal.publishing.refused import Refused
from journal.reading import Batch
from journal.reading.collect import read_entry

PLANNED = """---
batch: 34
title: Winter Bitter   # for the ringers
brewed: 2026-11-28
grains:
  - malt: pale malt
    weight: 3.9 kg
  - malt: amber malt
    weight: 200 g
mash:
  liquor: 13.0 L       # 3.1 L/kg
  ph:                  # 5.35 to 5.45
  rests:
    - 66.5 degC for 60 min
boil:                  # sixty minutes
  time: 60 min
  before:
    volume:            # 24.1 to 25.6 L
    gravity:           # 1.040 to 1.044
# the wort, as pitched
fermenter:
  yeast: staithe ale
---
To do: sweep the drain.
"""


def batch_of(text: str) -> Batch:
    batch, problems = read_entry(Source("entries/34.md", text))
    assert batch is not None, problems
    return batch


def entered(lines: str, text: str = PLANNED) -> Entered:
    found = enter(batch_of(text), Source("sheet.md", lines))
    assert isinstance(found, Entered), found
    return found


def refused(lines: str, text: str = PLANNED) -> str:
    found = enter(batch_of(text), Source("sheet.md", lines))
    assert isinstance(found, Refused)
    return found.why


def lines(*fields: str, batch: str = "34", prose: str = "") -> str:
    return "\n".join(["---", f"batch: {batch}", *fields, "---", prose])


def test_blanks_are_filled_and_their_comments_stay() -> None:
    found = entered(lines("mash: {ph: 5.38 at 21 degC}", "boil: {before: {volume: 25.0 L at 68 degC, gravity: 1.043}}"))
    assert "  ph: 5.38 at 21 degC                  # 5.35 to 5.45\n" in found.text
    assert "    volume: 25.0 L at 68 degC            # 24.1 to 25.6 L\n" in found.text
    assert found.fields == ("mash.ph", "boil.before.volume", "boil.before.gravity")


def test_lines_join_their_group_and_new_groups_go_last() -> None:
    found = entered(lines("fermenter: {volume: 19.4 L, gravity: 1.049}", "package: {on: 2026-12-12, volume: 18 L}"))
    before, after = found.text.split("  yeast: staithe ale\n")
    assert before == PLANNED.split("  yeast: staithe ale\n", maxsplit=1)[0]
    assert after.startswith("  volume: 19.4 L\n  gravity: 1.049\npackage:\n  on: 2026-12-12\n  volume: 18 L\n---\n")


def test_readings_are_added_to_those_that_are_there() -> None:
    text = PLANNED.replace("fermenter:", "readings:\n  - {at: 2026-11-29, gravity: 1.030}\nfermenter:")
    batch = batch_of(text)
    found = enter(batch, Source("sheet.md", lines("readings:", "  - {at: 2026-11-30, gravity: 1.020}")))
    # a batch with a reading of its beer is no plan
    assert isinstance(found, Refused)
    assert "brewed already" in found.why
    fresh = entered(lines("readings:", "  - {at: 2026-11-30, gravity: 1.020}", "  - {at: 2026-12-02, gravity: 1.012}"))
    assert len(batch_of(fresh.text).readings) == 2


def test_prose_is_added_once() -> None:
    found = entered(lines("mash: {ph: 5.4}", prose="Brewed in the rain.\n"))
    assert found.text.endswith("To do: sweep the drain.\n\nBrewed in the rain.\n")
    again = enter(batch_of(found.text), Source("sheet.md", lines("mash: {ph: 5.4}", prose="Brewed in the rain.\n")))
    assert isinstance(again, Entered)
    assert (again.text, again.fields) == (found.text, ())


@pytest.mark.parametrize(
    ("given_lines", "words"),
    [
        (lines("mash: {liquor: 14 L}"), "`mash.liquor` holds 13.0 L (line 11)"),
        (lines("mash: {ph: 5.4}", batch="33"), "is of batch 33"),
        (lines("mash: {ph: 5,4}"), "not what a working sheet gives"),
        (lines("mash: {hops: [}"), "not what a working sheet gives"),
        ("Boiled over.\n", "not what a working sheet gives"),
        (lines("mash: {rests: [67 degC for 60 min]}"), "holds 66.5 degC for 60 min"),
    ],
)
def test_what_contradicts_the_entry_or_is_no_sheet_is_refused(given_lines: str, words: str) -> None:
    assert words in refused(given_lines)


@pytest.mark.parametrize(
    ("there", "given", "then"),
    [
        ("boil: {time: 60 min}", "boil: {after: {volume: 20 L}}", "boil: {time: 60 min, after: {volume: 20 L}}"),
        ("boil: {before: {volume: , gravity: }}", "boil: {before: {volume: 24 L}}", None),
        ("boil: {before: {volume, gravity}}", "boil: {before: {volume: 24 L}}", None),
        ("boil: {before: }  # soon", "boil: {before: {gravity: 1.041}}", "boil: {before: {gravity: 1.041} }  # soon"),
        ("boil: {}", "boil: {time: 60 min}", "boil: {time: 60 min}"),
        ("boil: {time: 60 min,\n  }", "boil: {on: 2026-11-29}", "boil: {time: 60 min, on: 2026-11-29,\n  }"),
        (
            "clock: [08:00 begun]",
            "clock:\n  - 08:00 begun\n  - 09:10 mash in, stirred",
            'clock: [08:00 begun, "09:10 mash in, stirred"]',
        ),
    ],
)
def test_a_group_in_brackets_takes_what_is_new_within_them(there: str, given: str, then: str | None) -> None:
    text = PLANNED[: PLANNED.index("boil:")] + there + "\nfermenter: {yeast: staithe ale}\n---\n"
    found = entered(lines(*given.splitlines()), text)
    if then is not None:
        assert then in found.text
    # what was there is there still, in its order
    rest = iter(found.text)
    assert all(sign in rest for sign in text)
    # and it is in: the same lines bring nothing more
    assert entered(lines(*given.splitlines()), found.text).fields == ()


values = st.sampled_from(
    ["mash: {ph: 5.4}", "mash: {first_wort: 1.075}", "lauter: {last_runnings: 1.012, time: 40 min}"]
)
more = st.sampled_from(
    ["boil: {before: {gravity: 1.043}, after: {volume: 22 L}}", "fermenter: {volume: 19 L, pitched: 2026-11-28}"]
)


@settings(max_examples=60, deadline=None)
@given(values, more, st.booleans(), st.booleans(), st.sampled_from(["\n", "\r\n"]))
def test_only_what_it_says_is_new_byte_for_byte(first: str, second: str, mark: bool, comments: bool, ends: str) -> None:
    """Every line of the old file is in the new one, in order, at most with a value put in after its colon."""
    import tempfile  # noqa: PLC0415  # hypothesis and pytest's folders don't go together

    from journal.publishing.enter import write  # noqa: PLC0415

    text = PLANNED if comments else "\n".join(line.split("  #")[0] for line in PLANNED.split("\n"))
    raw = (codecs.BOM_UTF8 if mark else b"") + text.replace("\n", ends).encode()
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "34.md"
        path.write_bytes(raw)
        found = entered(lines(first, second), text)
        assert found.fields
        assert write(path, Source("entries/34.md", text), found.text) is None
        new = path.read_bytes()
        assert [file.name for file in Path(folder).iterdir()] == ["34.md"]
    rest = new
    for line in raw.split(b"\n"):
        colon = line.find(b":")
        where = rest.find(line)
        if where < 0:
            where = rest.find(line[: colon + 1] + b" ")
        assert where >= 0, line
        rest = rest[where:]
    assert new.startswith(codecs.BOM_UTF8) == mark
    assert (b"\r\n" in new) == (ends == "\r\n")
    assert new.count(b"\n") == new.count(ends.encode())


@pytest.fixture
def journal(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    (tmp_path / "entries").mkdir()
    (tmp_path / "entries" / "34.md").write_text(PLANNED, "utf-8")
    (tmp_path / "sheet.md").write_text(lines("mash: {first_wort: 1.075}"), "utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def run(*arguments: str, typed: str | None = None) -> Result:
    return CliRunner().invoke(main, ["enter", *arguments], input=typed)


def test_the_command_shows_the_difference_and_writes_when_told(journal: Path) -> None:
    entry = journal / "entries" / "34.md"
    before = entry.read_bytes()
    asked = run("34", "sheet.md")
    assert (asked.exit_code, entry.read_bytes()) == (1, before)
    assert "+  first_wort: 1.075" in asked.output
    assert run("34", "sheet.md", "--yes").exit_code == 0
    assert b"  first_wort: 1.075\n" in entry.read_bytes()
    assert "has all of it already" in run("34", "sheet.md").output


def test_the_command_reads_what_is_piped(journal: Path) -> None:
    assert run("34", "-", "--yes", typed=lines("mash: {first_wort: 1.071}")).exit_code == 0
    assert "first_wort: 1.071" in (journal / "entries" / "34.md").read_text("utf-8")


@pytest.mark.parametrize("arguments", [("35", "sheet.md"), ("34", "nowhere.md")])
def test_a_batch_or_a_file_that_is_not_there_is_refused(journal: Path, arguments: tuple[str, str]) -> None:
    assert run(*arguments).exit_code == 2


def test_a_file_that_changed_meanwhile_is_left_alone(journal: Path) -> None:
    from journal.publishing.enter import write  # noqa: PLC0415

    path = journal / "entries" / "34.md"
    assert write(path, Source("entries/34.md", "something else"), "new") is not None
    assert path.read_text("utf-8").startswith("---\nbatch: 34")

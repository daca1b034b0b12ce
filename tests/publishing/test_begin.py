"""A new entry: what it says, that it can be read, and that nothing is ever written over."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import numpy as np
import pytest
from balance.simulated_brewery import BREWERY, Habits, Instruments, brew, entry, read
from click.testing import CliRunner, Result

from journal.cli import main
from journal.history.plan import target_of
from journal.measures.wording import US
from journal.pages.record import Record
from journal.publishing import understand
from journal.publishing.cache import FileCache
from journal.reading import Batch

MALTS = """
lot-a: {kind: pale malt, extract: 81.0 %, moisture: 4.0 %, source: certificate}
lot-b: {kind: pale malt, extract: 78.0 %, moisture: 4.0 %, source: certificate}
"""
#: What a simulated entry lacks and a brewer would have written.
MORE = """style: bitter
tags: [cask, "a: b"]
crush: 1.05 mm
practice: {run_off: slow, paddle_turns: 12, lid: yes}
"""
HOPS = """  hops:
    - {hop: "Field, East", weight: 40 g, alpha: 5.5 ± 0.3 %, boiled: 60 min}
"""


def simulated(number: int, rng: np.random.Generator) -> str:
    text = entry(number, read(brew(Habits(), 0.0, rng), Instruments(), rng), Habits())
    text = re.sub(r"malt: pale lot, (weight: [\d.]+ kg).*?\}", r"malt: lot-a, \1}", text)
    text = text.replace("mash: {", "mash: {rests: [66.5 degC for 60 min], mixing: stirred, ph: 5.4, ")
    text = text.replace("fermenter: {", "fermenter: {yeast: house strain, ")
    return text.replace("grains:\n", MORE + "grains:\n").replace("  time: 60 min\n", "  time: 60 min\n" + HOPS)


@pytest.fixture(scope="module")
def entries() -> dict[str, str]:
    rng = np.random.default_rng(12)
    return {f"{number:02d}.md": simulated(number, rng) for number in range(1, 15)}


@pytest.fixture(scope="module")
def place(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Where each test has its journal, anew: a command recalls what the last one worked out of the same fourteen batches."""
    return tmp_path_factory.mktemp("journal")


@pytest.fixture
def journal(place: Path, entries: dict[str, str], monkeypatch: pytest.MonkeyPatch) -> Path:
    for path in place.iterdir():
        shutil.rmtree(path) if path.is_dir() else path.unlink()
    (place / "entries").mkdir()
    for name, text in {**entries, "brewery.yaml": BREWERY, "malts.yaml": MALTS}.items():
        (place / "entries" / name).write_text(text, "utf-8")
    monkeypatch.chdir(place)
    return place


def run(*arguments: str) -> Result:
    result = CliRunner().invoke(main, list(arguments))
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    return result


def begun(root: Path, *arguments: str) -> tuple[str, Batch, Record]:
    """The text of the entry that a command begins, the batch it reads as, and all that is known of the journal then."""
    before = set((root / "entries").rglob("*.md"))
    result = run("begin", *arguments)
    assert result.exit_code == 0, result.output
    (path,) = set((root / "entries").rglob("*.md")) - before
    with FileCache(root) as memory:
        record = understand(root, memory=memory)
    shown = path.relative_to(root).as_posix()
    assert [p for p in record.problems if p.file_name == shown] == []
    return path.read_text("utf-8"), next(batch for batch in record.batches if batch.file == shown), record


PLAN = ("--like", "14", "--gravity", "1.050", "--volume", "21 L", "--on", "2026-12-05")


def test_a_bare_entry_has_every_field_with_its_meaning_and_can_be_read(journal: Path) -> None:
    text, batch, _ = begun(journal, "--title", "No: 1, “new”", "--on", "2026-12-05")
    assert (batch.id, batch.title, batch.day.isoformat()) == ("15", "No: 1, “new”", "2026-12-05")
    assert batch.planned
    assert re.search(r"^ +first_wort: +# strength of the first wort", text, re.MULTILINE)
    assert "batch sparge" in text


def test_its_examples_can_be_uncommented_as_they_stand(journal: Path) -> None:
    text, batch, _ = begun(journal, "--on", "2026-12-05")
    freed = re.sub(r"^( *)# ", r"\1", text, flags=re.MULTILINE)
    assert freed != text
    path = journal / batch.file
    path.write_text(freed, "utf-8")
    (found,) = [each for each in understand(journal).batches if each.file == batch.file]
    assert found.grains
    assert found.boil.hops


def test_a_planned_entry_lands_on_its_target_by_what_was_learnt(journal: Path) -> None:
    text, batch, record = begun(journal, *PLAN)
    assert batch.planned
    foreseen = record.balances[batch.id].foreseen
    # what is rounded is the grain, to 10 g, and the liquor, to 0.1 L
    assert foreseen["original_gravity"].value == pytest.approx(1.050, abs=0.0006)
    assert foreseen["fermenter_volume"].value == pytest.approx(21.0, abs=0.25)
    assert target_of(batch) == pytest.approx(1.050)
    assert "from 14 batches of this brewhouse" in text


def test_what_was_measured_is_left_out_and_what_was_chosen_kept(journal: Path) -> None:
    _, batch, record = begun(journal, *PLAN)
    like = next(each for each in record.batches if each.id == "14")
    assert (batch.style, batch.tags, batch.practice) == (like.style, like.tags, like.practice)
    assert (batch.crush, batch.fermenter.yeast.strain) == (like.crush, "house strain")
    assert (batch.mash.rests, batch.mash.mixing) == (like.mash.rests, like.mash.mixing)
    assert batch.mash.ph is None
    assert batch.mash.first_wort is None
    assert batch.fermenter.volume is None


def test_hops_go_with_the_volume(journal: Path) -> None:
    _, batch, record = begun(journal, *PLAN)
    (hop,) = batch.boil.hops
    before = record.figures["14"]["fermenter_volume"].value
    assert hop.weight.value * 1000 == pytest.approx(40 * 21.0 / before, abs=0.51)
    assert (hop.hop, hop.alpha.value, hop.alpha.sd) == ("Field, East", 0.055, 0.003)


def test_each_number_reckoned_says_from_what(journal: Path) -> None:
    text, _, _ = begun(journal, *PLAN)
    for words in (
        "in batch 14",
        "L/kg, as batch 14",
        "to settle at 66.5 °C with grain at 18.0 °C (assumed)",
        "expected: 1.0",
    ):
        assert words in text, words


def test_the_strike_liquor_is_as_hot_as_the_heat_balance_wants(journal: Path) -> None:
    """(0.40 · T_grain + R · T_strike) / (0.40 + R) = T_mash: Lewis & Young's 0.40, R in kg of liquor a kilogram."""
    _, batch, record = begun(journal, *PLAN, "--grain-temperature", "10 degC")
    ratio = record.figures[batch.id]["liquor_to_grist"].value * 0.9982
    settles = (0.40 * 10.0 + ratio * batch.mash.strike.value) / (0.40 + ratio)
    assert settles == pytest.approx(66.5, abs=0.4)
    assert batch.mash.grain_temperature.value == 10.0


SHARES = ("--grist", "lot-a 88 %, caramel malt 7 %, wheat malt: 5 %", "--gravity", "1.050", "--volume", "21 L")


def test_a_grist_by_shares_is_planned_and_weighed_out_alike(journal: Path) -> None:
    text, batch, record = begun(journal, *SHARES, "--on", "2026-12-05")
    weights = {grain.malt: grain.weight.value for grain in batch.grains}
    shares = {name: weight / sum(weights.values()) for name, weight in weights.items()}
    assert shares == pytest.approx({"lot-a": 0.88, "caramel malt": 0.07, "wheat malt": 0.05}, abs=0.002)
    assert "88.0 % of the grist" in text
    assert record.balances[batch.id].foreseen["original_gravity"].value == pytest.approx(1.050, abs=0.0006)
    # an entry that states the shares is weighed out to the same
    (journal / "entries" / "20.md").write_text(
        "---\nbatch: 20\ntitle: By shares\nbrewed: 2026-12-05\ntarget: {gravity: 1.050, volume: 21 L}\n"
        "grains: [{malt: lot-a, share: 88 %}, {malt: caramel malt, share: 7 %}, {malt: wheat malt, share: 5 %}]\n---\n",
        "utf-8",
    )
    again = understand(journal)
    weighed = next(each for each in again.batches if each.id == "20")
    assert [grain.weight.value for grain in weighed.grains] == pytest.approx(list(weights.values()), abs=0.006)
    assert again.balances["20"].foreseen["fermenter_volume"].value == pytest.approx(21.0, abs=0.05)
    like, _, _ = begun(journal, "--like", "20", "--title", "Like one by shares", "--on", "2026-12-06")
    assert "in batch 20" in like


@pytest.mark.parametrize(
    ("grist", "says"),
    [
        ("pale malt 88 %, caramel malt 7 %", "come to 95 %"),
        ("pale malt 88 %, caramel malt 7", "“caramel malt 7” is no malt with its share"),
        ("pale malt 88 %, dried moonbeams 12 %", "nothing is known of dried moonbeams"),
    ],
)
def test_a_grist_that_is_none_is_refused(grist: str, says: str, journal: Path) -> None:
    refused = run("begin", "--grist", grist, "--gravity", "1.050", "--volume", "21 L")
    assert refused.exit_code == 2
    assert says in refused.output


def test_a_lot_is_swapped_for_another_by_what_each_yields(journal: Path) -> None:
    _, kept, _ = begun(journal, *PLAN)
    _, swapped, _ = begun(journal, *PLAN, "--replace", "lot-a=lot-b", "--title", "Swapped")
    assert [grain.malt for grain in swapped.grains] == ["lot-b"]
    # 81 % of extract against 78 %; nothing is known of what lot-b gave over its sheet
    assert swapped.grains[0].weight.value / kept.grains[0].weight.value == pytest.approx(81 / 78, abs=0.01)


def test_a_brewery_of_us_units_gets_its_entry_in_them(journal: Path) -> None:
    settings = journal / "entries" / "brewery.yaml"
    settings.write_text(f"units: {US}\n" + BREWERY, "utf-8")
    text, batch, record = begun(journal, "--like", "14", "--gravity", "12.4 °P", "--volume", "5.5 gal")
    assert re.search(r"weight: \d+ lb", text)
    assert re.search(r"strike: \d+ degF", text)
    assert record.balances[batch.id].foreseen["fermenter_volume"].value == pytest.approx(5.5 * 3.785411784, abs=0.3)


def test_small_amounts_stay_as_they_were_measured_out(journal: Path) -> None:
    """3 mL of acid were written as 0.00 qt, which nothing reads, and grams of salt as tenths of an ounce."""
    (journal / "entries" / "brewery.yaml").write_text(f"units: {US}\n" + BREWERY, "utf-8")
    last = journal / "entries" / "14.md"
    added = "additions: [{addition: lactic acid 80 %, amount: 3 mL}, {addition: gypsum, amount: 4 g}], mixing"
    last.write_text(last.read_text("utf-8").replace("mixing", added, 1), "utf-8")
    _, like, record = begun(journal, "--like", "14", "--gravity", "1.048", "--volume", "5.3 gal")
    before = next(batch for batch in record.journal.batches if batch.id == "14").mash
    for new, old in zip(like.mash.additions, before.additions, strict=True):
        assert new.amount.unit == old.amount.unit
        assert new.amount.value / old.amount.value == pytest.approx(
            like.mash.liquor.value / before.liquor.value, rel=0.03
        )


def test_without_any_batch_it_plans_by_common_practice_and_says_so(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "entries").mkdir()
    monkeypatch.chdir(tmp_path)
    text, batch, record = begun(tmp_path, "--title", "First", "--gravity", "1.045", "--volume", "20 L")
    assert batch.id == "1"
    assert "by common practice: this brewhouse has too few batches to go by" in text
    assert record.balances[batch.id].foreseen["original_gravity"].value == pytest.approx(1.045, abs=0.0006)


def test_what_is_not_given_is_as_the_batch_it_is_like(journal: Path) -> None:
    _, batch, record = begun(journal, "--like", "14")
    assert target_of(batch) == pytest.approx(record.figures["14"]["original_gravity"].value, abs=0.0006)


def test_a_file_that_is_there_is_left_as_it_is(journal: Path) -> None:
    for name in ("15-simulated.md", "2026"):
        path = journal / "entries" / name
        path.mkdir() if name == "2026" else path.write_text("mine", "utf-8")
    result = run("begin", *PLAN)
    assert result.exit_code == 1
    assert result.output == "Error: entries/15-simulated.md is there already; it is left as it is.\n"
    assert (journal / "entries" / "15-simulated.md").read_text("utf-8") == "mine"


REFUSED = {
    "a gravity below water": (("--gravity", "0.95"), "no gravity a hydrometer shows"),
    "a gravity above what can be planned": (
        ("--like", "14", "--gravity", "1.160"),
        "A target lies between 1.001 and 1.150",
    ),
    "a volume without its unit": (("--like", "14", "--volume", "20"), "has no unit"),
    "a volume of the wrong unit": (("--like", "14", "--volume", "20 kg"), "is a unit of weight"),
    "a hot volume": (("--like", "14", "--volume", "20 L at 60 degC"), "stated at 20 °C"),
    "no such batch": (("--like", "141"), "no batch is called 141. Did you mean 14?"),
    "a broken batch": (("--like", "20"), "entries/20.md has errors"),
    "a batch without grain": (("--like", "21"), "batch 21 has no grain"),
    "no date": (("--on", "12.5.2026"), "“12.5.2026” is no date"),
    "a malt nobody knows": (("--like", "14", "--replace", "lot-a=lot-x"), "Did you mean lot-"),
    "a malt that is not in": (("--like", "14", "--replace", "lot-b=lot-a"), "lot-b is not in the grist. It has lot-a"),
    "half a replacement": (("--like", "14", "--replace", "lot-a"), "Write OLD=NEW"),
    "too strong": (("--like", "14", "--gravity", "1.140"), "The nearest that works"),
    "no such brewhouse": (("--brewhouse", "barn"), "has no brewhouse barn"),
    "a target without a volume": (("--gravity", "1.050"), "Give --gravity and --volume"),
}


@pytest.mark.parametrize(("arguments", "says"), REFUSED.values(), ids=REFUSED)
def test_what_cannot_be_is_refused_in_one_line_and_nothing_is_written(
    arguments: tuple[str, ...], says: str, journal: Path, entries: dict[str, str]
) -> None:
    folder = journal / "entries"
    (folder / "20.md").write_text(
        entries["14.md"].replace("batch: 14", "batch: 20").replace("title:", "titel:"), "utf-8"
    )
    (folder / "21.md").write_text("---\nbatch: 21\ntitle: Empty\nbrewed: 2026-01-01\n---\n", "utf-8")
    (folder / "brewery.yaml").write_text(BREWERY + "brewhouses: {shed: {name: Shed}}\n", "utf-8")
    before = {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()}
    result = run("begin", *arguments)
    assert result.exit_code == (1 if "has errors" in says else 2)
    assert says in result.output
    assert result.output.startswith("Error: ")
    assert result.output.count("\n") == 1
    assert {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()} == before


def test_without_a_journal_there_is_nowhere_to_begin(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    result = run("begin", "--title", "Lost")
    assert result.exit_code == 1
    assert "has no folder called entries/" in result.output
    assert list(tmp_path.iterdir()) == []


def test_a_reading_off_target_is_answered_at_the_desk(journal: Path) -> None:
    _, batch, record = begun(journal, *PLAN)
    expected = record.balances[batch.id].foreseen
    weak = f"{expected['kettle_gravity'].value - 0.006:.4f}"
    volume = f"{expected['kettle_volume'].value:.1f} L"
    result = run("correct", "15", "--gravity", weak, "--volume", volume)
    assert result.exit_code == 0
    assert "target 1.050" in result.output
    assert re.search(r"boil \d+ min in all instead of 60 min", result.output)
    assert "dried malt extract" in result.output


def test_a_reading_on_target_is_left_alone(journal: Path) -> None:
    _, batch, record = begun(journal, *PLAN)
    gravity = record.balances[batch.id].foreseen["kettle_gravity"].value
    result = run("correct", "15", "--gravity", f"{gravity:.4f}")
    assert "Leave it" in result.output


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        ((), "say what was read"),
        (("--gravity", "1,045"), "decimal comma"),
        (("--volume", "26"), "has no unit"),
    ],
)
def test_a_reading_that_is_none_is_refused(arguments: tuple[str, ...], says: str, journal: Path) -> None:
    begun(journal, *PLAN)
    result = run("correct", "15", *arguments)
    assert result.exit_code == 2
    assert says in result.output


@pytest.mark.parametrize("gravity", ["1.002", "1.110"])
def test_a_reading_far_from_any_such_brew_is_to_be_taken_again_and_nothing_is_made_of_it(
    gravity: str, journal: Path
) -> None:
    begun(journal, *PLAN)
    told = run("correct", "15", "--gravity", gravity).output
    assert "Read the gravity again first" in told
    assert "best estimate" not in told
    assert "To reach the target" not in told


def test_a_reading_outside_what_was_expected_is_said_to_be_so_on_either_side(journal: Path) -> None:
    _, batch, record = begun(journal, *PLAN)
    expected = record.balances[batch.id].foreseen["kettle_gravity"].value
    for step, side in (
        (-0.006, "as it counts, below the expected"),
        (0.006, "as it counts, above the expected"),
        (0, "as it counts; expected"),
    ):
        assert side in run("correct", "15", "--gravity", f"{expected + step:.4f}").output


def test_a_reading_just_outside_is_said_to_be_just_outside(journal: Path) -> None:
    """Where the end of the range and the reading are one number on paper, "above" alone would read like a mistake."""
    _, batch, record = begun(journal, *PLAN)
    end = record.balances[batch.id].foreseen["kettle_gravity"].high
    told = [run("correct", "15", "--gravity", f"{end + step * 1e-4:.4f}").output for step in (*range(-4, 8), 15, 30)]
    words = [re.search(r"as it counts(.*) the expected|as it counts; expected", each).group(1) for each in told]
    assert list(dict.fromkeys(words)) == [None, ", just above", ", above"]


def test_a_target_that_the_entry_does_not_state_is_not_claimed(journal: Path) -> None:
    _, batch, record = begun(journal, *PLAN)
    path = journal / batch.file
    text = re.sub(r"^target:.*?(?=^\w)", "", path.read_text("utf-8"), flags=re.MULTILINE | re.DOTALL)
    path.write_text(text, "utf-8")
    told = run("correct", "15", "--gravity", f"{record.balances[batch.id].foreseen['kettle_gravity'].value:.4f}").output
    assert "its entry states no target" in told
    assert "write `target: {gravity: 1.0" in told


def test_a_batch_that_is_brewed_is_no_planned_one(journal: Path) -> None:
    refused = run("correct", "14", "--gravity", "1.040")
    assert refused.exit_code != 0
    assert "brewed already and states no target" in refused.output
    path = journal / "entries" / "14.md"
    path.write_text(path.read_text("utf-8").replace("grains:", "target: {gravity: 1.050}\ngrains:", 1), "utf-8")
    assert "its entry holds readings of the day" in run("correct", "14", "--gravity", "1.040").output


def test_an_empty_folder_is_offered_a_journal_to_start_from(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    assert "`wortbook begin --start` writes it" in run("begin").output
    assert list(tmp_path.iterdir()) == []
    result = run("begin", "--start")
    assert result.exit_code == 0
    assert sorted(path.name for path in (tmp_path / "entries").iterdir()) == [
        "01-first.md",
        "brewery.yaml",
        "malts.yaml",
    ]
    record = understand(tmp_path)
    assert record.problems == ()
    assert [batch.title for batch in record.batches] == ["My first batch"]
    assert list(record.journal.malts.by_key) == ["my-pale-malt"]


def test_a_journal_that_is_there_is_not_started_anew(journal: Path) -> None:
    before = {path: path.read_bytes() for path in (journal / "entries").iterdir()}
    result = run("begin", "--start", "--title", "Next")
    assert result.exit_code == 2
    assert "there is a journal here already" in result.output
    assert {path: path.read_bytes() for path in (journal / "entries").iterdir()} == before


def test_git_is_told_to_leave_the_site_out_and_what_it_was_told_before_stays(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for name, told, advised in (("new", None, False), ("other", "*.log\n", True), ("same", "/site\n", False)):
        folder = tmp_path / name
        folder.mkdir()
        monkeypatch.chdir(folder)
        ignored = folder / ".gitignore"
        if told is not None:
            ignored.write_text(told, "utf-8")
        assert ("Add a line site/ to .gitignore" in run("begin", "--start").output) is advised
        assert ignored.read_text("utf-8") == (told or "site/\n")


def test_a_malt_that_is_still_blank_is_told_of(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    run("begin", "--start")
    path = tmp_path / "entries" / "01-first.md"
    path.write_text(path.read_text("utf-8").replace("grains:", "grains: [{malt: my-pale-malt, weight: 4 kg}]"), "utf-8")
    assert [problem.code for problem in understand(tmp_path).problems] == ["malt-without-extract"]


@pytest.mark.parametrize(("id_", "follows"), [("2026-11-a-very-long-id", "1"), ("16-b", "15"), ("16", "17")])
def test_only_whole_numbers_count_for_the_next(id_: str, follows: str, journal: Path) -> None:
    path = journal / "entries" / "14.md"
    text = path.read_text("utf-8").replace("batch: 14", f"batch: {id_}")
    if follows == "1":
        for other in (journal / "entries").glob("*.md"):
            other.unlink()
    (journal / "entries" / "more.md").write_text(text, "utf-8")
    _, batch, _ = begun(journal, "--on", "2027-01-01")
    assert batch.id == follows


def _linked(journal: Path, **entries: str) -> None:
    for name, fields in entries.items():
        text = f"---\nbatch: {name[1:]}\ntitle: Linked\n{fields}\n---\n"
        (journal / "entries" / f"{name[1:]}.md").write_text(text, "utf-8")


def test_a_brew_like_a_part_is_planned_like_the_whole(journal: Path) -> None:
    _linked(journal, _90="part_of: 14\nfermenter: {volume: 9 L}")
    whole, _, _ = begun(journal, *PLAN)
    assert "weight:" in whole
    refused = run("begin", "--like", "90", *PLAN[2:], "--title", "Of a part")
    assert refused.exit_code == 0, refused.output


def test_a_later_wort_and_a_blend_are_refused_in_a_line(journal: Path) -> None:
    _linked(journal, _91="second_wort_of: 14\nfermenter: {volume: 9 L}", _92="blend_of: {13: 5 L, 12: 5 L}")
    later = run("begin", "--like", "91", *PLAN[2:])
    assert later.exit_code != 0
    assert "batch 91 shares its mash with 14" in later.output
    blend = run("begin", "--like", "92", *PLAN[2:])
    assert blend.exit_code != 0
    assert "batch 92 is a blend and was never brewed" in blend.output

"""The commands as a person at a terminal meets them: what they print and how they end."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from pathlib import Path

import pytest
from click import Context
from click.shell_completion import ShellComplete
from click.testing import CliRunner, Result

from journal.cli import COMMANDS, main

ROOT = Path(__file__).parents[2]

GOOD = """---
batch: 1
title: Plain Bitter
brewed: 2026-10-03
grains: [{malt: pale malt, weight: 4.20 kg}, {malt: caramel malt, weight: 250 g}]
mash: {liquor: 13.5 L, first_wort: 1.076}
lauter: {method: batch sparge, liquor: 15.0 L}
boil: {before: {volume: 24.5 L at 68 degC, gravity: 1.041}, after: {volume: 21.5 L at 95 degC, gravity: 1.047}, time: 60 min}
fermenter: {volume: 18.5 L, gravity: 1.047}
---

Plain.
"""
WARNED = GOOD.replace("gravity: 1.041", "gravity: 1.059")
BROKEN = GOOD.replace("title: Plain Bitter", "titel: Plain Bitter").replace("batch: 1", "batch: 2")


@pytest.fixture
def journal(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    (tmp_path / "entries").mkdir()
    (tmp_path / "entries" / "01.md").write_text(GOOD, "utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def run(*arguments: str) -> Result:
    result = CliRunner().invoke(main, list(arguments))
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    return result


def test_a_clean_journal_is_said_to_be_clean(journal: Path) -> None:
    result = run("check")
    assert result.exit_code == 0
    assert result.output == "1 entry read, no problems.\n"


def test_a_warning_lets_check_pass_unless_strict(journal: Path) -> None:
    (journal / "entries" / "01.md").write_text(WARNED, "utf-8")
    result = run("check")
    assert (result.exit_code, "\n  warning  " in result.output) == (0, True)
    assert run("check", "--strict").exit_code == 1


def test_an_error_has_its_place_and_what_to_write(journal: Path) -> None:
    (journal / "entries" / "02.md").write_text(BROKEN, "utf-8")
    result = run("check")
    assert result.exit_code == 1
    assert "entries/02.md:3:1" in result.output
    assert "Did you mean `title`?" in result.output
    assert "»titel«: Plain Bitter" in result.output


def test_lines_are_one_a_problem(journal: Path) -> None:
    (journal / "entries" / "02.md").write_text(BROKEN, "utf-8")
    lines = run("check", "--as", "lines").output.splitlines()
    assert lines
    assert all(re.match(r"entries/02\.md:\d+:\d+: (error|warning|note): .+ \[[a-z-]+\]", line) for line in lines)


def test_json_has_the_agreed_fields(journal: Path) -> None:
    (journal / "entries" / "02.md").write_text(BROKEN, "utf-8")
    shown = json.loads(run("check", "--as", "json").output)
    assert shown["format"] == 1
    assert {"file", "line", "column", "code", "severity", "message", "hint"} <= set(shown["problems"][0])
    (journal / "entries" / "02.md").unlink()
    assert json.loads(run("check", "--as", "json").output) == {"format": 1, "problems": []}


def test_only_the_paths_asked_for_are_spoken_of(journal: Path) -> None:
    (journal / "entries" / "02.md").write_text(BROKEN, "utf-8")
    assert run("check", "entries/01.md").exit_code == 0
    assert run("check", "entries/02.md").exit_code == 1
    assert run("check", "entries").exit_code == 1


@pytest.mark.parametrize(
    "arguments",
    [
        ("check", "--as", "pictures"),
        ("check", "nowhere.md"),
        ("build", "--fast"),
        ("explain",),
        ("explain", "77"),
        ("explain", "1", "mash_eficiency"),
        ("fields", "nosuch"),
        ("compare", "1", "77"),
        ("correct", "77", "--gravity", "1.040"),
        ("correct", "1"),
        ("correct", "1", "--gravity", "1,036"),
        ("begin", "--like", "77"),
        ("begin", "--on", "tomorrow"),
        ("build", "--theme", "nosuch"),
        ("watch", "--theme", "nosuch"),
        ("brew",),
    ],
)
def test_a_command_used_wrongly_ends_with_two(journal: Path, arguments: tuple[str, ...]) -> None:
    assert run(*arguments).exit_code == 2


def test_a_folder_without_entries_is_told_so(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    for command in ("check", "build"):
        result = run(command)
        assert result.exit_code == 1
        assert "no folder entries/" in result.output + (result.stderr or "")
    assert not (tmp_path / "site").exists()


def test_a_theme_is_chosen_by_option_and_a_wrong_one_is_told_with_those_there_are(journal: Path) -> None:
    assert run("build", "--theme", "almanac").exit_code == 0
    look = (journal / "site" / "assets" / "look.css").read_text("utf-8")
    assert "almanac" in look
    result = run("build", "--theme", "almanak")
    assert result.exit_code == 2
    assert "no theme is called “almanak”" in result.output + result.stderr
    assert "Themes here: almanac, notebook." in result.output + result.stderr
    assert (journal / "site" / "assets" / "look.css").read_text("utf-8") == look


def test_check_tells_what_is_wrong_in_the_theme(journal: Path) -> None:
    (journal / "entries" / "brewery.yaml").write_text("theme: mine\n", "utf-8")
    assert "theme-unknown" in run("check").output
    folder = journal / "themes" / "mine"
    folder.mkdir(parents=True)
    (folder / "theme.yaml").write_text("on: almanac\n", "utf-8")
    (folder / "home.html.j2").write_text("{% if %}", "utf-8")
    assert "themes/mine/home.html.j2:1" in run("check").output
    assert run("check", "themes").exit_code == 1
    assert run("check", "entries/01.md").exit_code == 0


def test_explain_shows_the_working(journal: Path) -> None:
    shown = run("explain", "1", "mash_efficiency").output
    for part in (
        "(kettle extract − ",
        " / potential extract",
        "formula",
        "source",
        "boil.before.gravity",
        "line 8",
        "±",
    ):
        assert part in shown


def test_explain_names_the_reading_that_is_missing(journal: Path) -> None:
    result = run("explain", "1", "apparent_attenuation")
    assert result.exit_code == 0
    assert "missing" in result.output
    assert "readings[0].gravity" in result.output
    assert "gravity of the third reading of the mash (mash.readings[2].gravity)" in run("explain", "1").output


def test_explain_has_each_group_of_figures_once(journal: Path) -> None:
    headings = re.findall(r"^\n(\S.*)$", run("explain", "1").output, re.MULTILINE)
    assert len(headings) == len(set(headings)) > 5


def test_figures_and_fields_go_by_the_trades_words_too(journal: Path) -> None:
    assert run("explain", "1", "ABV").output == run("explain", "1", "alcohol_by_volume").output
    assert run("explain", "1", "OG").output == run("explain", "1", "original gravity").output
    assert run("fields", "steep").output == run("fields", "lauter.method").output
    assert run("fields", "dry", "hops").output == run("fields", "fermenter.hops").output


def test_explain_suggests_a_figure(journal: Path) -> None:
    result = run("explain", "1", "mash_eficiency")
    assert result.exit_code == 2
    assert "Did you mean mash_efficiency?" in result.output


def test_explain_shows_the_balance(journal: Path) -> None:
    (journal / "entries" / "01.md").write_text(WARNED, "utf-8")
    shown = run("explain", "1", "balance").output
    assert "balance of batch 1: broken" in shown
    assert "p below 0.001; below 0.010 the balance is broken" in shown
    assert "boil.before.gravity" in shown


def test_explain_of_a_broken_entry_points_to_check(journal: Path) -> None:
    (journal / "entries" / "02.md").write_text(BROKEN, "utf-8")
    result = run("explain", "2")
    assert result.exit_code == 1
    assert "wortbook check entries/02.md" in result.output


def test_the_demo_has_no_error(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(ROOT)
    problems = json.loads(run("check", "--as", "json").output)["problems"]
    assert {p["severity"] for p in problems} <= {"warning", "note"}
    assert {p["file"] for p in problems if p["severity"] == "warning"}


def test_checking_an_entry_checks_the_log_it_names(journal: Path) -> None:
    (journal / "entries" / "01.md").write_text(GOOD.replace("mash: {", "mash: {log: mash.csv, "), "utf-8")
    (journal / "entries" / "mash.csv").write_text("time (min),temperature (degC)\n5,66\n1,67\n", "utf-8")
    result = run("check", "entries/01.md")
    assert result.exit_code == 1
    assert "entries/mash.csv:3:" in result.output


@pytest.mark.parametrize("name", sorted(COMMANDS))
def test_the_list_of_commands_says_what_each_says_of_itself(name: str) -> None:
    command = main.get_command(Context(main), name)
    assert command is not None
    assert " ".join((command.help or "").split()) == COMMANDS[name][1]


def test_help_loads_no_command_and_check_draws_nothing(journal: Path) -> None:
    heavy = "{'numpy', 'scipy', 'pint', 'jinja2', 'matplotlib', 'rich', 'journal.reading',"
    heavy += "'journal.reading.collect', 'journal.pages.render'}"
    program = f"import sys; from journal.cli import main; main(sys.argv[1:], standalone_mode=False); print(*({heavy} & set(sys.modules)))"

    def loaded(*arguments: str) -> set[str]:
        done = subprocess.run([sys.executable, "-c", program, *arguments], capture_output=True, text=True, check=True)
        return set(done.stdout.splitlines()[-1].split())

    assert loaded("--help") == set()
    assert not loaded("fields", "title") & {"scipy", "jinja2", "rich", "journal.pages.render"}
    assert not loaded("check") & {"jinja2", "matplotlib", "rich", "journal.pages.render"}
    # nothing has changed since
    assert not loaded("check") & {"numpy", "pint", "jinja2", "journal.reading.collect"}


def test_a_batch_that_is_not_there_is_answered_with_those_that_are(journal: Path) -> None:
    assert run("explain", "77").output == "Error: no batch is called 77. The latest: 1.\n"
    (journal / "entries" / "01.md").unlink()
    assert "There is none yet" in run("explain", "77").output


def test_a_batch_is_tried_otherwise_and_nothing_is_written(journal: Path) -> None:
    before = {path: path.read_bytes() for path in journal.rglob("*") if path.is_file()}
    result = run("try", "--like", "1", "lauter.liquor=+2 L", "crush=1.0 mm")
    assert result.exit_code == 0
    assert "lauter.liquor: 15.0 L → 17 L" in result.output
    assert re.search(r"fermenter volume .*\+2\.0\d* L .*model", result.output)
    assert "mill gap: not known from your record" in result.output
    told = json.loads(run("try", "--like", "1", "lauter.liquor=+2 L", "--as", "json").stdout)
    assert (told["format"], told["batch"]) == (1, "1")
    assert {outcome["figure"] for outcome in told["outcomes"]} >= {"brewhouse_efficiency", "original_gravity"}
    assert told["changes"][0]["rests_on"][0]["basis"] == "model"
    assert {path: path.read_bytes() for path in journal.rglob("*") if path.is_file()} == before


@pytest.mark.parametrize(
    ("arguments", "code", "said"),
    [
        (["crush=1 kg"], 2, "Error: crush=1 kg can't be. "),
        (["crush"], 2, "Error: “crush” is no change. "),
        (["mash.liqour=3 L"], 2, "Did you mean mash.liquor?"),
        (["brewhouse.kettle.los=1 L"], 2, "Did you mean brewhouse.kettle.loss?"),
        (["mash.liquor=2 L"], 1, "Error: no wort would run off: "),
    ],
)
@pytest.mark.usefixtures("journal")
def test_what_can_not_be_tried_is_said_in_one_line(arguments: list[str], code: int, said: str) -> None:
    result = run("try", "--like", "1", *arguments)
    assert result.exit_code == code
    assert said in result.output
    assert result.output.count("\n") == 1


def test_nothing_is_held_against_readings_that_contradict_one_another(journal: Path) -> None:
    (journal / "entries" / "01.md").write_text(WARNED, "utf-8")
    result = run("try", "--like", "1", "lauter.liquor=+2 L")
    assert result.exit_code == 1
    assert result.output == (
        "Error: the readings of batch 1 contradict one another, so nothing can be held against it.\n"
    )


def completed(words: str) -> set[str]:
    """What a shell is offered for the last of these words."""
    arguments = words.split(" ")
    done = ShellComplete(main, {}, "wortbook", "_WORTBOOK_COMPLETE").get_completions(arguments[:-1], arguments[-1])
    return {item.value for item in done}


@pytest.mark.parametrize(
    ("words", "offered"),
    [
        ("explain ", {"1"}),
        ("compare 1 ", {"1"}),
        ("begin --like ", {"1"}),
        ("recipe ", {"1"}),
        ("try --like ", {"1"}),
        ("try mash.fi", {"mash.first_wort"}),
        ("explain 1 mash_eff", {"mash_efficiency"}),
        ("explain 1 bal", {"balance"}),
        ("build --theme al", {"almanac"}),
        ("watch --theme no", {"notebook"}),
        ("fields mash.fi", {"mash.first_wort"}),
        ("fields brewer", {"brewery"}),
    ],
)
@pytest.mark.usefixtures("journal")
def test_a_shell_completes_what_there_is(words: str, offered: set[str]) -> None:
    assert completed(words) == offered


def test_where_there_is_no_journal_nothing_is_completed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    assert completed("explain ") == set()

"""Loggers' files: what they hold is read to the letter, and what can't be held is said with its line."""

from datetime import datetime

import numpy as np
import pytest

from journal.problems import RULES, Problem, Severity, Source
from journal.problems.show import as_json, as_lines, as_text
from journal.reading.logs import Log, read_log
from journal.reading.logs.kept import gravity_of_plato
from journal.science import wort

MASH = ("temperature",)
BEER = ("gravity", "temperature")
HEAD = "time (min),temperature (degC)\n"


def read(text: str, wants: tuple[str, ...] = MASH) -> tuple[Log | None, list[Problem]]:
    log, problems = read_log(Source("entries/31.csv", text), wants)
    return log, list(problems)


def whole(text: str, wants: tuple[str, ...] = MASH) -> Log:
    """The log of a text that has no fault."""
    log, problems = read(text, wants)
    assert [problem.message for problem in problems] == []
    assert log is not None
    return log


def only(problems: list[Problem]) -> Problem:
    assert len(problems) == 1, as_text(problems)
    return problems[0]


def test_elapsed_time_keeps_its_own_zero() -> None:
    log = whole("time (min),temperature (degC)\n5,66.5\n7.5,66\n")
    assert log.start is None
    assert log.minutes.tolist() == [5.0, 7.5]
    assert log.temperature is not None
    assert log.temperature.tolist() == [66.5, 66.0]
    assert log.gravity is None
    assert log.lines.tolist() == [2, 3]
    assert log.place(1).text == "7.5,66"


def test_clock_time_counts_from_the_first_row_that_has_a_reading() -> None:
    log = whole("time,temperature (degC)\n2026-04-11 10:00,\n2026-04-11 10:30:30,66\n2026-04-12T10:30:30.500,65\n")
    assert log.start == datetime(2026, 4, 11, 10, 30, 30)
    assert log.minutes.tolist() == pytest.approx([0, 1440 + 0.5 / 60])


def test_offsets_give_true_minutes_and_the_clock_of_the_wall() -> None:
    """An hour passes while the clock, put back, shows the same hour again."""
    log = whole("time (ISO),temperature (degC)\n2026-10-25T02:30+02:00,66\n2026-10-25T02:30+01:00,65\n")
    assert log.start == datetime(2026, 10, 25, 2, 30)
    assert log.minutes.tolist() == [0, 60]


@pytest.mark.parametrize(
    ("unit", "cell", "minutes"),
    [
        ("s", "90", 1.5),
        ("min", "90", 90),
        ("minutes", "90", 90),
        ("h", "1.5", 90),
        ("hours", "1.5", 90),
        ("days", "2", 2880),
        ("h:mm:ss", "26:10:30", 26 * 60 + 10.5),
    ],
)
def test_units_of_elapsed_time(unit: str, cell: str, minutes: float) -> None:
    assert whole(f"time ({unit}),temperature (degC)\n{cell},66\n").minutes.tolist() == pytest.approx([minutes])


@pytest.mark.parametrize("unit", ["degF", "°F", "F", "degf"])
def test_fahrenheit(unit: str) -> None:
    log = whole(f"time (min),temperature ({unit})\n0,152\n1,212\n")
    assert log.temperature == pytest.approx([200 / 3, 100])


@pytest.mark.parametrize("unit", ["°P", "P", "Plato"])
def test_plato_becomes_the_gravity_that_the_formulas_give_it(unit: str) -> None:
    strengths = [25.0, 12.0, 3.1, -1.5]
    rows = "".join(f"{minute},{strength}\n" for minute, strength in enumerate(strengths))
    log = whole(f"time (h),gravity ({unit})\n{rows}", BEER)
    assert log.gravity == pytest.approx([wort.gravity_from_plato(p) for p in strengths], abs=1e-9)


def test_plato_against_a_published_table() -> None:
    # ASBC table of extract (American Society of Brewing Chemists), SG 20/20 at whole °P, from memory: good to 0.0001
    log = whole("time (h),gravity (°P)\n0,20\n1,15\n2,10\n3,5\n", BEER)
    assert log.gravity == pytest.approx([1.0830, 1.0611, 1.0400, 1.0197], abs=1e-4)


@pytest.mark.parametrize(
    "text",
    [
        "temperature (degC),time (min)\n66,0\n65,1\n",
        "time (min);temperature (degC)\n0;66\n1;65\n",
        "time (min)\ttemperature (degC)\n0\t66\n1\t65\n",
        "\ufefftime (min),temperature (degC)\r\n0,66\r\n1,65\r\n",
        "time (min),temperature (degC)\r0,66\r1,65\r",
        '# probe 3, "mash\ntime (min),temperature (degC)\n\n0,66\n   # stirred\n1,65\n\n\n',
        '"time (min)","temperature (degC)"\n"0","66"\n"1","65"\n',
        'Time [min] , Temperature [°C]\n 0 , "66" \n 1 , 65\n',
        "time (min),temperature (degC),\n0,66,\n1,65,\n",
        "time (min),temperature (degC)\n0,66\n0.5,\n0.6,nan\n0.7,-\n0.8,---\n0.9\n,\n1,65\n",
        "time (min),temperature (degC)\n0,6.6e1\n1,65",
    ],
    ids=[
        "order",
        "semicolon",
        "tab",
        "windows",
        "old mac",
        "comments",
        "quotes",
        "spaces",
        "trailing",
        "gaps",
        "bare end",
    ],
)
def test_one_course_however_written(text: str) -> None:
    log = whole(text)
    assert log.minutes.tolist() == [0, 1]
    assert log.temperature is not None
    assert log.temperature.tolist() == [66, 65]


def test_a_row_may_have_one_reading_of_two() -> None:
    log = whole("time (h),gravity,temperature (degC)\n0,1.050,\n1,,19\n", BEER)
    assert log.gravity == pytest.approx([1.050, np.nan], nan_ok=True)
    assert log.temperature == pytest.approx([np.nan, 19], nan_ok=True)


def test_a_fermentation_may_have_one_column_of_two() -> None:
    assert whole("time (h),temperature (degC)\n0,19\n", BEER).gravity is None
    assert whole("time (h),gravity\n0,1.05\n", BEER).temperature is None


#: Text, wanted columns, rule, line, column, and words of message and hint.
FAULTS = {
    "empty": ("", MASH, "log-empty", 1, 1, "is empty"),
    "only comments": ("# nothing\n\n", MASH, "log-empty", 1, 1, "is empty"),
    "header only": (HEAD + "\n", MASH, "log-empty", 1, 1, "a header and no row"),
    "gaps only": (HEAD + "0,\n1,-\n", MASH, "log-empty", 2, 1, "no reading in its 2 rows"),
    "no header": ("0,66\n1,66\n", MASH, "log-header", 1, 1, "time (min),temperature (degC)"),
    "no header, dates": ("2026-04-11 10:00;1.05\n", BEER, "log-header", 1, 1, "time (min);gravity;temperature (degC)"),
    "no time": ("temperature (degC)\n66\n", MASH, "log-header", 1, 1, "names no `time`"),
    "no reading": ("time (min),temp (degC)\n0,66\n", MASH, "log-header", 1, 1, "it has time (min), temp (degC)"),
    "neither": ("time (min),ph\n0,5\n", BEER, "log-header", 1, 1, "no `gravity` and no `temperature`"),
    "twice": (HEAD.strip() + ",temperature (degF)\n0,66,150\n", MASH, "log-header", 1, 31, "names `temperature` twice"),
    "no unit": ("time (min),temperature\n0,66\n", MASH, "unit-missing", 1, 12, "temperature (degC)"),
    "kelvin": ("time (min),temperature (K)\n0,339\n", MASH, "unit-unknown", 1, 12, "“K” is no unit"),
    "brix": ("time (min),gravity (°Bx)\n0,12\n", BEER, "unit-unknown", 1, 12, "gravity (°P)"),
    "weeks": ("time (weeks),gravity\n0,1.05\n", BEER, "unit-unknown", 1, 1, "time (h:mm:ss)"),
    "text": (
        HEAD + "0,66\n1,warm\n2,x\n3,y\n",
        MASH,
        "number-unreadable",
        3,
        3,
        "“warm” is no number; 2 more rows have",
    ),
    "underscore": (HEAD + "0,6_6\n", MASH, "number-unreadable", 2, 3, "“6_6”"),
    "infinite": (HEAD + "0,inf\n", MASH, "number-unreadable", 2, 3, "“inf”"),
    "other digits": (HEAD + "0,٦٦\n", MASH, "number-unreadable", 2, 3, "no number"),
    "immense": (HEAD + "0,1e400\n", MASH, "number-out-of-range", 2, 3, "can't be meant"),
    "text in time": (HEAD + "0,66\nlate,66\n", MASH, "number-unreadable", 3, 1, "“late”"),
    "comma": (HEAD.replace(",", ";") + "0;66,5\n1;66,4\n", MASH, "decimal-comma", 2, 3, "Write 66.5"),
    "comma in time": (HEAD.replace(",", ";") + "0,5;66\n", MASH, "decimal-comma", 2, 1, "Write 0.5"),
    "commas between commas": (HEAD + "0,66,5\n1,66,4\n", MASH, "log-row", 2, 1, "3 cells, and the header names 2"),
    "open quote": (HEAD + '0,66\n1,"66\n2,66\n', MASH, "log-row", 3, 1, "quotes"),
    "backwards": (HEAD + "0,66\n5,66\n,\n3,66\n2,66\n", MASH, "log-time", 5, 1, "3 comes after 5; 1 more row has"),
    "newest first": (HEAD + "5,66\n3,66\n2,66\n", MASH, "log-time", 3, 1, "newest row stands first"),
    "clock put back": (
        "time,temperature (degC)\n2026-10-25T02:59,66\n2026-10-25T02:00,66\n",
        MASH,
        "log-time",
        3,
        1,
        "+01:00",
    ),
    "no time in a row": (HEAD + "0,66\n,66\n", MASH, "log-time", 3, 1, "a reading and no time"),
    "no date": ("time,temperature (degC)\n17:00,66\n", MASH, "not-a-time", 2, 1, "without its date"),
    "no such day": ("time,temperature (degC)\n2026-02-30,66\n", MASH, "not-a-time", 2, 1, "of the calendar"),
    "number for a date": ("time,temperature (degC)\n0,66\n", MASH, "not-a-time", 2, 1, "time (min)"),
    "seconds since": (
        "time,temperature (degC)\n1776012341230,66\n",
        MASH,
        "not-a-time",
        2,
        1,
        "header gives `time` no",
    ),
    "no h:mm:ss": ("time (h:mm:ss),temperature (degC)\n0:75:00,66\n", MASH, "not-a-time", 2, 1, "1:05:30"),
    "offsets in some": (
        "time,temperature (degC)\n2026-04-11T17:00Z,66\n2026-04-11T17:01,66\n",
        MASH,
        "not-a-time",
        3,
        1,
        "offset from UTC",
    ),
    "mash in fahrenheit": (HEAD + "0,68\n1,152\n2,152\n", MASH, "log-unit", 2, 3, "152 °F is 66.7 °C"),
    "beer in fahrenheit": ("time (h),temperature (C)\n0,68\n", BEER, "log-unit", 2, 3, "68 °F is 20.0 °C"),
    "points": ("time (h),gravity\n0,1050\n1,1048\n", BEER, "log-unit", 2, 3, "Write them as 1.049"),
    "plato as bare": ("time (h),gravity\n0,12.4\n", BEER, "log-unit", 2, 3, "gravity (°P)"),
}


@pytest.mark.parametrize("name", FAULTS)
def test_fault(name: str) -> None:
    text, wants, code, line, column, words = FAULTS[name]
    log, problems = read(text, wants)
    problem = only(problems)
    assert log is None
    assert problem.severity is Severity.ERROR
    assert (problem.code, problem.line, problem.column) == (code, line, column)
    assert problem.file_name == "entries/31.csv"
    assert words in f"{problem.message} {problem.hint}"
    assert problem.hint
    for show in (as_text, as_lines, as_json):
        assert "entries/31.csv" in show(problems)


def test_every_rule_about_logs_is_broken_by_a_test() -> None:
    """Those of files stand in test_log_files.py, those that are noted further down."""
    noted = {"log-column-unread", "log-reading-left-out", "log-row-repeated", "log-rows-disagree", "log-unit-doubtful"}
    of_files = {"log-missing", "log-outside", "log-unreadable"}
    in_texts = {code for _, _, code, *_ in FAULTS.values() if code.startswith("log-")}
    assert {code for code in RULES if code.startswith("log-")} == noted | of_files | in_texts


@pytest.mark.parametrize(
    ("text", "wants", "words", "kept"),
    [
        ("time (min),temperature (degF)\n0,66\n1,68\n", MASH, "67 °F, which is 19.4 °C", 19.44),
        ("time (h),temperature (degF)\n0,19\n", BEER, "19 °F, which is -7.2 °C", -7.22),
    ],
)
def test_celsius_under_fahrenheit_is_only_doubted(text: str, wants: tuple[str, ...], words: str, kept: float) -> None:
    log, problems = read(text, wants)
    problem = only(problems)
    assert (problem.code, problem.severity, problem.line) == ("log-unit-doubtful", Severity.WARNING, 2)
    assert words in problem.message
    assert log is not None
    assert log.temperature is not None
    assert log.temperature.mean() == pytest.approx(kept, abs=0.01)


def test_a_gravity_under_plato_is_doubted() -> None:
    log, problems = read("time (h),gravity (°P)\n0,1.050\n1,1.012\n", BEER)
    assert only(problems).code == "log-unit-doubtful"
    assert log is not None


def test_a_warm_course_in_either_unit_is_not_doubted() -> None:
    whole(HEAD + "0,35\n1,100\n2,101\n3,78\n")
    whole("time (min),temperature (degF)\n0,60\n1,152\n2,150\n")
    whole("time (h),temperature (degC)\n0,38\n1,40\n", BEER)
    whole("time (h),temperature (degF)\n0,33\n1,34\n", BEER)


def test_columns_that_are_not_read_are_named_once() -> None:
    log, problems = read("time (min),battery (V),temperature (degC),note\n0,4.1,66,mashed in\n")
    problem = only(problems)
    assert (problem.code, problem.severity) == ("log-column-unread", Severity.NOTE)
    assert "“battery (V)”, “note”" in problem.message
    assert log is not None


def test_a_row_that_stands_twice_counts_once() -> None:
    log, problems = read("time (h),gravity,temperature (degC)\n0,1.05,19\n0,1.05,19\n1,1.04,\n1,1.04,\n1,1.04,\n", BEER)
    problem = only(problems)
    assert (problem.code, problem.severity, problem.line) == ("log-row-repeated", Severity.NOTE, 3)
    assert problem.message.startswith("3 rows")
    assert log is not None
    assert log.lines.tolist() == [2, 4]


def test_of_different_readings_at_one_time_the_mean_is_taken() -> None:
    log, problems = read(HEAD + "0,66\n1,65\n1,66\n1,66\n2,64\n2,66\n")
    repeated, disagree = problems
    assert repeated.code == "log-row-repeated"
    assert (disagree.code, disagree.severity, disagree.line) == ("log-rows-disagree", Severity.WARNING, 4)
    assert disagree.expected_by is not None
    assert disagree.expected_by.line == 3
    assert "1 more time has" in disagree.message
    assert log is not None
    assert log.minutes.tolist() == [0, 1, 2]
    assert log.temperature is not None
    assert log.temperature.tolist() == [66, 65.5, 65]


def test_rows_of_one_time_that_complete_each_other_are_no_fault() -> None:
    log = whole("time (h),gravity,temperature (degC)\n0,1.05,\n0,,19\n", BEER)
    assert (log.gravity, log.temperature) == (pytest.approx([1.05]), pytest.approx([19]))


def left_out(rows: str, wants: tuple[str, ...] = MASH, head: str = HEAD) -> tuple[Log, str]:
    log, problems = read(head + rows, wants)
    problem = only(problems)
    assert (problem.code, problem.severity) == ("log-reading-left-out", Severity.NOTE)
    assert log is not None
    return log, problem.message


def test_a_probe_pulled_out_of_the_mash_is_left_out() -> None:
    course = [66.2, 66.1, 66.0, 58, 41, 25, 22, 21.5, 21.4, 35, 55, 65.5, 66.0, 66.1]
    log, message = left_out("".join(f"{minute / 2},{value}\n" for minute, value in enumerate(course)))
    assert log.temperature is not None
    assert log.temperature.tolist() == [66.2, 66.1, 66.0, 65.5, 66.0, 66.1]
    assert "8 of a probe out of the mash (lines 5–12)" in message


@pytest.mark.parametrize(
    "course",
    [
        [18, 19, 66, 66, 66],
        [66, 66, 66, 30, 25],
        [66, 60, 55, 50, 45, 39, 36, 45, 55, 66],
        [38, 38, 38, 52, 52, 66],
    ],
    ids=["before mashing in", "left outside", "slow", "rests"],
)
def test_what_is_no_probe_pulled_out_stays(course: list[float]) -> None:
    log = whole(HEAD + "".join(f"{minute * 10},{value}\n" for minute, value in enumerate(course)))
    assert len(log.minutes) == len(course)


def test_what_a_digital_probe_shows_without_measuring_is_left_out() -> None:
    log, message = left_out("0,85\n1,66\n2,-127\n3,85\n4,66\n5,200\n")
    assert log.minutes.tolist() == [1, 4]
    assert message.startswith("4 readings")
    assert "(lines 4, 7)" in message
    assert "85 °C (lines 2, 5)" in message


def test_a_course_that_reaches_85_keeps_it() -> None:
    assert len(whole(HEAD + "0,80\n1,84\n2,85\n3,85\n4,83\n").minutes) == 5


def test_gravities_that_no_beer_has_are_left_out() -> None:
    log, message = left_out("0,1.050\n1,0.5\n2,1.3\n3,1.049\n", BEER, "time (h),gravity\n")
    assert log.minutes.tolist() == [0, 180]
    assert "outside 0.980 to 1.200 (lines 3–4)" in message


def test_many_lines_are_counted() -> None:
    rows = "".join(f"{minute},{-127 if minute % 2 else 66}\n" for minute in range(21))
    assert "(lines 3, 5, 7, 9 and 6 more)" in left_out(rows)[1]


def test_a_log_of_nothing_but_faults() -> None:
    log, problems = read(HEAD + "0,-127\n1,-127\n")
    assert log is None
    assert [problem.code for problem in problems] == ["log-reading-left-out", "log-empty"]


def test_strengths_of_a_log_are_gravities_by_the_formula_of_readings_by_hand() -> None:
    strengths = [0.0, 3.5, 12.0, 20.0, 30.0]
    found = gravity_of_plato(np.array(strengths)).tolist()
    assert found == pytest.approx([wort.gravity_from_plato(strength) for strength in strengths], abs=1e-9)

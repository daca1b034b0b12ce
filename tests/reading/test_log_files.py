"""The logs that entries name: which file is read, what keeps one from it, and that the batch is there all the same."""

import errno
from pathlib import Path

import pytest
from texts import entry, journal_at

from journal.problems import Problem, Severity
from journal.reading import Journal, read_journal
from journal.reading.logs import beside

COURSE = "time (min),temperature (degC)\n0,66\n60,65\n"
BEER = "time,gravity\n2026-04-11 18:00,1.050\n2026-04-18 18:00,1.010\n"
MASHED = entry("mash:\n  log: mash.csv")


def alone(found: tuple[Journal, list[Problem]]) -> Problem:
    """The only problem of a journal of one batch, which is there without its log and is published."""
    journal, problems = found
    assert len(problems) == 1, problems
    assert len(journal.batches) == 1
    assert journal.batches[0].mash_log is None
    return problems[0]


def test_both_logs_of_an_entry_are_read(tmp_path: Path) -> None:
    text = entry("mash: {log: logs/mash.csv}\nreadings_log: ../beer.csv")
    journal, problems = journal_at(tmp_path, {"a/31.md": text, "a/logs/mash.csv": COURSE, "beer.csv": BEER})
    assert problems == []
    mash, beer = journal.batches[0].mash_log, journal.batches[0].fermentation_log
    assert mash.source.name == "entries/a/logs/mash.csv"
    assert mash.minutes.tolist() == [0, 60]
    assert beer is not None
    assert beer.gravity == pytest.approx([1.050, 1.010])


def test_an_entry_that_names_none_has_none(tmp_path: Path) -> None:
    journal, problems = journal_at(tmp_path, {"31.md": entry("crush: 1 mm\nmash:\n  log:\n"), "mash.csv": COURSE})
    assert problems == []
    assert (journal.batches[0].mash_log, journal.batches[0].fermentation_log) == (None, None)


def test_missing(tmp_path: Path) -> None:
    problem = alone(journal_at(tmp_path, {"31.md": MASHED}))
    assert (problem.code, problem.file_name, problem.line) == ("log-missing", "entries/31.md", 6)
    assert (problem.path, "entries/mash.csv" in problem.message) == ("mash.log", True)


@pytest.mark.parametrize("name", ["../outside.csv", "../../outside.csv", "/etc/hostname"])
def test_outside(name: str, tmp_path: Path) -> None:
    (tmp_path / "outside.csv").write_text(COURSE)
    problem = alone(journal_at(tmp_path, {"31.md": MASHED.replace("mash.csv", name)}))
    assert (problem.code, problem.file_name, problem.line) == ("log-outside", "entries/31.md", 6)


@pytest.mark.parametrize(
    ("target", "code"),
    [("../outside.csv", "log-outside"), ("gone.csv", "log-missing"), ("mash.csv", "log-missing")],
    ids=["outside", "nothing", "itself"],
)
def test_a_link_that_leads_away(target: str, code: str, tmp_path: Path) -> None:
    (tmp_path / "entries").mkdir()
    (tmp_path / "outside.csv").write_text(COURSE)
    (tmp_path / "entries" / "mash.csv").symlink_to(target)
    problem = alone(journal_at(tmp_path, {"31.md": MASHED}))
    assert (problem.code, problem.file_name, problem.line) == (code, "entries/31.md", 6)


def test_a_link_of_folders_that_leads_away(tmp_path: Path) -> None:
    (tmp_path / "entries").mkdir()
    (tmp_path / "away").mkdir()
    (tmp_path / "away" / "mash.csv").write_text(COURSE)
    (tmp_path / "entries" / "logs").symlink_to("../away")
    assert alone(journal_at(tmp_path, {"31.md": MASHED.replace("mash.csv", "logs/mash.csv")})).code == "log-outside"


def test_a_folder_is_no_log(tmp_path: Path) -> None:
    (tmp_path / "entries" / "mash.csv").mkdir(parents=True)
    problem = alone(journal_at(tmp_path, {"31.md": MASHED}))
    assert (problem.code, problem.line) == ("log-unreadable", 6)


def test_a_name_that_no_file_has(tmp_path: Path) -> None:
    problem = alone(journal_at(tmp_path, {"31.md": MASHED.replace("mash.csv", "x" * 300 + ".csv")}))
    assert problem.code in {"log-unreadable", "log-missing"}
    assert problem.file_name == "entries/31.md"


def test_a_name_with_a_null_byte_is_no_text(tmp_path: Path) -> None:
    journal, problems = journal_at(tmp_path, {"31.md": MASHED.replace("mash.csv", '"a\\0b.csv"')})
    assert next((problem.code, problem.line) for problem in problems) == ("yaml-syntax", 6)
    assert journal.batches == []


def test_more_than_50_megabytes_are_refused_unread(tmp_path: Path) -> None:
    (tmp_path / "entries").mkdir()
    with (tmp_path / "entries" / "mash.csv").open("wb") as file:
        file.truncate(1 << 40)
    problem = alone(journal_at(tmp_path, {"31.md": MASHED}))
    assert (problem.code, problem.line) == ("log-unreadable", 6)
    assert "50 MB" in problem.message


def test_a_log_that_may_not_be_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    readable = Path.read_bytes

    def refuse(path: Path) -> bytes:
        if path.suffix == ".csv":
            raise PermissionError(errno.EACCES, "Permission denied")
        return readable(path)

    monkeypatch.setattr(Path, "read_bytes", refuse)
    problem = alone(journal_at(tmp_path, {"31.md": MASHED, "mash.csv": COURSE}))
    assert (problem.code, problem.line) == ("log-unreadable", 6)
    assert "Permission denied" in problem.message


@pytest.mark.parametrize(
    ("content", "code", "line", "column"),
    [
        (b"", "log-empty", 1, 1),
        ("time (min),temperature (°C)\n0,66\n".encode("latin-1"), "file-not-text", 1, 25),
        (COURSE.encode("utf-16"), "file-not-text", 1, 1),
        (b"PK\3\4\0\0", "file-not-text", 1, 1),
        (b"\xef\xbb\xbftime (min),temperature (degC)\r\n0,66\r\n1,hot\r\n", "number-unreadable", 3, 3),
        (b"time (min),temperature (degC)\n0,152\n1,152\n", "log-unit", 2, 3),
    ],
    ids=["empty", "latin", "utf-16", "workbook", "windows", "fahrenheit"],
)
def test_what_is_in_the_log_is_said_at_its_own_line(
    content: bytes, code: str, line: int, column: int, tmp_path: Path
) -> None:
    problem = alone(journal_at(tmp_path, {"31.md": MASHED, "mash.csv": content}))
    assert problem.severity is Severity.ERROR
    assert (problem.code, problem.file_name) == (code, "entries/mash.csv")
    assert (problem.line, problem.column) == (line, column)


def test_a_doubt_about_a_log_keeps_the_log(tmp_path: Path) -> None:
    journal, problems = journal_at(tmp_path, {"31.md": MASHED, "mash.csv": COURSE + "60,66\n"})
    assert [problem.code for problem in problems] == ["log-rows-disagree"]
    assert journal.batches[0].mash_log is not None


def test_a_log_that_two_entries_name_is_faulted_for_both(tmp_path: Path) -> None:
    other = MASHED.replace("batch: 31", "batch: 32")
    journal, problems = journal_at(tmp_path, {"31.md": MASHED, "32.md": other, "mash.csv": COURSE + "x,66\n"})
    assert [len(found.log_problems) for found in journal.entries] == [1, 1]
    assert len(set(problems)) == 1


def test_the_largest_log_holds_years() -> None:
    """A reading every minute for two years, 40 characters a row."""
    assert beside.LARGEST > 2 * 365 * 24 * 60 * 40


def test_a_broken_entry_stays_broken(tmp_path: Path) -> None:
    journal, _ = journal_at(tmp_path, {"31.md": entry("mash:\n  log: mash.csv\n  stuck: long"), "mash.csv": COURSE})
    assert journal.batches == []
    assert [found.broken for found in read_journal(tmp_path)[0].entries] == [True]

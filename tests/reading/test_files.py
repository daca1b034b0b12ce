"""Files that are no entries, or can't be read: a clear problem by name, and never an exception."""

import errno
import os
from pathlib import Path

import pytest
from texts import HEAD, codes, entry, journal_at

from journal.problems import Problem
from journal.reading import read_journal

GOOD = entry("crush: 1 mm", "Prose.\n")


def only(problems: list[Problem]) -> Problem:
    assert len(problems) == 1, problems
    return problems[0]


def test_without_a_folder_of_entries(tmp_path: Path) -> None:
    journal, problems = read_journal(tmp_path)
    assert only(problems).code == "journal-missing"
    assert journal.entries == ()


def test_an_empty_folder_is_an_empty_journal(tmp_path: Path) -> None:
    (tmp_path / "entries").mkdir()
    journal, problems = read_journal(tmp_path)
    assert (journal.batches, problems) == ([], [])


@pytest.mark.parametrize("content", [b"", b"\n\n  \n", b"\xef\xbb\xbf", b"\xef\xbb\xbf\r\n"])
def test_empty(content: bytes, tmp_path: Path) -> None:
    problem = only(journal_at(tmp_path, {"x.md": content})[1])
    assert (problem.code, problem.file_name) == ("file-empty", "entries/x.md")


@pytest.mark.parametrize(
    "content",
    [b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR", GOOD.encode("utf-16"), GOOD.encode("utf-16-le"), GOOD.encode("utf-32"), b"\0"],
    ids=["picture", "utf-16", "utf-16-le", "utf-32", "nul"],
)
def test_not_text(content: bytes, tmp_path: Path) -> None:
    problem = only(journal_at(tmp_path, {"x.md": content})[1])
    assert (problem.code, problem.file_name) == ("file-not-text", "entries/x.md")


@pytest.mark.parametrize("newline", ["\n", "\r\n"])
@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"], ids=["plain", "byte order mark"])
@pytest.mark.parametrize("bad", [b"\xff", b"\xe9t\xe9", b"\xc3", b"\xf0\x9f\x8d"])
def test_bytes_that_are_not_utf_8_have_their_place(bad: bytes, mark: bytes, newline: str, tmp_path: Path) -> None:
    before = "---\n" + HEAD + "style: °Bx \N{BEER MUG} "
    content = mark + before.replace("\n", newline).encode() + bad + newline.encode() + b"---" + newline.encode()
    problem = only(journal_at(tmp_path, {"x.md": content})[1])
    assert problem.code == "file-not-text"
    assert (problem.line, problem.column) == (5, len("style: °Bx \N{BEER MUG} ") + 1)
    assert f"{bad[0]:#04x}" in problem.message


def test_byte_order_mark_and_crlf_are_fine(tmp_path: Path) -> None:
    faulty = entry("crush: 1,1 mm", "Prose.\n\nMore, [lost](lost.md).\n")
    plain = journal_at(tmp_path / "a", {"x.md": faulty})[1]
    windows = journal_at(tmp_path / "b", {"x.md": b"\xef\xbb\xbf" + faulty.replace("\n", "\r\n").encode()})[1]
    assert codes(plain) == ["decimal-comma", "link-broken"]
    assert [(p.code, p.line, p.column) for p in windows] == [(p.code, p.line, p.column) for p in plain]


def test_more_than_one_mebibyte_is_refused_unread(tmp_path: Path) -> None:
    most = 1024 * 1024
    exactly = GOOD.encode() + b"x" * (most - len(GOOD.encode()))
    assert journal_at(tmp_path / "a", {"x.md": exactly})[1] == []
    problem = only(journal_at(tmp_path / "b", {"x.md": exactly + b"x"})[1])
    assert (problem.code, problem.file_name) == ("file-too-large", "entries/x.md")


def test_a_sparse_giant_costs_nothing(tmp_path: Path) -> None:
    (tmp_path / "entries").mkdir()
    with (tmp_path / "entries" / "x.md").open("wb") as file:
        file.truncate(1 << 40)
    assert codes(read_journal(tmp_path)[1]) == ["file-too-large"]


def test_a_folder_named_like_an_entry(tmp_path: Path) -> None:
    journal, problems = journal_at(tmp_path, {"x.md/inside.md": GOOD, "y.md": GOOD})
    assert (only(problems).code, problems[0].file_name) == ("file-not-a-file", "entries/x.md")
    assert [batch.file for batch in journal.batches] == ["entries/y.md"]


def test_a_pipe_is_not_waited_for(tmp_path: Path) -> None:
    (tmp_path / "entries").mkdir()
    os.mkfifo(tmp_path / "entries" / "x.md")
    assert codes(read_journal(tmp_path)[1]) == ["file-not-a-file"]


def test_a_file_that_may_not_be_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(_: Path) -> bytes:
        raise PermissionError(errno.EACCES, "Permission denied")

    monkeypatch.setattr(Path, "read_bytes", refuse)
    problem = only(journal_at(tmp_path, {"x.md": GOOD})[1])
    assert (problem.code, problem.file_name) == ("file-unreadable", "entries/x.md")
    assert "Permission denied" in problem.message


@pytest.mark.parametrize("target", ["/etc/hostname", "../outside.md", "gone.md", "x.md"])
def test_a_link_out_of_the_entries_or_to_nothing(target: str, tmp_path: Path) -> None:
    (tmp_path / "entries").mkdir()
    (tmp_path / "outside.md").write_text(GOOD)
    (tmp_path / "entries" / "x.md").symlink_to(target)
    problem = only(read_journal(tmp_path)[1])
    assert (problem.code, problem.file_name) == ("file-outside", "entries/x.md")


def test_a_link_inside_the_entries_is_followed(tmp_path: Path) -> None:
    (tmp_path / "entries").mkdir()
    (tmp_path / "entries" / "x.md").symlink_to("kept.txt")
    journal, problems = journal_at(tmp_path, {"kept.txt": GOOD})
    assert problems == []
    assert [batch.id for batch in journal.batches] == ["31"]


def test_loops_of_folders_end(tmp_path: Path) -> None:
    (tmp_path / "entries" / "a").mkdir(parents=True)
    (tmp_path / "entries" / "a" / "loop").symlink_to("..")
    journal, problems = journal_at(tmp_path, {"a/x.md": GOOD})
    assert problems == []
    assert len(journal.entries) == 1


def test_a_link_to_a_folder_named_like_an_entry(tmp_path: Path) -> None:
    (tmp_path / "entries").mkdir()
    (tmp_path / "entries" / "loop.md").symlink_to(".")
    assert codes(read_journal(tmp_path)[1]) == ["file-not-a-file"]


def test_what_is_passed_over(tmp_path: Path) -> None:
    broken = "no entry at all"
    names = ["_draft.md", ".hidden.md", "_old/x.md", ".git/x.md", "notes.txt", "x.markdown", "x.MD.bak"]
    journal, problems = journal_at(tmp_path, dict.fromkeys(names, broken) | {"deep/er/and/deeper/y.md": GOOD})
    assert problems == []
    assert [batch.file for batch in journal.batches] == ["entries/deep/er/and/deeper/y.md"]


@pytest.mark.parametrize("name", ["brewery.yaml", "malts.yaml"])
@pytest.mark.parametrize(
    ("content", "expected"),
    [
        (b"", []),
        (b"# nothing yet\n", []),
        (b"- a list\n", ["wrong-shape"]),
        (b"a: [\n", ["yaml-syntax"]),
        (b"\0", ["file-not-text"]),
        (b"x" * 1024 * 1025, ["file-too-large"]),
        (b"\xff", ["file-not-text"]),
    ],
    ids=["empty", "comment", "list", "syntax", "binary", "large", "latin"],
)
def test_settings_files(name: str, content: bytes, expected: list[str], tmp_path: Path) -> None:
    _, problems = journal_at(tmp_path, {name: content, "x.md": GOOD})
    assert codes(problems) == expected
    assert all(problem.file_name == f"entries/{name}" for problem in problems)


def test_a_settings_file_may_begin_with_hyphens_and_holds_one_document(tmp_path: Path) -> None:
    assert journal_at(tmp_path / "a", {"brewery.yaml": "---\nname: Island Shed\n"})[1] == []
    problems = journal_at(tmp_path / "b", {"brewery.yaml": "name: Island Shed\n---\nname: Other\n"})[1]
    assert [(p.code, p.line) for p in problems] == [("second-document", 2)]


def test_ids_are_one_however_written(tmp_path: Path) -> None:
    journal, problems = journal_at(
        tmp_path,
        {
            "a.md": GOOD,
            "b/c.md": GOOD.replace("batch: 31", 'batch: "31"'),
            "d.md": GOOD.replace("batch: 31", "batch: 32"),
        },
    )
    problem = only(problems)
    assert (problem.code, problem.file_name, problem.line, problem.column) == ("batch-repeated", "entries/b/c.md", 2, 8)
    assert problem.expected_by is not None
    assert problem.expected_by.source.name == "entries/a.md"
    assert [batch.file for batch in journal.batches] == ["entries/a.md", "entries/d.md"]


def test_batches_stand_by_date_then_by_id_as_people_count(tmp_path: Path) -> None:
    heads = {"10": "2026-01-02", "9": "2026-01-02", "9-b": "2026-01-02", "x": "2026-01-01", "1": "2026-02-01"}
    files = {
        f"{number}.md": f"---\nbatch: {number}\ntitle: T\nbrewed: {day}\ncrush: 1 mm\n---\n"
        for number, day in heads.items()
    }
    journal, problems = journal_at(tmp_path, files)
    assert problems == []
    assert [batch.id for batch in journal.batches] == ["x", "9", "9-b", "10", "1"]


def test_a_broken_entry_does_not_hide_the_others(tmp_path: Path) -> None:
    journal, problems = journal_at(
        tmp_path, {"a.md": "nothing", "b.md": GOOD, "c.md": entry("crush: 1 kg", head=HEAD.replace("31", "32"))}
    )
    assert [batch.file for batch in journal.batches] == ["entries/b.md"]
    assert [entry_.broken for entry_ in journal.entries] == [True, False, True]
    assert codes(problems) == ["front-matter-missing", "unit-wrong-kind"]

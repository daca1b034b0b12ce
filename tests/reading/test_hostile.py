"""What somebody might write to do harm, or to see whether it does: refused by name, or read as the text it is."""

from __future__ import annotations

from pathlib import Path

import pytest
from texts import HEAD, codes, entry, journal_at, read

from journal.problems import Severity
from journal.reading import read_journal
from journal.reading.prose import MOST_BRACKETS

MARKUP = "</title></script><script>window.ran=1</script><img src=x onerror=window.ran=1>{{ 7*7 }}{% raw %}${7*7}"


def test_markup_and_templates_are_texts_like_any_other(tmp_path: Path) -> None:
    quoted = "'" + MARKUP + "'"
    fields = f"style: {quoted}\ntags: [{quoted}]\nfermenter: {{yeast: {quoted}}}\npractice: {{{quoted}: {quoted}}}"
    batch, problems = read(fields)
    assert codes(problems) == []
    assert batch is not None
    assert (batch.style, batch.tags, batch.fermenter.yeast.strain) == (MARKUP, (MARKUP,), MARKUP)
    assert batch.practice == {MARKUP: MARKUP}


@pytest.mark.parametrize("where", [0, 3, 30, -1])
@pytest.mark.parametrize("name", ["31.md", "brewery.yaml", "malts.yaml"])
def test_a_null_byte_is_no_text(name: str, where: int, tmp_path: Path) -> None:
    content = (entry("style: bitter") if name.endswith(".md") else "name: {name: Shed}\n# " + "x" * 40).encode()
    at = where % len(content)
    problems = journal_at(tmp_path, {name: content[:at] + b"\0" + content[at:]})[1]
    assert codes(problems) == ["file-not-text"]


@pytest.mark.parametrize("escape", ["0", "a", "e", "x7F", "x9f", "uFFFE"])
def test_a_control_character_written_as_an_escape_is_refused(escape: str) -> None:
    batch, problems = read(f'style: "a\\{escape}b"\ntags: ["x\\{escape}"]')
    assert batch is not None
    assert batch.style == "ab"
    assert [(problem.code, problem.line) for problem in problems] == [("yaml-syntax", 5), ("yaml-syntax", 6)]


@pytest.mark.parametrize(
    "fields", ["style: {}", "tags: [{}]", "crush: {}", "practice: {{{}: 1}}", "{}: 1", "mash: {{log: {}}}"]
)
def test_a_line_as_long_as_an_entry_may_be(fields: str, tmp_path: Path) -> None:
    long = "x" * (1024 * 1024 - 200)
    journal, problems = journal_at(tmp_path, {"31.md": entry(fields.format(long))})
    assert len(journal.entries) == 1
    for problem in problems:
        assert len(problem.message) < 5000, "a problem tells of a text, and does not repeat all of it"


@pytest.mark.parametrize(
    "prose", ["word " * 200_000, "word [a](b " * 4000, "|a" * 20_000 + "|\n" + "|-" * 20_000 + "|"]
)
def test_prose_of_very_long_lines(prose: str, tmp_path: Path) -> None:
    journal, problems = journal_at(tmp_path, {"31.md": entry("crush: 1 mm", prose)})
    assert codes(problems) == []
    assert len(journal.batches) == 1


@pytest.mark.parametrize("sign", ["> ", "- ", "1. ", "  - ", "[", "![", "*", "_", "`", "(", "|", "#", "<b>", "~~~\n"])
def test_prose_nested_ever_deeper(sign: str, tmp_path: Path) -> None:
    journal, _ = journal_at(tmp_path, {"31.md": entry("crush: 1 mm", sign * 5000 + "x")})
    assert len(journal.batches) == 1


@pytest.mark.parametrize("signs", ["[", "![", "[a][", "![]("])
def test_brackets_by_the_hundred_thousand_are_refused_unread(signs: str, tmp_path: Path) -> None:
    """Read, these would take minutes: the test would not come to its end."""
    journal, problems = journal_at(
        tmp_path, {"31.md": entry("crush: 1 mm", "\nFine.\n\n" + signs * (1_000_000 // len(signs)))}
    )
    assert [problem.code for problem in problems] == ["prose-brackets"]
    place = problems[0].place
    assert place is not None
    assert place.source.text[place.span.start : place.span.end] == "["
    assert journal.batches == []


def test_as_many_brackets_as_there_may_be_are_read(tmp_path: Path) -> None:
    journal, problems = journal_at(tmp_path, {"31.md": entry("crush: 1 mm", "[" * MOST_BRACKETS)})
    assert problems == []
    assert len(journal.batches) == 1


@pytest.mark.parametrize("name", ["brewery.yaml", "malts.yaml"])
@pytest.mark.parametrize("opening", ["[", "{a: ", "- ", "? "])
def test_settings_nested_ever_deeper(name: str, opening: str, tmp_path: Path) -> None:
    problems = journal_at(tmp_path, {name: opening * 50_000})[1]
    assert problems
    assert all(problem.severity is Severity.ERROR for problem in problems)


@pytest.mark.parametrize("field", ["mash: {{log: '{}'}}", "readings_log: '{}'"])
@pytest.mark.parametrize(
    ("name", "code"),
    [
        ("../../secret.csv", "log-outside"),
        ("../secret.csv", "log-outside"),
        ("/etc/hostname", "log-outside"),
        ("//etc/hostname", "log-outside"),
        ("../entries/../secret.csv", "log-outside"),
        ("away.csv", "log-outside"),
        ("folder", "log-unreadable"),
        ("loop.csv", "log-missing"),
        ("~/secret.csv", "log-missing"),
        ("%2e%2e/secret.csv", "log-missing"),
        ("..\\secret.csv", "log-missing"),
        ("file:///etc/hostname", "log-missing"),
        ("a" * 5000, "log-unreadable"),
        (".", "log-unreadable"),
    ],
)
def test_a_log_that_lies_elsewhere(field: str, name: str, code: str, tmp_path: Path) -> None:
    (tmp_path / "entries" / "folder").mkdir(parents=True)
    (tmp_path / "secret.csv").write_text("time (min),temperature (degC),gravity\n0,60,1.050\n")
    (tmp_path / "entries" / "away.csv").symlink_to("../secret.csv")
    (tmp_path / "entries" / "loop.csv").symlink_to("loop.csv")
    journal, problems = journal_at(tmp_path, {"31.md": entry(field.format(name))})
    assert codes(problems) == [code]
    assert [(b.mash_log, b.fermentation_log) for b in journal.batches] == [(None, None)]


def test_folders_that_are_links_are_not_entered(tmp_path: Path) -> None:
    entries = tmp_path / "entries"
    (entries / "2026").mkdir(parents=True)
    (tmp_path / "elsewhere").mkdir()
    (tmp_path / "elsewhere" / "x.md").write_text(entry("crush: 1 mm"))
    (entries / "round").symlink_to(entries, target_is_directory=True)
    (entries / "2026" / "up").symlink_to("..", target_is_directory=True)
    (entries / "away").symlink_to(tmp_path / "elsewhere", target_is_directory=True)
    (entries / "one").symlink_to("two")
    (entries / "two").symlink_to("one")
    journal, problems = journal_at(tmp_path, {"2026/31.md": entry("crush: 1 mm")})
    assert codes(problems) == []
    assert [entry.file for entry in journal.entries] == ["entries/2026/31.md"]


@pytest.mark.parametrize("name", ["brewery.yaml", "malts.yaml", "x.md"])
@pytest.mark.parametrize("target", ["/etc/hostname", "../outside", "x.md", "/dev/zero", "/proc/self/environ"])
def test_files_that_are_links_to_elsewhere_are_not_read(name: str, target: str, tmp_path: Path) -> None:
    (tmp_path / "entries").mkdir()
    (tmp_path / "outside").write_text("name: secret\n")
    (tmp_path / "entries" / name).symlink_to(target)
    problems = read_journal(tmp_path)[1]
    assert {problem.code for problem in problems} == {"file-outside"}
    assert not [problem for problem in problems if "secret" in problem.message]


def test_names_of_files_that_are_no_text(tmp_path: Path) -> None:
    (tmp_path / "entries").mkdir()
    for name in (b"\xff\xfe.md", "\u202egpj.md".encode(), b"<img src=x onerror=alert(1)>.md", b"new\nline.md", b" .md"):
        Path(bytes(tmp_path / "entries").decode(), name.decode("utf-8", "surrogateescape")).write_bytes(
            entry("crush: 1 mm").encode()
        )
    journal, problems = read_journal(tmp_path)
    assert len(journal.entries) == 5
    assert codes(problems) == ["batch-repeated"] * 4


@pytest.mark.parametrize(
    "key", ["__class__", "__proto__", "constructor", "a.b", "a[0]", "", " ", "..", "/etc", "{{x}}", "null"]
)
def test_keys_of_a_brewers_own(key: str, tmp_path: Path) -> None:
    journal, problems = journal_at(
        tmp_path,
        {
            "31.md": entry(
                f"practice: {{'{key}': 1}}\ngrains: [{{malt: '{key or 'x'}', weight: 1 kg, extract: 80 %}}]"
            ),
            "brewery.yaml": f"brewhouses: {{'{key}': {{name: Shed}}}}\n",
            "malts.yaml": f"'{key}': {{extract: 80 %}}\n",
        },
    )
    assert len(journal.entries) == 1
    assert HEAD.split("\n", maxsplit=1)[0] in journal.entries[0].batch.source.text
    for problem in problems:
        assert problem.place is not None

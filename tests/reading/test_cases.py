"""Case files: the comments say which problem must arise on their line; anything unmatched, either way, fails.

`expect: CODE, CODE` stands on the line itself, or `expect on line N: CODE` elsewhere. Each case is read as an entry of
a small journal that holds `settings/` and a few files to link to; `brewery.yaml` and `malts.yaml` are cases too.
"""

import re
import shutil
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest

from journal.problems import RULES, Problem, Source, in_order
from journal.problems.show import as_text
from journal.reading import Brewery, read_journal
from journal.reading.located_yaml import Mapping, read_yaml
from journal.reading.table import read_fields
from journal.reading.values import Context

CASES = Path(__file__).parent / "cases"
ENTRIES = sorted(path.name for path in CASES.glob("*.md"))
SETTINGS = ["brewery.yaml", "malts.yaml"]
PIXEL = bytes.fromhex("89504e470d0a1a0a0000000d49484452000000010000000108060000001f15c489")

#: Rules that no text of an entry can break; each is tested where it arises.
ABOUT_FILES = {
    "prose-brackets",
    "file-unreadable",
    "file-not-a-file",
    "file-empty",
    "file-too-large",
    "file-not-text",
    "file-outside",
    "journal-missing",
    "batch-repeated",
}
#: These take two entries, see test_links.py.
ABOUT_LINKS = {"links-disagree", "linked-batch-broken"}
ABOUT_LOGS = {code for code in RULES if code.startswith("log-")}
ABOUT_OUTPUT = {"output-not-ours", "output-unwritable", "output-busy", "build-failed", "internal-fault"}
ABOUT_THEMES = {"theme-unknown", "template-broken", "template-unreadable", "template-unused", "block-unknown"}
#: Of lists longer than any case wants to be, and of two entries at once: `test_limits.py`.
ABOUT_LIMITS = {"list-too-long", "batch-like-another"}
ABOUT_FIGURES = {
    "reading-impossible",
    "volume-impossible",
    "gravity-rises",
    "priming-unready",
    "priming-uncomputed",
    "carbonation-above-wanted",
    "carbonation-beyond-bottle",
    "packaged-unready",
}
ABOUT_BALANCE = {"balance-broken", "balance-strained", "level-moved", "record-disagrees"}


def expected(text: str) -> Counter[tuple[int, str]]:
    found: Counter[tuple[int, str]] = Counter()
    for number, line in enumerate(text.split("\n"), start=1):
        for match in re.finditer(r"expect(?: on line (\d+))?: ([a-z-]+(?:, [a-z-]+)*)", line):
            found.update((int(match[1] or number), code) for code in match[2].split(", "))
    return found


def problems_of(root: Path, case: str) -> list[Problem]:
    entries = root / "entries"
    entries.mkdir()
    for name in SETTINGS:
        shutil.copy(CASES / ("settings/" + name if case != name else name), entries / name)
    (entries / "kettle.png").write_bytes(PIXEL)
    (entries / "settings.txt").write_text("the loft's settings")
    (entries / "runs.html").write_text("<script>alert(1)</script>")
    (entries / "runs.svg").write_text('<svg xmlns="http://www.w3.org/2000/svg" onload="alert(1)"></svg>')
    for log in CASES.glob("*.csv"):
        shutil.copy(log, entries / log.name)
    if case not in SETTINGS:
        shutil.copy(CASES / case, entries / case)
    if case == "prose.md":
        shutil.copy(CASES / "complete.md", entries / "complete.md")
    return in_order(read_journal(root)[1])


@pytest.mark.parametrize("case", ENTRIES + SETTINGS)
def test_case(case: str, tmp_path: Path) -> None:
    problems = problems_of(tmp_path, case)
    found = Counter((problem.line, problem.code) for problem in problems)
    wanted = expected((CASES / case).read_text(encoding="utf-8"))
    assert found == wanted, (
        f"not found: {sorted((wanted - found).elements())}; not expected: {sorted((found - wanted).elements())}\n"
        + as_text(problems)
    )


@pytest.mark.parametrize("case", ENTRIES + SETTINGS)
def test_every_problem_says_what_and_points_into_its_file(case: str, tmp_path: Path) -> None:
    for problem in problems_of(tmp_path, case):
        assert problem.file_name == f"entries/{case}"
        assert problem.message[0].islower() or not problem.message[0].isalpha()
        assert not problem.message.endswith(".")
        assert problem.place is not None
        span = problem.place.span
        assert 0 <= span.start <= span.end <= len(problem.place.source.text)


@pytest.mark.parametrize("case", ENTRIES + SETTINGS)
def test_every_problem_says_what_to_write_instead(case: str, tmp_path: Path) -> None:
    """In its hint, or in its message where that has an example."""
    for problem in problems_of(tmp_path, case):
        assert problem.hint.endswith((".", "?")) or " such as " in problem.message, problem.full_message


def test_a_reading_is_repeated_in_the_units_it_was_written_in(tmp_path: Path) -> None:
    hot = [p.message for p in problems_of(tmp_path, "sense.md") if p.code == "sample-hot"]
    assert "`boil.before.gravity: 1.044 at 123 degF` was read in a hot sample" in hot


@pytest.mark.parametrize(
    ("case", "text", "hint"),
    [
        ("sense.md", "kettle", "Name a reading as the entry does, such as boil.before.volume."),
        (
            "sense.md",
            "nobody's sugar",
            (
                "Did you mean candy sugar? If not, write what it brings: extract_as_is: 70 %, or extract_as_is: 0 % if it brings none. "
                "Hops stand in `boil.hops`."
            ),
        ),
        ("words.md", "stired", "Did you mean stirred? It is one of: none, stirred, recirculated."),
    ],
)
def test_only_what_may_stand_there_is_suggested(case: str, text: str, hint: str, tmp_path: Path) -> None:
    assert hint in {p.hint for p in problems_of(tmp_path, case) if p.place and p.place.text == text}


def _codes() -> Iterator[str]:
    for case in ENTRIES + SETTINGS:
        yield from (code for _, code in expected((CASES / case).read_text(encoding="utf-8")))


def test_every_rule_that_a_text_can_break_has_a_case() -> None:
    covered = set(_codes())
    elsewhere = (
        ABOUT_FILES
        | ABOUT_LINKS
        | ABOUT_LOGS
        | ABOUT_OUTPUT
        | ABOUT_THEMES
        | ABOUT_FIGURES
        | ABOUT_BALANCE
        | ABOUT_LIMITS
    )
    assert set(RULES) - covered - elsewhere == set(), "rules without a case in cases/, and in none of the sets ABOUT_…"
    assert covered - set(RULES) == set(), "cases of rules that are gone"
    assert elsewhere - set(RULES) == set(), "exceptions that are gone"


@pytest.mark.parametrize(
    ("misspelt", "meant"),
    [
        ("ferment", "fermenter"),
        ("volumes", "volume"),
        ("wieght", "weight"),
        ("firstwort", "first_wort"),
        ("methods", "method"),
        ("alfa", "alpha"),
        ("Title", "title"),
        ("temperatur", "temperature"),
    ],
)
def test_an_unknown_field_of_an_entry_names_the_nearest(misspelt: str, meant: str, tmp_path: Path) -> None:
    found = [p for p in problems_of(tmp_path, "fields.md") if p.place and p.place.text == misspelt]
    assert [p.code for p in found] == ["unknown-field"]
    assert f"Did you mean `{meant}`?" in found[0].hint


@pytest.mark.parametrize(
    ("case", "misspelt", "meant"),
    [
        ("brewery.yaml", "nam", "name"),
        ("brewery.yaml", "calibrated", "calibrated_at"),
        ("brewery.yaml", "factor", "wort_factor"),
        ("brewery.yaml", "masch_tun", "mash_tun"),
        ("brewery.yaml", "lost", "loss"),
        ("malts.yaml", "extrakt", "extract"),
    ],
)
def test_an_unknown_setting_names_the_nearest(case: str, misspelt: str, meant: str, tmp_path: Path) -> None:
    found = [p for p in problems_of(tmp_path, case) if p.place and p.place.text == misspelt]
    assert [p.code for p in found] == ["unknown-field"]
    assert f"Did you mean `{meant}`?" in found[0].hint


def test_a_repeated_field_shows_the_first_too(tmp_path: Path) -> None:
    again = next(p for p in problems_of(tmp_path, "repeated-field.md") if p.line == 9)
    assert again.expected_by is not None
    assert (again.expected_by.line, again.expected_by.column) == (3, 1)


@pytest.mark.parametrize(
    ("name", "called"),
    [
        ("entries/01.md", "the entry"),
        ("entries/brewery.yaml", "brewery.yaml"),
        ("themes/mine/theme.yaml", "theme.yaml"),
    ],
)
def test_an_unknown_field_at_the_top_is_told_of_the_file_it_stands_in(name: str, called: str) -> None:
    source = Source(name, "onn: almanac\n")
    node, _ = read_yaml(source)
    assert isinstance(node, Mapping)
    context = Context(source)
    read_fields(Brewery, node, "", context)
    assert [problem.message for problem in context.problems] == [f"{called} has no field `onn`"]

"""Whatever happens to an entry's bytes or lines, reading it never raises, and every problem points into its file."""

from pathlib import Path

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from journal.figures import figures_of
from journal.figures.impossible import find_impossible
from journal.problems import Problem, Source
from journal.problems.show import as_json, as_lines, as_text
from journal.reading import Brewery, Malts, read_entry, read_journal

CASES = Path(__file__).parent / "cases"
COMPLETE = (CASES / "complete.md").read_text(encoding="utf-8")
LINES = COMPLETE.split("\n")
#: What breaks YAML, quantities and Markdown, to be strewn over an entry.
SIGNS = ["\t", ":", "- ", "[", "]", "{", "}", "&a ", "*a", "!t ", "'", '"', "#", "|", "---\n", "\n", "±", ",", "?", "%"]
SIGNS += [
    "0",
    "-",
    "1e9",
    "nan",
    " at 999 degC",
    "~",
    "null",
    "\u2028",
    "\x85",
    "\ufeff",
    "😀",
    "![](",
    "[x](",
    "<",
    "\x0c",
]


def hold(problems: list[Problem], source: Source) -> None:
    for problem in problems:
        assert problem.place is None or problem.place.source.text == source.text
        if problem.place:
            span = problem.place.span
            assert 0 <= span.start <= span.end <= len(source.text)
            assert 1 <= problem.line <= source.text.count("\n") + 1
    for show in (as_text, as_lines, as_json):
        assert isinstance(show(problems), str)


def check(text: str) -> None:
    source = Source("entries/x.md", text)
    batch, problems = read_entry(source)
    hold(problems, source)
    if batch is not None:
        hold(find_impossible(batch, Brewery(), figures_of(batch, Brewery(), Malts())), source)
    else:
        assert problems, "an entry that can't be read has a reason"


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(st.integers(0, len(COMPLETE)), st.sampled_from(SIGNS)), min_size=1, max_size=3))
def test_signs_strewn_over_an_entry(changes: list[tuple[int, str]]) -> None:
    text = COMPLETE
    for at, sign in changes:
        text = text[:at] + sign + text[at:]
    check(text)


@settings(max_examples=40, deadline=None)
@given(st.lists(st.sampled_from(LINES), max_size=30))
@example([])
@example(["---", "---"])
@example(["---", "batch: 1", "? a", "---"])
def test_lines_in_any_order(lines: list[str]) -> None:
    check("\n".join(["---", *lines, "---", "prose"]))


@settings(max_examples=40, deadline=None)
@given(st.text(st.characters(exclude_categories=["Cs"]), max_size=60))
@example("a: 'x\ny'\n")
@example("%YAML 1.2\n")
def test_any_text_as_front_matter(text: str) -> None:
    check(f"---\n{text}\n---\n")


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    st.integers(0, len(COMPLETE.encode()) - 1),
    st.binary(min_size=1, max_size=4),
    st.sampled_from(["x.md", "brewery.yaml", "malts.yaml"]),
)
def test_bytes_changed_in_any_file(tmp_path: Path, at: int, put: bytes, name: str) -> None:
    entries = tmp_path / "entries"
    entries.mkdir(exist_ok=True)
    for settings_file in ("brewery.yaml", "malts.yaml"):
        (entries / settings_file).write_bytes((CASES / "settings" / settings_file).read_bytes())
    (entries / "x.md").write_text(COMPLETE, encoding="utf-8")
    content = (entries / name).read_bytes()
    at %= len(content)
    (entries / name).write_bytes(content[:at] + put + content[at + len(put) :])
    journal, problems = read_journal(tmp_path)
    for problem in problems:
        if problem.place:
            span = problem.place.span
            assert 0 <= span.start <= span.end <= len(problem.place.source.text)
    for batch in journal.batches:
        figures_of(batch, journal.brewery, journal.malts)


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    st.lists(
        st.sampled_from(
            ["[a]", "(", ")", "b.md", "![", "]", "<", ">", "\n", "http://", "//", "[", " ", "|", "\\", "%0"]
        )
    )
)
def test_any_prose(tmp_path: Path, pieces: list[str]) -> None:
    (tmp_path / "entries").mkdir(exist_ok=True)
    text = "---\nbatch: 1\ntitle: T\nbrewed: 2026-01-01\n---\n" + "".join(pieces)
    (tmp_path / "entries" / "x.md").write_text(text, encoding="utf-8")
    hold(read_journal(tmp_path)[1], Source("entries/x.md", text))


@pytest.mark.parametrize("cut", range(0, len(COMPLETE), 97))
def test_an_entry_half_saved(cut: int) -> None:
    check(COMPLETE[:cut])

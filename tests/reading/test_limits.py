"""What no brewer writes is refused by name, and costs no more than what one does."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import pytest

from journal.problems import Severity, Source
from journal.publishing import build, understand
from journal.reading import read_entry
from journal.reading.logs.header import MOST_COLUMNS, cell_spans
from journal.reading.values import MOST_IN_A_LIST, MOST_READINGS

HEAD = "---\nbatch: {0}\ntitle: Batch\nbrewed: 2026-01-01\n"
LISTS = {
    "grains": ("grains: [{}]", "{malt: pale malt, weight: 4 kg}", MOST_IN_A_LIST),
    "mash.rests": ("mash: {{liquor: 13 L, rests: [{}]}}", "66 degC for 1 min", MOST_IN_A_LIST),
    "boil.hops": ("boil: {{hops: [{}]}}", "{hop: East Field, weight: 1 g}", MOST_IN_A_LIST),
    "tags": ("tags: [{}]", "one", MOST_IN_A_LIST),
    "readings": ("readings: [{}]", "{at: 2026-01-02, gravity: 1.020}", MOST_READINGS),
}


@pytest.mark.parametrize("path", LISTS)
@pytest.mark.parametrize("beyond", [0, 1, 2000])
def test_a_list_has_so_many_lines_at_the_most(path: str, beyond: int) -> None:
    form, line, most = LISTS[path]
    text = HEAD.format(1) + form.format(", ".join([line] * (most + beyond))) + "\n---\n"
    _, problems = read_entry(Source("entries/1.md", text))
    told = [(p.path, p.line) for p in problems if p.code == "list-too-long"]
    assert told == ([(path, 5)] if beyond else [])


@pytest.mark.parametrize(
    "lines",
    [
        ["no grain at all", "{malt: pale malt, weight: 4 kg}", "{malt: wheat malt, weight: 1 kg}"],
        ["{malt: pale malt, weight: 4 kg}", "", "[]", "{malt: wheat malt, weight: 1 kg, share: }"],
        ["{malt: pale malt, weight: 4 kg}", "{malt: wheat malt, weight: 1 kg}", "no grain at all"],
    ],
)
def test_each_line_that_could_be_read_stands_in_its_own_place(lines: list[str]) -> None:
    """Whatever could not be read before it: who asks where the second grain stands is led to that one."""
    text = HEAD.format(1) + "grains:\n" + "".join(f"- {line}\n" for line in lines) + "---\n"
    batch, _ = read_entry(Source("entries/1.md", text))
    assert batch is not None
    assert [grain.malt for grain in batch.grains] == ["pale malt", "wheat malt"]
    for index, grain in enumerate(batch.grains):
        span = batch.places[f"grains[{index}].malt"]
        assert text[span.start : span.end] == grain.malt
    assert not [path for path in batch.places if path.startswith("grains[2]")]


@pytest.mark.parametrize(
    "line",
    [
        "," * 30_000,
        "a," * 3_000,
        '"' * 30_000,
        '"a",' * 3_000,
        '"a,' * 3_000,
        "time (min),temperature (degC)" + ",x" * 3_000,
    ],
)
@pytest.mark.parametrize("delimiter", [",", ";", "\t"])
def test_a_wide_line_is_cut_in_as_many_steps_as_it_has_cells(line: str, delimiter: str) -> None:
    """By the count of what is made and not by a clock: beyond the most columns nothing is looked at."""
    spans = cell_spans(line.replace(",", delimiter), delimiter)
    assert len(spans) <= MOST_COLUMNS + 1
    assert all(before.end <= after.start for before, after in pairwise(spans))


def test_batches_that_differ_in_capitals_alone_are_told_of_and_built(tmp_path: Path) -> None:
    (tmp_path / "entries").mkdir()
    for number, batch in enumerate(("1A", "1a", "1-B")):
        (tmp_path / "entries" / f"{number}.md").write_text(HEAD.format(batch) + "---\n", "utf-8")
    found = [(p.severity, p.file_name) for p in understand(tmp_path).problems if p.code == "batch-like-another"]
    assert found == [(Severity.WARNING, "entries/1.md")]
    assert build(tmp_path, tmp_path / "site").published

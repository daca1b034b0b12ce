"""A fault of the program costs the page it touches: it is told, the rest is made, and the next build tries again."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from publishing.test_build import ENTRY, files

from journal.cli import main
from journal.publishing import build, understand
from journal.publishing.cache import FileCache

BATCHES = 4


def journal_in(root: Path) -> Path:
    (root / "entries").mkdir(parents=True)
    for number in range(1, BATCHES + 1):
        (root / "entries" / f"{number:02d}.md").write_text(ENTRY.format(number=number), "utf-8")
    return root


@pytest.fixture
def journal(tmp_path: Path) -> Path:
    return journal_in(tmp_path / "journal")


@pytest.fixture(scope="module")
def clean(tmp_path_factory: pytest.TempPathFactory) -> dict[str, bytes]:
    """The site of that journal where nothing fails."""
    root = journal_in(tmp_path_factory.mktemp("clean") / "journal")
    assert build(root, root / "site").published
    return files(root / "site")


def failing(real: Callable[..., Any], wanted: Callable[..., bool]) -> Callable[..., Any]:
    def instead(*given: Any, **named: Any) -> Any:
        if wanted(*given):
            raise ZeroDivisionError("by nothing at all")
        return real(*given, **named)

    return instead


def spoil(monkeypatch: pytest.MonkeyPatch, path: str, wanted: Callable[..., bool] = lambda *_: True) -> None:
    module, name = path.rsplit(".", 1)
    real = getattr(__import__(module, fromlist=[name]), name)
    monkeypatch.setattr(path, failing(real, wanted))


@pytest.mark.everyday(1)
@pytest.mark.parametrize(
    ("path", "wanted", "touched"),
    [
        ("journal.pages.contents.batch_model", lambda _index, batch: batch.id == "3", {"batches/3.html"}),
        ("journal.pages.contents.compare_model", lambda _index, pair, *_: pair.first.id == "2", {"compare/2-3.html"}),
        ("journal.pages.contents.trends_model", lambda *_: True, {"trends.html"}),
        ("journal.publishing.site.journal_json", lambda *_: True, {"data/journal.json"}),
        (
            "journal.publishing.site.search_files",
            lambda *_: True,
            {"search/words.js", "search/prose-0.js", "search/how-to.js"},
        ),
    ],
    ids=["page", "comparison", "page of the record", "data file", "search"],
)
def test_it_costs_the_page_it_touches_and_is_told_until_it_is_mended(
    path: str,
    wanted: Callable[..., bool],
    touched: set[str],
    journal: Path,
    clean: dict[str, bytes],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    with monkeypatch.context() as patch:
        spoil(patch, path, wanted)
        for _ in range(2):
            with FileCache(journal, journal.parent / "cache") as memory:
                outcome = build(journal, journal / "site", memory=memory)
            told = [problem for problem in outcome.problems if problem.code == "internal-fault"]
            assert [("ZeroDivisionError: by nothing at all" in fault.message) for fault in told] == [True]
            site = files(journal / "site")
            assert {name for name in clean if site.get(name) != clean[name]} == touched
            assert all(b"A fault of the program" in site[name] for name in touched if name in site)
    with FileCache(journal, journal.parent / "cache") as memory:
        assert not [p for p in build(journal, journal / "site", memory=memory).problems if p.code == "internal-fault"]
    assert files(journal / "site") == clean


@pytest.mark.everyday(1)
@pytest.mark.parametrize(
    ("path", "number"),
    [
        ("journal.publishing.understanding.figures_of", 0),
        ("journal.publishing.understanding.find_odd", 0),
        ("journal.history.fold.judge_batch", 0),
        ("journal.publishing.understanding.find_impossible", 0),
    ],
)
@pytest.mark.parametrize("workers", [1, pytest.param(2, marks=pytest.mark.long)])
def test_a_batch_that_cant_be_worked_out_is_set_aside(
    path: str, number: int, workers: int, journal: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("journal.publishing.worker_pool._WORTH_SHARING", 2)
    monkeypatch.setattr("journal.publishing.worker_pool.processors", lambda: workers)
    spoil(monkeypatch, path, lambda *given: given[number].id in {"2", "4"})
    for _ in range(2):
        with FileCache(journal, journal.parent / "cache") as memory:
            outcome = build(journal, journal / "site", memory=memory)
        told = [(p.code, p.file_name) for p in outcome.problems if p.code == "internal-fault"]
        assert told == [("internal-fault", "entries/02.md"), ("internal-fault", "entries/04.md")]
        assert outcome.published
    assert outcome.batches == BATCHES - 2
    assert "A fault of the program" in (journal / "site" / "batches" / "2.html").read_text("utf-8")


def test_a_fault_in_reading_costs_one_entry(journal: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    spoil(monkeypatch, "journal.reading.collect.check_entry", lambda batch, *_: batch.id == "2")
    record = understand(journal)
    assert [(p.code, p.file_name) for p in record.problems if p.code == "internal-fault"] == [
        ("internal-fault", "entries/02.md")
    ]
    assert len(record.batches) == BATCHES - 1
    assert build(journal, journal / "site").published


@pytest.mark.long
def test_a_record_that_cant_be_told_leaves_the_batches_their_pages(
    journal: Path, clean: dict[str, bytes], monkeypatch: pytest.MonkeyPatch
) -> None:
    spoil(monkeypatch, "journal.publishing.understanding.history_of")
    outcome = build(journal, journal / "site")
    assert [p.code for p in outcome.problems if p.code == "internal-fault"] == ["internal-fault"]
    site = files(journal / "site")
    assert site.keys() == clean.keys()
    assert [name for name in clean if name.startswith("batches/") and site[name] != clean[name]] == []


def test_the_commands_say_so_and_end_with_1(journal: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(journal)
    with monkeypatch.context() as patch:
        spoil(patch, "journal.publishing.understanding.figures_of", lambda batch, *_: batch.id == "2")
        for command in ("check", "build"):
            result = CliRunner().invoke(main, [command])
            assert result.exit_code == 1
            assert "internal-fault" in result.output
    spoil(monkeypatch, "journal.cli.explain.record_of")
    result = CliRunner().invoke(main, ["explain", "1"])
    assert (result.exit_code, result.exception.__class__) == (1, SystemExit)
    assert "a fault of the program: ZeroDivisionError: by nothing at all" in result.output


def test_gravities_that_cant_both_be_are_told_and_built(tmp_path: Path) -> None:
    """Alcohol below zero, in two batches that are compared."""
    (tmp_path / "entries").mkdir()
    for number in (1, 2):
        text = ENTRY.format(number=number).replace("18.5 L, gravity: 1.045}", "18.5 L, gravity: 1.000}", 1)
        text = text.replace("title:", "readings: [{at: 2026-02-01, gravity: 1.010}]\ntitle:", 1)
        (tmp_path / "entries" / f"{number}.md").write_text(text, "utf-8")
    outcome = build(tmp_path, tmp_path / "site")
    assert outcome.published
    assert "internal-fault" not in {problem.code for problem in outcome.problems}
    assert "gravity-rises" in {problem.code for problem in outcome.problems}

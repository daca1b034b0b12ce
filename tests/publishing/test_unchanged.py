"""Where no file of a journal has changed since its site was made, nothing of it is understood again."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from journal.problems import Problem
from journal.publishing import Broken, build
from journal.publishing.cache import FileCache
from journal.publishing.checked import CheckedJournal, check_journal
from journal.publishing.route import BuildOutcome

ENTRY = """\
---
batch: 1
title: One
brewed: 2026-10-03
grains: [{malt: pale malt, weight: 4.20 kg}]
mash: {liquor: 13.5 L, log: mash.csv}
---

![The kettle](kettle.png)
"""
PICTURE = b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR\0\0\0\x40\0\0\0\x20\x08\x02\0\0\0\xfc\x18\xed\xa3\0\0\0\0IEND\xaeB`\x82"


@pytest.fixture
def journal(tmp_path: Path) -> Path:
    root = tmp_path / "journal"
    (root / "entries").mkdir(parents=True)
    (root / "entries" / "01.md").write_text(ENTRY, "utf-8")
    (root / "entries" / "kettle.png").write_bytes(PICTURE)
    (root / "entries" / "mash.csv").write_text(
        "time,temperature\n2026-10-03 10:00,66\n2026-10-03 10:10,66.5\n", "utf-8"
    )
    (root / "themes" / "own").mkdir(parents=True)
    (root / "themes" / "own" / "theme.yaml").write_text("on: notebook\n", "utf-8")
    (root / "themes" / "own" / "own.css").write_text("p {color: green}\n", "utf-8")
    return root


def _build(root: Path, **how: Any) -> BuildOutcome:
    with FileCache(root, root.parent / "cache") as memory:
        return build(root, root / "site", memory=memory, **how)


def _check(root: Path) -> CheckedJournal:
    with FileCache(root, root.parent / "cache") as memory:
        return check_journal(root, memory)


@pytest.fixture
def understood(monkeypatch: pytest.MonkeyPatch) -> list[Path]:
    """Every journal that is understood, as often as it is."""
    import journal.publishing.anew  # noqa: PLC0415  # loaded before its name is changed
    import journal.publishing.understanding as module  # noqa: PLC0415

    found, understand = [], module.understand

    def noted(root: Path, *given: Any, **more: Any) -> Any:
        found.append(root)
        return understand(root, *given, **more)

    monkeypatch.setattr(module, "understand", noted)
    monkeypatch.setattr(journal.publishing.anew, "understand", noted)
    return found


def test_an_unchanged_journal_is_understood_once(journal: Path, understood: list[Path]) -> None:
    first = _build(journal)
    second = _build(journal)
    assert len(understood) == 1
    assert (second.batches, second.problems, second.files) == (first.batches, first.problems, first.files)
    assert (len(first.changed), second.changed) == (first.files, frozenset())
    checked = _check(journal)
    assert len(understood) == 1
    assert (checked.problems, checked.batches, list(checked.logs_of)) == (first.problems, 1, ["entries/01.md"])


def _dated_otherwise(root: Path) -> None:
    os.utime(root / "entries" / "01.md", (1, 1))


def test_a_date_alone_changes_nothing(journal: Path, understood: list[Path]) -> None:
    _build(journal)
    _dated_otherwise(journal)
    _build(journal)
    assert len(understood) == 1


@pytest.mark.everyday(3)
@pytest.mark.parametrize(
    "change",
    [
        lambda root: (root / "entries" / "01.md").write_text(ENTRY.replace("13.5", "13.6"), "utf-8"),
        lambda root: (root / "entries" / "02.md").write_text(ENTRY.replace("batch: 1", "batch: 2"), "utf-8"),
        lambda root: (root / "entries" / "brewery.yaml").write_text("name: Marram\n", "utf-8"),
        lambda root: (root / "entries" / "mash.csv").write_text("time,temperature\n2026-10-03 10:00,67\n", "utf-8"),
        lambda root: (root / "entries" / "kettle.png").write_bytes(PICTURE.replace(b"\x40", b"\x50", 1)),
        lambda root: (root / "entries" / "kettle.png").unlink(),
        lambda root: (root / "themes" / "own" / "own.css").write_text("p {color: red}\n", "utf-8"),
        lambda root: (root / "site" / "index.html").unlink(),
        lambda root: (root / "site" / "batches" / "1.html").write_text("", "utf-8"),
    ],
    ids=["reading", "entry", "settings", "log", "picture", "no picture", "theme", "page gone", "page emptied"],
)
def test_any_change_of_a_file_is_seen(change: Callable[[Path], object], journal: Path, understood: list[Path]) -> None:
    _build(journal)
    change(journal)
    _build(journal)
    assert len(understood) == 2


def test_another_look_is_another_site(journal: Path, understood: list[Path]) -> None:
    _build(journal)
    assert _build(journal, theme="own").changed
    assert _build(journal, broken=Broken.SHOWN).published
    assert len(understood) == 3


def test_what_changes_while_it_is_understood_is_understood_again(
    journal: Path, monkeypatch: pytest.MonkeyPatch, understood: list[Path]
) -> None:
    import journal.publishing.anew as module  # noqa: PLC0415

    entry, noted = journal / "entries" / "01.md", module.understand

    def saved_meanwhile(*given: Any, **more: Any) -> Any:
        record = noted(*given, **more)
        entry.write_text(ENTRY.replace("title: One", "title: Two"), "utf-8")
        return record

    with monkeypatch.context() as patch:
        patch.setattr(module, "understand", saved_meanwhile)
        _build(journal)
    _build(journal)
    assert len(understood) == 2
    assert "Two" in (journal / "site" / "index.html").read_text("utf-8")


def test_a_log_beside_an_entry_is_told_with_it(journal: Path) -> None:
    (journal / "entries" / "mash.csv").write_text("time,temperature\nnever,66\n", "utf-8")
    checked = _check(journal)
    of_log: list[Problem] = [problem for problem in checked.problems if problem.file_name == "entries/mash.csv"]
    assert of_log
    assert checked.logs_of["entries/01.md"] == {"entries/mash.csv"}

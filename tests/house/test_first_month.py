"""The README's first month: each run prints what it shows."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from house.shown import README, run, shown


def test_each_run_of_its_first_month_prints_what_it_shows(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """One after the other in an empty folder; `…` stands for anything, and a comment before a run says what was mistyped."""
    monkeypatch.chdir(tmp_path)
    (entry,) = shown(README, "markdown")
    first = tmp_path / "entries" / "01-first.md"
    runs = re.findall(
        r"(?:^<!-- (\S+) → (\S+) -->\n)?^```console\n\$ ([^\n]+)\n(.*?)^```", README, re.DOTALL | re.MULTILINE
    )
    assert len(runs) >= 7
    for right, wrong, command, expected in runs:
        if first.exists():
            first.write_text(entry.replace(right, wrong) if right else entry, "utf-8")
        printed = run(command)
        assert re.fullmatch(re.escape(expected).replace("…", ".*"), printed, re.DOTALL), f"{command} printed\n{printed}"

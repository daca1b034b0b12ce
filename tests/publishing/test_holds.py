"""A short, seeded share of the long runs that try what strangers give the program; `python tests/long/run.py hold` is the whole."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

LONGER = {"journals": 6, "themes": 2, "logs": 15, "served": 1}
LONG = Path(__file__).parents[1] / "long" / "run.py"


@pytest.mark.parametrize(
    ("run", "many"),
    [
        ("pictures", 150),
        ("revisions", 3),
        *(pytest.param(run, many, marks=pytest.mark.long) for run, many in LONGER.items()),
    ],
)
@pytest.mark.skipif(sys.platform == "win32", reason="signals, links and limits as POSIX has them")
def test_nothing_fails(run: str, many: int) -> None:
    ran = subprocess.run(
        [sys.executable, LONG, run, "--many", str(many), "--seed", "7"], capture_output=True, text=True, check=False
    )
    assert (ran.returncode, ran.stderr) == (0, ""), ran.stderr
    report = ran.stdout.splitlines()[1:]
    assert report
    # faults are written large
    assert [
        line for line in report if any(word.isupper() and len(word) > 2 for word in line.split()) and "SIG" not in line
    ] == []

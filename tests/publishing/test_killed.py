"""A short share of the long run `kills`: builds with worker processes, ended at random moments."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

LONG = Path(__file__).parents[1] / "long" / "run.py"


@pytest.mark.long
@pytest.mark.skipif(sys.platform != "linux", reason="only Linux lets two folders change places")
def test_a_build_ended_anywhere_leaves_the_old_site_or_the_new_and_nobody_behind() -> None:
    ran = subprocess.run(
        [sys.executable, LONG, "kills", "--many", "3", "--seed", "7"], capture_output=True, text=True, check=False
    )
    assert ran.returncode == 0, ran.stderr
    (report,) = ran.stdout.splitlines()[1:]
    found = dict(part.rsplit(" ", 1) for part in report.split(": ", 1)[1].split(", "))
    assert {"old", "new"} & set(found), report
    # faults are written large
    assert [word for word in found if word.isupper() or word.startswith("SAID")] == [], report

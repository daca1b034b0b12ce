"""Builds of a whole journal, with worker processes, ended by SIGKILL at random moments over an existing site."""

from __future__ import annotations

import os
import random
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

from build.test_output import seen

DEFAULT = 200
PROJECT = Path(__file__).parents[2]
WORTBOOK = Path(sys.executable).with_name("wortbook")
#: Seconds that workers of an ended build are given to end.
_GRACE = 5.0


def _command(root: Path) -> list[str | Path]:
    return [WORTBOOK, "build", "--keep-going", "--out", root / "site"]


def _entries(root: Path) -> dict[str, bytes]:
    return {str(path): path.read_bytes() for path in sorted((root / "entries").rglob("*")) if path.is_file()}


def _set_name(root: Path, name: str) -> None:
    """Another name of the brewery: it stands on every page."""
    text = (PROJECT / "entries" / "brewery.yaml").read_text("utf-8").splitlines()
    lines = [f"name: {name}" if line.startswith("name:") else line for line in text]
    (root / "entries" / "brewery.yaml").write_text("\n".join(lines) + "\n", "utf-8")


def _orphans(session: int) -> bool:
    """Whether processes of a session are left after the grace."""
    for _ in range(int(_GRACE / 0.1)):
        found = subprocess.run(["ps", "-o", "stat=", "-s", str(session)], capture_output=True, text=True, check=False)
        if not [state for state in found.stdout.split() if not state.startswith("Z")]:
            return False
        time.sleep(0.1)
    return True


def run(many: int, seed: int) -> Iterator[str]:
    """The journal is named one way and the other in turn; each trial ends one build, and lets the next one mend."""
    chance, found = random.Random(seed), Counter[str]()
    with tempfile.TemporaryDirectory(prefix="wortbook-kills-") as folder:
        root, sites = Path(folder), []
        shutil.copytree(PROJECT / "entries", root / "entries")
        names, took = ("Old House", "New House"), 0.0
        for name in (*names, *names):
            _set_name(root, name)
            started = time.monotonic()
            subprocess.run(_command(root), cwd=root, capture_output=True, check=False)
            took = time.monotonic() - started
            sites.append(seen(root / "site"))
        now = 1
        for _ in range(many):
            _set_name(root, names[1 - now])
            entries = _entries(root)
            process = subprocess.Popen(
                _command(root), cwd=root, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, start_new_session=True
            )
            time.sleep(chance.random() * took)
            os.kill(process.pid, signal.SIGKILL)
            left_over = _orphans(process.pid)
            said, _ = process.communicate()
            site = seen(root / "site")
            found["old" if site == sites[now] else "new" if site == sites[1 - now] else "HALF"] += 1
            found["ENTRIES TOUCHED"] += entries != _entries(root)
            found["PROCESSES LEFT"] += left_over
            found["TRACEBACK"] += b"Traceback" in said
            subprocess.run(_command(root), cwd=root, capture_output=True, check=False)
            now = 1 - now
            found["NOT MENDED"] += seen(root / "site") != sites[now]
            found["LEFT BESIDE"] += (root / ".site.wortbook").exists()
    yield f"{many} builds ended: {', '.join(f'{word} {count}' for word, count in sorted(found.items()))}"

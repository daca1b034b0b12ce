"""Builds of a whole journal, with worker processes, ended by a signal at random moments over an existing site."""

from __future__ import annotations

import os
import random
import signal
import subprocess
import tempfile
import time
from collections import Counter
from collections.abc import Iterator
from itertools import count
from pathlib import Path
from unittest.mock import patch

from long.templates import read_once
from publishing.test_build import ENTRY
from publishing.test_output import seen

from journal.publishing import build
from journal.publishing.cache import FileCache
from journal.publishing.manifest import MANIFEST

DEFAULT = 300
#: How they are ended, in turn: killed, asked to end, and by Ctrl-C.
_WAYS = (signal.SIGKILL, signal.SIGTERM, signal.SIGINT)
#: Enough that there are two lots for two workers; a large journal only takes longer.
_ENTRIES = 6
#: Seconds that workers of an ended build are given to end.
_GRACE = 5.0


def _begin(root: Path) -> int:
    """A build in a process of its own, forked, so that 200 of them need not load the program 200 times."""
    child = os.fork()
    if child:
        return child
    status = 1
    try:
        # a shell that puts a run into the background has it ignore Ctrl-C
        signal.signal(signal.SIGINT, signal.default_int_handler)
        os.setsid()
        said = os.open(root / "said", os.O_WRONLY | os.O_CREAT | os.O_TRUNC)
        os.dup2(said, 1)
        os.dup2(said, 2)
        with (
            patch("journal.publishing.worker_pool._WORTH_SHARING", 4),
            FileCache(root, root.parent / "cache") as memory,
        ):
            status = 0 if build(root, root / "site", memory=memory).published else 2
    finally:
        os._exit(status)


def _build(root: Path) -> None:
    if os.waitpid(_begin(root), 0)[1]:
        raise AssertionError(f"a build failed: {(root / 'said').read_text('utf-8')}")


def _entries(root: Path) -> dict[str, bytes]:
    return {str(path): path.read_bytes() for path in sorted((root / "entries").rglob("*")) if path.is_file()}


def _set_name(root: Path, name: str) -> None:
    """Another name of the brewery: it stands on every page."""
    (root / "entries" / "brewery.yaml").write_text(f"name: {name}\n", "utf-8")


def _left(session: int) -> int:
    """How many processes of a session are there."""
    found = subprocess.run(["ps", "-o", "stat=", "-s", str(session)], capture_output=True, text=True, check=False)
    return len([state for state in found.stdout.split() if not state.startswith("Z")])


def _ended(session: int) -> bool:
    """Whether all processes of a session end within the grace."""
    for _ in range(int(_GRACE / 0.1)):
        if not _left(session):
            return True
        time.sleep(0.1)
    return False


def _trial(root: Path, how: signal.Signals, wait: float, old: dict[str, bytes], new: dict[str, bytes]) -> Iterator[str]:
    """End one build and let the next one mend; what was found."""
    entries = _entries(root)
    process = _begin(root)
    time.sleep(wait)
    workers = _left(process) > 1
    os.kill(process, how)
    status = os.waitpid(process, 0)[1]
    # Ctrl-C is an exception in Python, and the build's own end
    ended_by_us = os.WIFSIGNALED(status) or (how == signal.SIGINT and os.WEXITSTATUS(status) == 1)
    yield "done before" if not ended_by_us else "ended with workers" if workers else "ended without workers"
    if ended_by_us:
        yield f"by {how.name}"
    if not _ended(process):
        yield "PROCESSES LEFT"
    if (root / "said").stat().st_size:
        yield f"SAID {(root / 'said').read_text('utf-8').splitlines()[-1]}"
    site = seen(root / "site")
    yield "old" if site == old else "new" if site == new else "HALF"
    if entries != _entries(root):
        yield "ENTRIES TOUCHED"
    _build(root)
    if seen(root / "site") != new or {path.name for path in (root / "site").glob(".*")} != {MANIFEST}:
        yield "NOT MENDED"
    if (root / ".site.wortbook").exists():
        yield "LEFT BESIDE"


def run(many: int, seed: int) -> Iterator[str]:
    """The journal is named one way and the other in turn; each trial ends one build, and lets the next one mend."""
    chance, found = random.Random(seed), Counter[str]()
    with tempfile.TemporaryDirectory(prefix="wortbook-kills-") as folder, read_once():
        root, sites = Path(folder) / "journal", []
        (root / "entries").mkdir(parents=True)
        for number in range(1, _ENTRIES + 1):
            (root / "entries" / f"{number:02d}.md").write_text(ENTRY.format(number=number), "utf-8")
        build(root, root / "first")  # what is loaded now is there in all that are forked
        names, took = ("Old House", "New House"), 0.0
        for name in (*names, *names):
            _set_name(root, name)
            started = time.monotonic()
            _build(root)
            took = time.monotonic() - started
            sites.append(seen(root / "site"))
        trials = count()
        while found["ended with workers"] + found["ended without workers"] < many:
            trial = next(trials)
            _set_name(root, names[trial % 2])
            old, new = sites[1 - trial % 2], sites[trial % 2]
            found.update(_trial(root, _WAYS[trial % len(_WAYS)], chance.random() * took, old, new))
    yield f"{many} builds ended, and those done before: {', '.join(f'{word} {count}' for word, count in sorted(found.items()))}"

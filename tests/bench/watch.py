"""From a save to the refreshed page, beside a whole build: `python tests/bench/watch.py [N ...] [--runs R]`.

For generated journals of N batches (200 and 1,000 if no N is given): a journal is watched, the newest entry's prose is changed R
times, and the medians are printed of the time until its page is written and until the whole site is. It asserts nothing.
"""

from __future__ import annotations

import argparse
import tempfile
import threading
import time
from pathlib import Path
from statistics import median

from generate import generate

from journal.publishing.watch import Live, State, keep_watch


def _measured(count: int, runs: int) -> str:
    with tempfile.TemporaryDirectory(prefix="wortbook-watch-") as folder:
        root = Path(folder)
        generate(count, root)
        entry = max((root / "entries").rglob("*.md"))
        live, stop = Live(root, root / "site"), threading.Event()
        said: list[tuple[float, State]] = []
        thread = threading.Thread(
            target=keep_watch, args=(live, lambda state: said.append((time.perf_counter(), state)), stop), daemon=True
        )
        started = time.perf_counter()
        thread.start()
        while not said:
            time.sleep(0.05)
        cold = time.perf_counter() - started
        time.sleep(2.0)
        first, last = [], []
        for run in range(runs):
            heard, saved = len(said), time.perf_counter()
            entry.write_text(entry.read_text("utf-8") + f"\nMore, {run}.\n", "utf-8")
            while len(said) < heard + 2:
                time.sleep(0.005)
            first.append(said[heard][0] - saved)
            last.append(said[heard + 1][0] - saved)
            time.sleep(0.3)
        stop.set()
        thread.join(5)
    return (
        f"{count:6d} batches: first build {cold:6.1f} s; save to the entry's page {median(first):5.2f} s, "
        f"to the whole site {median(last):5.2f} s (medians of {runs})"
    )


def main() -> None:
    """The command."""
    parser = argparse.ArgumentParser(description="Time a watched journal from save to page.")
    parser.add_argument("counts", nargs="*", type=int, default=[200, 1000], metavar="N")
    parser.add_argument("--runs", type=int, default=5, metavar="R")
    given = parser.parse_args()
    for count in given.counts:
        print(_measured(count, given.runs), flush=True)


if __name__ == "__main__":
    main()

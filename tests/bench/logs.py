"""How long a logger's file of 100,000 rows takes, beside plain readers: `python tests/bench/logs.py [--runs R]`.

Prints medians, and their ratios to `csv.reader` going once over the same text and to `numpy.loadtxt` where it can read the
file at all. It asserts nothing.
"""

from __future__ import annotations

import argparse
import csv
import io
import time
from collections.abc import Callable, Iterator
from datetime import datetime, timedelta
from statistics import median

import numpy as np

from journal.problems import Source
from journal.reading.logs import read_log

ROWS = 100_000


def texts() -> Iterator[tuple[str, str, tuple[str, ...]]]:
    """What each file is, its text, and the columns that are wanted."""
    noise = np.random.default_rng(1).normal(0, 0.1, ROWS)
    mash = "".join(f"{row / 10:.1f},{66 + error:.2f}\n" for row, error in enumerate(noise))
    yield "elapsed time", "time (s),temperature (degC)\n" + mash, ("temperature",)
    start = datetime(2026, 4, 11, 17, 30)
    beer = [
        (start + timedelta(seconds=15 * row), 1.01 + 0.04 * 0.9999**row, 19 + error) for row, error in enumerate(noise)
    ]
    dated = "".join(f"{at.isoformat()},{gravity:.4f},{degrees:.2f}\n" for at, gravity, degrees in beer)
    both = ("gravity", "temperature")
    yield "dates, two columns", "time,gravity,temperature (degC)\n" + dated, both
    gaps = "".join(
        f"{at.isoformat()}+02:00;;{degrees:.2f}\n" if row % 3 else f"{at.isoformat()}+02:00;{gravity:.4f};-\n"
        for row, (at, gravity, degrees) in enumerate(beer)
    )
    yield "dates with offsets, gaps", "time;gravity;temperature (degC)\n" + gaps, both


def timed(work: Callable[[], object], runs: int) -> float:
    """The median, in seconds of this process, which others on the machine don't lengthen."""
    took = []
    for _ in range(runs):
        started = time.process_time()
        work()
        took.append(time.process_time() - started)
    return median(took)


def main() -> None:
    """The command."""
    parser = argparse.ArgumentParser(description="Time the reading of logs beside plain readers.")
    parser.add_argument("--runs", type=int, default=7, help="how many runs the medians are of")
    runs = parser.parse_args().runs
    print(f"Medians of {runs} runs, {ROWS:,} rows.")
    for title, text, wants in texts():
        ours = timed(lambda text=text, wants=wants: read_log(Source("entries/log.csv", text), wants), runs)
        floor = timed(lambda text=text: list(csv.reader(io.StringIO(text))), runs)
        line = f"{title}: {ours:.3f} s, {ours / floor:.1f} times csv.reader"
        if title == "elapsed time":
            numpys = timed(lambda text=text: np.loadtxt(io.StringIO(text), delimiter=",", skiprows=1), runs)
            line += f", {ours / numpys:.1f} times numpy.loadtxt"
        print(line)


if __name__ == "__main__":
    main()

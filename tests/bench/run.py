"""How long the commands take, beside the floor: `python tests/bench/run.py [N ...] [--runs R] [--whole]`.

Prints, for the demo journal and for generated journals of N batches (100 and 1,000 if no N is given), the medians of whole processes:
wall and CPU time, the peak memory of the largest process, and the ratios to the floor script and to a cold build; then the same
held against what is to be reached. `--whole` adds 10,000 batches and a watched journal, which takes long. It asserts nothing.

Every process is waited for with `wait4`, whose usage on Linux counts the process and all descendants it waited for: CPU time
is their sum, peak memory that of the largest one. Every run starts with the floor and has it again before the build, so that a
busy machine hits both. One build of the demo before all that is not counted: it compiles. "Cold" is an empty output folder and
nothing kept from earlier runs, for `check` of a whole journal too. The changed entry is the newest one that states a fermenter's
volume: this reading and the prose change.
"""

from __future__ import annotations

import argparse
import math
import os
import platform
import re
import shutil
import subprocess
import sys
import tempfile
import time
from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path
from statistics import median
from types import MappingProxyType

from journal.publishing.worker_pool import processors

HERE = Path(__file__).parent
PROJECT = HERE.parents[1]
WORTBOOK = Path(sys.executable).with_name("wortbook")
FLOOR, CHECK, COLD = "floor", "check", "build, cold"
UNCHANGED, CHANGED = "build, nothing changed", "build, one entry changed"
CHECK_ONE, HELP = "check, one entry", "--help"

_FERMENTER_VOLUME = re.compile(r"(?<=^fermenter:\n  volume: )\d+\.\d", re.MULTILINE)
_UNIT = {"linux": 1024, "darwin": 1}.get(sys.platform, 1024)  # of ru_maxrss, in bytes


@dataclass(frozen=True)
class Sample:
    """One process: seconds by the clock, seconds of CPU, MiB at most."""

    wall: float
    cpu: float
    memory: float


def measure(command: list[str | Path], folder: Path, settings: Mapping[str, str] = MappingProxyType({})) -> Sample:
    """Run a command in a folder, `settings` added to its environment; raises RuntimeError with what it said if it fails."""
    with tempfile.TemporaryFile() as said:
        started = time.perf_counter()
        process = subprocess.Popen(
            command,
            cwd=folder,
            env={**os.environ, **settings},
            stdout=said,
            stderr=subprocess.STDOUT,
            stdin=subprocess.DEVNULL,
        )
        _, status, usage = os.wait4(process.pid, 0)
        wall = time.perf_counter() - started
        process.returncode = os.waitstatus_to_exitcode(status)
        if process.returncode:
            said.seek(0)
            raise RuntimeError(f"{command} ended with {process.returncode}:\n{said.read().decode()[-2000:]}")
    return Sample(wall, usage.ru_utime + usage.ru_stime, usage.ru_maxrss * _UNIT / 1024**2)


class Bench:
    """One journal, and the cases in the order they are run."""

    def __init__(self, journal: Path, scratch: Path) -> None:
        self.journal = journal
        self.site, self.floor_out, self.kept = scratch / "site", scratch / "floor", scratch / "kept"
        self.newest = max(
            (path for path in (journal / "entries").rglob("*.md") if _FERMENTER_VOLUME.search(path.read_text("utf-8"))),
            key=lambda path: path.relative_to(journal).as_posix(),
        )

    def cases(self) -> Iterator[tuple[str, Callable[[], Sample]]]:
        yield FLOOR, self.floor
        yield CHECK, self.cold_check
        yield FLOOR, self.floor
        yield COLD, self.cold_build
        yield UNCHANGED, self.build
        yield CHANGED, self.changed_build
        yield CHECK_ONE, lambda: self.wortbook("check", self.newest.relative_to(self.journal))
        yield HELP, lambda: self.wortbook("--help")

    def wortbook(self, *arguments: str | Path) -> Sample:
        return measure([WORTBOOK, *arguments], self.journal, {"XDG_CACHE_HOME": str(self.kept)})

    def floor(self) -> Sample:
        shutil.rmtree(self.floor_out, ignore_errors=True)
        return measure([sys.executable, HERE / "floor.py", self.journal, self.floor_out], self.journal)

    def cold_check(self) -> Sample:
        shutil.rmtree(self.kept, ignore_errors=True)
        return self.wortbook("check")

    def build(self) -> Sample:
        return self.wortbook("build", "--out", self.site)

    def cold_build(self) -> Sample:
        shutil.rmtree(self.site, ignore_errors=True)
        shutil.rmtree(self.kept, ignore_errors=True)
        return self.build()

    def changed_build(self) -> Sample:
        text = self.newest.read_text("utf-8")
        changed = _FERMENTER_VOLUME.sub(lambda volume: f"{float(volume[0]) + 0.1:.1f}", text) + "\nOne line more.\n"
        self.newest.write_text(changed, "utf-8")
        sample = self.build()
        self.newest.write_text(text, "utf-8")
        return sample


def medians(bench: Bench, runs: int) -> dict[str, Sample]:
    """Each case's median of every measure over the runs."""
    samples: dict[str, list[Sample]] = defaultdict(list)
    for _ in range(runs):
        for name, case in bench.cases():
            samples[name].append(case())
    return {
        name: Sample(median(s.wall for s in found), median(s.cpu for s in found), median(s.memory for s in found))
        for name, found in samples.items()
    }


def table(title: str, found: dict[str, Sample]) -> str:
    """The medians as a Markdown table."""
    floor, cold = found[FLOOR], found[COLD]
    rows = [
        f"| {title} | wall, s | CPU, s | peak, MiB | wall / floor | CPU / floor | wall / cold build |",
        "| --- | ---: | ---: | ---: | ---: | ---: | ---: |",
    ]
    for name, sample in found.items():
        ratios = (sample.wall / floor.wall, sample.cpu / floor.cpu, sample.wall / cold.wall)
        shown = " | ".join(f"{ratio:.2f}" for ratio in ratios)
        rows.append(f"| {name} | {sample.wall:.2f} | {sample.cpu:.2f} | {sample.memory:.0f} | {shown} |")
    return "\n".join(rows)


def held_to_aims(found: dict[int, dict[str, Sample]]) -> str:
    """What is to be reached beside what was, as a Markdown table: `found` are medians by the number of batches."""
    rows = ["| what | measured | to reach |", "| --- | ---: | ---: |"]
    for count, cases in found.items():
        floor, cold = cases[FLOOR], cases[COLD]
        at = f"{count:,} batches"
        for what, measured, aim in (
            ("cold build, wall over the floor's", cold.wall / floor.wall, "10"),
            ("cold build, CPU over the floor's", cold.cpu / floor.cpu, "16"),
            ("nothing changed, over the cold build", cases[UNCHANGED].wall / cold.wall, "0.25"),
            ("one entry changed, over the cold build", cases[CHANGED].wall / cold.wall, "0.35"),
            ("check, wall over the floor's", cases[CHECK].wall / floor.wall, "4"),
            ("--help, s", cases[HELP].wall, "0.2"),
            ("check of one entry, s", cases[CHECK_ONE].wall, "0.3"),
        ):
            rows.append(f"| {at}: {what} | {measured:.2f} | {aim} |")
        rows.append(f"| {at}: peak memory of the largest process, MiB | {cold.memory:.0f} | 400 |")
    for few, many in pairwise(found):
        exponent = math.log(found[many][COLD].wall / found[few][COLD].wall) / math.log(many / few)
        rows.append(f"| growth exponent of the cold build, {few:,} to {many:,} batches | {exponent:.2f} | 1.08 |")
    return "\n".join(rows)


def journals(counts: list[int], scratch: Path) -> Iterator[tuple[str, int, Path]]:
    """The demo (0) and the generated journals by how many batches they have, each in a folder of its own."""
    demo = scratch / "demo"
    shutil.copytree(PROJECT / "entries", demo / "entries")
    yield f"demo, {sum(1 for _ in demo.rglob('*.md'))} batches", 0, demo
    for count in counts:
        folder = scratch / str(count)
        # a process of its own: a large parent would show in the peak memory of what it starts
        subprocess.run([sys.executable, HERE / "generate.py", str(count), folder], check=True)
        yield f"generated, {count:,} batches", count, folder


def main() -> None:
    """The command."""
    parser = argparse.ArgumentParser(description="Time the commands beside the floor script.")
    parser.add_argument(
        "counts", nargs="*", type=int, default=[100, 1000], metavar="N", help="batches of a generated journal"
    )
    parser.add_argument("--runs", type=int, default=3, help="how many runs the medians are of")
    parser.add_argument("--whole", action="store_true", help="10,000 batches and a watched journal besides")
    given = parser.parse_args()
    counts = sorted({*given.counts, 10_000} if given.whole else set(given.counts))
    machine = f"Python {platform.python_version()}, {processors()} processors, load {os.getloadavg()[0]:.1f}"
    print(f"Medians of {given.runs} {'run' if given.runs == 1 else 'runs'}; {machine}.")
    found: dict[int, dict[str, Sample]] = {}
    with tempfile.TemporaryDirectory(prefix="wortbook-bench-") as scratch:
        for title, count, journal in journals(counts, Path(scratch)):
            bench = Bench(journal, Path(scratch) / "out")
            if not found:
                bench.build()
            found[count] = medians(bench, given.runs)
            print("\n" + table(title, found[count]), flush=True)
    found.pop(0)
    print("\n" + held_to_aims(found), flush=True)
    if given.whole:
        print()
        subprocess.run([sys.executable, HERE / "watch.py", "--runs", str(given.runs)], check=True)


if __name__ == "__main__":
    main()

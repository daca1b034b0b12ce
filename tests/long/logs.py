"""Spoilt loggers' files, wide ones among them: each is told or taken, and none takes long."""

from __future__ import annotations

import random
import shutil
import tempfile
import time
import traceback
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

from long.mutants import homes
from long.mutators import spoil_bytes, spoil_cells

from journal.figures.impossible import find_impossible
from journal.problems import INTERNAL
from journal.publishing.understanding import figure_all
from journal.reading import read_journal

DEFAULT = 5_000
#: Seconds of processor time that one may take.
_SLOW = 2.0


def _wide(chance: random.Random) -> bytes:
    """Many columns, cells or quotes on a line."""
    many = chance.choice([200, 3_000, 30_000])
    sign = chance.choice([",", ";", "\t"])
    kind = chance.randrange(5)
    header = f"time (min){sign}temperature (degC)"
    if kind == 0:
        return f"{header}{sign * many}\n0{sign}66{sign * many}\n60{sign}65\n".encode()
    if kind == 1:
        return f"{header}{''.join(f'{sign}c{n}' for n in range(many))}\n0{sign}66{f'{sign}1' * many}\n".encode()
    if kind == 2:
        return f"{header}\n{sign.join(['0', '66'] * many)}\n".encode()
    if kind == 3:
        return (f"{header}\n" + "\n".join(f"{n}{sign}66" for n in range(many)) + sign * many).encode()
    return f"{header}\n0{sign}66\n".encode() + b'"' * many + b"\n"


def _spoilt(old: bytes, chance: random.Random, others: list[bytes]) -> tuple[str, bytes]:
    way = chance.choices(["wide", "cells", "bytes"], [2, 5, 3])[0]
    if way == "wide":
        wide = _wide(chance)
        return way, spoil_bytes(wide, chance, others) if chance.random() < 0.3 else wide
    return way, spoil_cells(old, chance) if way == "cells" else spoil_bytes(old, chance, others)


def _go_through(root: Path) -> str:
    journal, problems = read_journal(root)
    figures = figure_all(journal)
    for batch in journal.batches:
        problems += find_impossible(batch, journal.brewery, figures[batch.id])
    ours = [problem.message for problem in problems if problem.code == INTERNAL]
    if ours:
        raise AssertionError(ours[0])
    of_logs = any(problem.code.startswith("log-") for problem in problems)
    return "told" if of_logs else "taken"


def run(many: int, seed: int) -> Iterator[str]:
    """What came of them, the slowest, and what failed."""
    chance, came, failed, slowest = random.Random(seed), Counter[str](), Counter[str](), (0.0, "")
    all_homes = homes()
    with tempfile.TemporaryDirectory(prefix="wortbook-logs-") as folder:
        for number in range(many):
            home = chance.choice(all_homes)
            entry, log = chance.choice(home.logged)
            way, content = _spoilt(home.beside[log], chance, [home.beside[log], home.entries[entry]])
            root = Path(folder) / "journal"
            shutil.rmtree(root, ignore_errors=True)
            (root / "entries").mkdir(parents=True)
            for name, held in {**home.beside, "x.md": home.entries[entry], log: content}.items():
                (root / "entries" / name).write_bytes(held)
            started = time.process_time()
            try:
                came[f"{way} {_go_through(root)}"] += 1
            except Exception as error:  # noqa: BLE001  # whatever it is, it is what is looked for
                at = traceback.extract_tb(error.__traceback__)[-1]
                failed[f"{type(error).__name__} at {at.filename}:{at.lineno}: {str(error)[:100]}"] += 1
            slowest = max(slowest, (time.process_time() - started, f"{way}, number {number}"))
    for what, count in failed.items():
        yield f"FAILED {what}, {count} times"
    yield f"{many} logs: {'; '.join(f'{name} {count}' for name, count in sorted(came.items()))}; failed {failed.total()}"
    yield f"slowest {slowest[0]:.2f} s ({slowest[1]}){'; TOO SLOW' if slowest[0] > _SLOW else ''}"

"""Worker processes: none outlives its parent or speaks of it, and one that is killed is done without."""

from __future__ import annotations

import multiprocessing
import os
import signal
import subprocess
import sys
from collections.abc import Callable
from functools import partial

import pytest

from journal.publishing.worker_pool import ReadyProcess, WorkerPool

pytestmark = pytest.mark.skipif(
    "fork" not in multiprocessing.get_all_start_methods(), reason="without fork there are no worker processes"
)

#: Ends itself as soon as anything is done, while its workers are at what takes long to hand over.
ENDED = """
import os, signal, time
from journal.publishing.worker_pool import WorkerPool
def task():
    time.sleep(0.01)
    return bytes(100_000)
workers = WorkerPool([task] * 400)
next(workers.done(wait=True))
os.kill(os.getpid(), signal.SIGKILL)
"""


def ended(own: int, number: int) -> int:
    """Ends any process but one's own, at one task."""
    if number == 9 and os.getpid() != own:
        os.kill(os.getpid(), signal.SIGKILL)
    return number


def made(tasks: list[Callable[[], int]]) -> list[int]:
    workers = WorkerPool(tasks)
    try:
        return [value for lot in workers.done(wait=True) for value in lot]
    finally:
        workers.end()


def test_what_a_killed_process_leaves_is_done_by_whoever_asks() -> None:
    assert made([partial(ended, os.getpid(), number) for number in range(300)]) == list(range(300))


def test_processes_end_with_their_parent_and_say_nothing() -> None:
    # what is said ends when the last of those who may speak has ended
    parent = subprocess.run([sys.executable, "-c", ENDED], capture_output=True, timeout=60, check=False)
    assert (parent.returncode, parent.stdout, parent.stderr) == (-signal.SIGKILL, b"", b"")


def test_ctrl_c_is_left_to_the_parent() -> None:
    assert made([partial(_interrupted, os.getpid(), number) for number in range(40)]) == list(range(40))


def test_a_process_that_is_ready_does_what_it_is_sent() -> None:
    process: ReadyProcess[bool] = ReadyProcess(_load)
    process.begin([partial(_is_loaded, os.getpid())] * 3)
    assert [value for lot in process.done(wait=True) for value in lot] == [True] * 3
    process.end()
    assert _LOADED == []


_LOADED: list[bool] = []


def _load() -> None:
    _LOADED.append(True)


def _is_loaded(own: int) -> bool:
    return os.getpid() != own and _LOADED == [True]


def test_what_a_killed_process_that_was_ready_leaves_is_done_by_whoever_asks() -> None:
    process: ReadyProcess[int] = ReadyProcess(_load)
    process.begin([partial(ended, os.getpid(), number) for number in (8, 9, 10)])
    assert [value for lot in process.done(wait=True) for value in lot] == [8, 9, 10]
    process.begin([partial(ended, os.getpid(), 11)])
    assert [value for lot in process.done(wait=True) for value in lot] == [11]
    process.end()


def _interrupted(own: int, number: int) -> int:
    if os.getpid() != own:
        os.kill(os.getpid(), signal.SIGINT)
    return number

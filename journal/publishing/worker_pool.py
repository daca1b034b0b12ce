"""Work done by several processes at once, where the system can hand them everything they need without copying it."""

from __future__ import annotations

import gc
import multiprocessing
import os
import signal
import threading
from collections import deque
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from typing import Any, ClassVar, Generic, TypeVar

#: Fewer tasks than this are done before another process has started.
_WORTH_SHARING = 32
#: Tasks handed over at a time, as many as a batch has pages, and how many such lots may be done before anybody takes them: what is
#: done lies in memory.
_AT_A_TIME, _FAR_AHEAD = 5, 32

Made = TypeVar("Made")


class _Inherited:
    """What a process that was forked finds in the memory it was born with."""

    tasks: ClassVar[Sequence[Callable[[], Any]]] = ()


def _begin(tasks: Sequence[Callable[[], Any]]) -> None:
    _Inherited.tasks = tasks
    # Ctrl-C reaches every process of a terminal; whoever handed out the work ends it
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    threading.Thread(target=_end_with_parent, daemon=True).start()


def _end_with_parent() -> None:
    """Without this a process whose parent was killed would wait for work for ever."""
    parent = multiprocessing.parent_process()
    if parent is not None:
        parent.join()
        os._exit(1)


def _lot(tasks: Sequence[Callable[[], Made]], first: int) -> list[Made]:
    return list(_clean(tasks[first : first + _AT_A_TIME]))


def _clean(tasks: Sequence[Callable[[], Made]]) -> Iterator[Made]:
    """Tasks done in order; what they leave behind that holds itself in a circle, as templates do, goes at the end of each lot."""
    for number, task in enumerate(tasks, 1):
        yield task()
        if number % _AT_A_TIME == 0:
            gc.collect(0)


def one_by_one(tasks: Sequence[Callable[[], Made]]) -> Iterator[Made]:
    """Tasks done in order by this process, each when it is asked for."""
    gc.freeze()  # so that only what they leave behind is looked through
    return _clean(tasks)


def _done(first: int) -> list[Any]:
    return _lot(_Inherited.tasks, first)


def processors() -> int:
    """How many processors this process may use: a container or a batch queue may leave it fewer than there are."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


def has_another_processor() -> bool:
    """Whether another process can be had with all that this one has in memory, and a processor for it."""
    return "fork" in multiprocessing.get_all_start_methods() and processors() > 1


def worth_sharing(tasks: int) -> bool:
    """Whether so many tasks are done sooner by several processes."""
    return tasks >= _WORTH_SHARING and has_another_processor()


class WorkerPool(Generic[Made]):
    """Begins with the tasks at once; as many processes as there are processors do them in order.

    If one of them is killed, as a system short of memory may do, whoever asks does what is left.
    """

    def __init__(self, tasks: Sequence[Callable[[], Made]]) -> None:
        self._tasks = tasks
        self._firsts = iter(range(0, len(tasks), _AT_A_TIME))
        gc.freeze()  # so that neither this process nor another looks through what is there already, nor copies it by that
        fork = multiprocessing.get_context("fork")
        self._pool = ProcessPoolExecutor(min(processors(), -(-len(tasks) // _AT_A_TIME)), fork, _begin, (tasks,))
        self._begun: deque[tuple[int, Future[list[Made]] | None]] = deque()
        for _ in range(_FAR_AHEAD):
            self._begin_next()

    def _begin_next(self) -> None:
        first = next(self._firsts, None)
        if first is None:
            return
        try:
            self._begun.append((first, self._pool.submit(_done, first)))
        except BrokenProcessPool:
            self._begun.append((first, None))

    def done(self, *, wait: bool) -> Iterator[list[Made]]:
        """What the tasks gave, in order, lot by lot and each once; without `wait` only what is there already."""
        while self._begun and (wait or self._is_there()):
            lot = self._next_lot(*self._begun.popleft())
            self._begin_next()
            yield lot

    def _is_there(self) -> bool:
        made = self._begun[0][1]
        return made is not None and made.done()

    def _next_lot(self, first: int, made: Future[list[Made]] | None) -> list[Made]:
        try:
            return _lot(self._tasks, first) if made is None else made.result()
        except BrokenProcessPool:
            return _lot(self._tasks, first)

    def end(self) -> None:
        """Let the processes go; what they are at is done first, what they have not begun is not."""
        self._pool.shutdown(wait=True, cancel_futures=True)


class ReadyProcess(Generic[Made]):
    """One process that is begun before its tasks are known, and calls `load` meanwhile; they are sent to it, as `load` is."""

    def __init__(self, load: Callable[[], object]) -> None:
        gc.freeze()
        self._pool = ProcessPoolExecutor(1, multiprocessing.get_context("fork"), _begin, ((),))
        self._begun: deque[tuple[Callable[[], Made], Future[Made] | None]] = deque()
        self._pool.submit(load)

    def begin(self, tasks: Iterable[Callable[[], Made]]) -> None:
        """Let it do tasks, in order."""
        for task in tasks:
            try:
                self._begun.append((task, self._pool.submit(task)))
            except BrokenProcessPool:
                self._begun.append((task, None))

    def done(self, *, wait: bool) -> Iterator[list[Made]]:
        """What the tasks gave, in order, each once; without `wait` only what is there already."""
        while self._begun and (wait or self._is_there()):
            task, made = self._begun.popleft()
            try:
                yield [task() if made is None else made.result()]
            except BrokenProcessPool:
                yield [task()]

    def _is_there(self) -> bool:
        made = self._begun[0][1]
        return made is not None and made.done()

    def end(self) -> None:
        """Let the process go, as `WorkerPool` does."""
        self._pool.shutdown(wait=True, cancel_futures=True)

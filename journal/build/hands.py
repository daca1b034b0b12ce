"""Work done by several processes at once, where the system can hand them everything they need without copying it."""

from __future__ import annotations

import multiprocessing
import os
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from multiprocessing.pool import AsyncResult
from typing import Any, ClassVar, Generic, TypeVar

#: Fewer tasks than this are done before another process has started.
_WORTH_SHARING = 32
#: Tasks handed over at a time, and how many such lots may be done before anybody takes them: what is done lies in memory.
_AT_A_TIME, _FAR_AHEAD = 4, 32

Made = TypeVar("Made")


class _Mine:
    """What a process that was forked finds in the memory it was born with."""

    tasks: ClassVar[Sequence[Callable[[], Any]]] = ()


def _take(tasks: Sequence[Callable[[], Any]]) -> None:
    _Mine.tasks = tasks


def _done(first: int) -> list[Any]:
    return [task() for task in _Mine.tasks[first : first + _AT_A_TIME]]


def worth_sharing(tasks: int) -> bool:
    """Whether so many tasks are done sooner by several processes."""
    forks = "fork" in multiprocessing.get_all_start_methods()
    return forks and tasks >= _WORTH_SHARING and (os.cpu_count() or 1) > 1


class Hands(Generic[Made]):
    """Begins with the tasks at once; as many processes as there are processors do them in order."""

    def __init__(self, tasks: Sequence[Callable[[], Made]]) -> None:
        self._firsts = iter(range(0, len(tasks), _AT_A_TIME))
        self._pool = multiprocessing.get_context("fork").Pool(os.cpu_count(), _take, (tasks,))
        self._begun: deque[AsyncResult[list[Made]]] = deque()
        for _ in range(_FAR_AHEAD):
            self._begin_next()

    def _begin_next(self) -> None:
        first = next(self._firsts, None)
        if first is not None:
            self._begun.append(self._pool.apply_async(_done, (first,)))

    def done(self, *, wait: bool) -> Iterator[list[Made]]:
        """What the tasks gave, in order, lot by lot and each once; without `wait` only what is there already."""
        while self._begun and (wait or self._begun[0].ready()):
            lot = self._begun.popleft().get()
            self._begin_next()
            yield lot

    def end(self) -> None:
        """Let the processes go, whether they are done or not."""
        self._pool.terminate()
        self._pool.join()

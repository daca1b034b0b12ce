"""One build at a time over one folder: a lock that the system takes from its holder when that ends, however it ends.

The file only says who holds the lock, and lies there only as long. Where the system or the file system knows no such locks, builds are
not kept apart.
"""

from __future__ import annotations

import os
import sys
from contextlib import suppress
from datetime import datetime
from pathlib import Path

if sys.platform != "win32":
    import fcntl

_held: set[int] = set()


def _let_go() -> None:
    """A worker process inherits the lock; it must not hold it longer than the build lives."""
    for file in _held:
        os.close(file)
    _held.clear()


if sys.platform != "win32":
    os.register_at_fork(after_in_child=_let_go)


class BusyError(Exception):
    """Another process holds the lock; the text says which, and since when."""


class Lock:
    """Holds the lock of a path until `release`. Raises BusyError where another has it, OSError where it can't be made."""

    def __init__(self, path: Path) -> None:
        self._path = path
        self._file = self._taken()
        _held.add(self._file)
        with suppress(OSError):  # a full disk keeps the name back, and not the lock
            os.ftruncate(self._file, 0)
            # the hour on the clock of whoever waits
            os.write(self._file, f"process {os.getpid()} since {datetime.now().strftime('%H:%M:%S')}".encode())

    def _taken(self) -> int:
        while True:
            file = _opened(self._path)
            try:
                _lock(file)
                # the last holder may have taken the file away after it was opened here: then nobody else finds this one
                if _is_still(file, self._path):
                    return file
            except BlockingIOError:
                holder = os.read(file, 100).decode("utf-8", "replace")
                os.close(file)
                raise BusyError(holder or "another process") from None
            except BaseException:
                os.close(file)
                raise
            os.close(file)

    def release(self) -> None:
        """Take the file away and let the next one in."""
        if self._file in _held:
            _held.discard(self._file)
            try:
                if _is_still(self._file, self._path):
                    self._path.unlink()
            except OSError:
                pass  # it locks nobody out
            os.close(self._file)


def wait_for(path: Path) -> None:
    """Wait until nobody holds the lock of a path."""
    try:
        file = os.open(path, os.O_RDWR | os.O_NOFOLLOW)
    except OSError:
        return
    try:
        if sys.platform != "win32":
            fcntl.flock(file, fcntl.LOCK_EX)
    except OSError:
        pass  # no locks here
    finally:
        os.close(file)


def _opened(path: Path) -> int:
    return os.open(path, os.O_RDWR | os.O_CREAT | getattr(os, "O_NOFOLLOW", 0), 0o644)


def _lock(file: int) -> None:
    if sys.platform != "win32":
        try:
            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            raise
        except OSError:
            pass  # a file system without locks, as some networks have


def _is_still(file: int, path: Path) -> bool:
    """Whether an open file is the one that lies at a path."""
    try:
        return os.path.samestat(os.fstat(file), path.lstat())
    except FileNotFoundError:
        return False

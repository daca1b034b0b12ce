"""One build at a time over one folder: a lock that the system takes from its holder when that ends, however it ends.

The file says who holds the lock, and lies there only as long. Where the file system knows no such locks, builds are not kept apart.
"""

from __future__ import annotations

import errno
import os
from contextlib import suppress
from datetime import datetime
from pathlib import Path

from filelock import FileLock, Timeout

#: What a file system without locks answers, as some networks do.
_NO_LOCKS = frozenset({errno.ENOLCK, errno.ENOSYS, errno.EOPNOTSUPP, errno.ENOTSUP})


class BusyError(Exception):
    """Another process holds the lock; the text says which, and since when."""


class Lock:
    """Holds the lock of a path until `release`. Raises BusyError where another has it, OSError where it can't be made."""

    def __init__(self, path: Path) -> None:
        self._path = path
        # the hour on the clock of whoever waits
        self._holder = f"process {os.getpid()} since {datetime.now().strftime('%H:%M:%S')}"
        self._lock = _lock_of(path, self._holder)
        try:
            self._lock.acquire(timeout=0)
        except Timeout:
            raise BusyError(_read(path) or "another process") from None
        except OSError as error:
            if error.errno not in _NO_LOCKS:
                raise

    def release(self) -> None:
        """Take the file away and let the next one in."""
        if self._lock.is_locked:
            with suppress(OSError):  # left there it locks nobody out; a full disk may have kept its words back
                if self._holder.startswith(_read(self._path)):
                    self._path.unlink()
            self._lock.release()


def wait_for(path: Path) -> None:
    """Wait until nobody holds the lock of a path."""
    if path.parent.is_dir():
        with suppress(OSError), _lock_of(path):
            path.unlink(missing_ok=True)


def _lock_of(path: Path, holder: str = "") -> FileLock:
    def sign(file: int) -> None:
        with suppress(OSError):  # a full disk keeps the name back, and not the lock
            os.ftruncate(file, 0)
            os.write(file, holder.encode())

    # a lock of files that only lie there would outlive its holder
    return FileLock(path, thread_local=False, fallback_to_soft=False, on_acquired=sign)


def _read(path: Path) -> str:
    try:
        return path.read_text("utf-8", "replace")[:100]
    except OSError:
        return ""

"""A database that a process and those born of it may both read."""

from __future__ import annotations

import os
import sqlite3
from contextlib import suppress
from pathlib import Path

#: Connections that a process was born with, never used and never closed: they are their maker's.
_LEFT: list[sqlite3.Connection] = []


class Connection:
    """A connection to a file. SQLite's may not be used on both sides of a fork, so a process born since gets one of its own."""

    def __init__(self, file: Path) -> None:
        self._file = file
        self._maker = self._opener = os.getpid()
        self._database = self._opened()

    @property
    def is_makers(self) -> bool:
        """Whether this is the process that made it; others only read."""
        return os.getpid() == self._maker

    @property
    def database(self) -> sqlite3.Connection | None:
        """This process's connection; None where there is none."""
        if self._database is not None and os.getpid() != self._opener:
            _LEFT.append(self._database)
            self._opener, self._database = os.getpid(), self._opened()
        return self._database

    def _opened(self) -> sqlite3.Connection | None:
        try:
            return sqlite3.connect(self._file, timeout=0.2, isolation_level=None)
        except sqlite3.Error:
            return None

    def close(self) -> None:
        """Let the file go."""
        if self._database is not None and os.getpid() == self._opener:
            with suppress(sqlite3.Error):
                self._database.close()
        self._database = None

    def open_another(self) -> None:
        """Take the file away and begin another in its place."""
        self.close()
        with suppress(OSError):
            self._file.unlink()
            self._opener, self._database = os.getpid(), self._opened()

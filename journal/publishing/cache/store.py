"""Bytes by key in a file, each with the round in which it was last of use. A damaged file is replaced, and nothing here raises."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable, Mapping
from contextlib import suppress
from pathlib import Path
from typing import Any

from journal.publishing.cache.connection import Connection

#: Rounds that a value may go unasked for before it is forgotten: switching between two branches finds both.
_LEAST_RECENT = 8
#: A file that is no database, is damaged, or has other tables than ours.
_DAMAGED = frozenset({sqlite3.SQLITE_ERROR, sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB, sqlite3.SQLITE_MISMATCH})


class Store:
    """The file of one journal, for one round: a command."""

    def __init__(self, file: Path) -> None:
        self._connection = Connection(file)
        self._damaged = False
        self._round = self._begin()
        self._repair()

    @property
    def is_writable(self) -> bool:
        """Whether this process may write here."""
        return self._connection.is_makers and self._connection.database is not None

    def _begin(self) -> int:
        return self._try(self._next_round) or 0

    @staticmethod
    def _next_round(database: sqlite3.Connection) -> int:
        database.execute("create table if not exists kept (key text primary key, value blob, round integer)")
        # what a power cut damages is made anew
        database.execute("pragma synchronous = off")
        return int(database.execute("select coalesce(max(round), 0) + 1 from kept").fetchone()[0])

    def _try(self, act: Any) -> Any:
        """What comes of an act on the database; None where there is none or it fails, and then it is noted whether the file is damaged."""
        database = self._connection.database
        if database is None:
            return None
        try:
            return act(database)
        except sqlite3.Error as error:
            self._damaged = self._damaged or getattr(error, "sqlite_errorcode", 0) & 0xFF in _DAMAGED
            with suppress(sqlite3.Error):
                if database.in_transaction:
                    database.execute("rollback")
            return None

    def _repair(self) -> bool:
        """Begin another file in place of a damaged one, else every build would be a cold one; says whether it did."""
        if not self._damaged:
            return False
        self._connection.open_another()
        self._damaged = False
        self._round = self._begin()
        return True

    def get(self, key: str) -> object:
        """What is kept under a key; None where nothing is. It may be damaged."""
        row = self._try(lambda database: database.execute("select value from kept where key = ?", (key,)).fetchone())
        return row[0] if row else None

    def has(self, key: str) -> bool:
        """Whether something is kept under a key."""
        return bool(self._try(lambda database: database.execute("select 1 from kept where key = ?", (key,)).fetchone()))

    def write(self, values: Mapping[str, bytes]) -> bool:
        """Keep values; says whether they are: another build may be at it, or the disk be full."""

        def act(database: sqlite3.Connection) -> bool:
            database.execute("begin immediate")
            rows = ((key, value, self._round) for key, value in values.items())
            database.executemany("insert or replace into kept values (?, ?, ?)", rows)
            database.execute("commit")
            return True

        return bool(self._try(act))

    def _forget(self, asked: Iterable[str]) -> None:
        def act(database: sqlite3.Connection) -> None:
            database.execute("begin immediate")
            database.executemany("update kept set round = ? where key = ?", ((self._round, key) for key in asked))
            database.execute("delete from kept where round <= ?", (self._round - _LEAST_RECENT,))
            database.execute("commit")

        self._try(act)

    def close(self, values: Mapping[str, bytes], asked: Iterable[str]) -> None:
        """Keep these values too, note which were asked for, forget those that nobody asks for any more, and let the file go.

        Where none was asked for nothing is forgotten.
        """
        asked = list(asked)
        if asked:
            self.write(values)
            self._forget(asked)
        if self._repair():
            self.write(values)
        self._connection.close()

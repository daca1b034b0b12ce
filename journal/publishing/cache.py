"""What earlier builds worked out, kept from one run to the next in the user's own cache folder.

Values are pickled, so the file must be the user's own: it lies outside the journal, where no clone can bring one along. It
may be deleted at any time; a file that can't be read or written is as good as none. A damaged one is replaced, and a value
that is not what was written is never unpickled.
"""

from __future__ import annotations

import os
import pickle
import sqlite3
import sys
import zlib
from collections.abc import Callable, Iterable
from contextlib import suppress
from functools import cache, partial
from itertools import islice
from pathlib import Path
from typing import Any, Self, TypeVar

import journal
from journal.memory import Memory, digest_of
from journal.publishing.worker_pool import WorkerPool, worth_sharing

T = TypeVar("T")

#: Builds that a value may go unasked for before it is forgotten: switching between two branches finds both.
_LEAST_RECENT = 8
#: Bytes that are held before they are written.
_MOST_UNWRITTEN = 8 * 1024 * 1024
#: A file that is no database, is damaged, or has other tables than ours.
_DAMAGED = frozenset({sqlite3.SQLITE_ERROR, sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB, sqlite3.SQLITE_MISMATCH})
_CHECK = 4
#: Connections that a process was born with, never used and never closed.
_LEFT: list[sqlite3.Connection] = []


def _pickled(make: Callable[[], object]) -> bytes:
    return _sealed(make())


def _sealed(value: object) -> bytes:
    content = pickle.dumps(value, pickle.HIGHEST_PROTOCOL)
    return zlib.crc32(content).to_bytes(_CHECK, "big") + content


def _unsealed(content: bytes) -> object:
    """The value; None where the bytes are not those that were written: they might unpickle to another value, or to anything."""
    whole = isinstance(content, bytes) and zlib.crc32(content[_CHECK:]).to_bytes(_CHECK, "big") == content[:_CHECK]
    try:
        return pickle.loads(content[_CHECK:]) if whole else None  # noqa: S301  # the user's own file, see above
    except Exception:  # noqa: BLE001  # what a pickle needs may be there no longer
        return None


def _is_damaged(error: sqlite3.Error) -> bool:
    return getattr(error, "sqlite_errorcode", 0) & 0xFF in _DAMAGED


@cache
def program_digest() -> str:
    """A digest of the program itself: another version remembers nothing of this one."""
    package = Path(journal.__file__).parent
    files = sorted(path for path in package.rglob("*.py"))
    states = (f"{path.relative_to(package)} {(stat := path.stat()).st_size} {stat.st_mtime_ns}" for path in files)
    return digest_of(journal.__version__, sys.version, *states)


def cache_folder() -> Path:
    """Where this user's programs keep what they can do without: the system's own convention."""
    home = Path.home()
    if sys.platform == "win32":
        return Path(os.environ.get("LOCALAPPDATA") or home / "AppData" / "Local") / "wortbook"
    if sys.platform == "darwin":
        return home / "Library" / "Caches" / "wortbook"
    # the XDG Base Directory Specification
    return Path(os.environ.get("XDG_CACHE_HOME") or home / ".cache") / "wortbook"


class InProcessCache(Memory):
    """Keeps values for as long as it lives, and forgets what the last round did not ask for."""

    def __init__(self) -> None:
        self._last: dict[str, object] = {}
        self._now: dict[str, object] = {}

    def recall(self, key: str, make: Callable[[], T]) -> T:
        """The value of a key, made where neither this round nor the last one has it."""
        if key not in self._now:
            self._now[key] = self._last[key] if key in self._last else make()
        return self._now[key]  # type: ignore[return-value]

    def keep(self, key: str) -> None:
        """Hold a value for one more round, if the last one had it."""
        if key in self._last:
            self._now[key] = self._last[key]

    def next_round(self) -> None:
        """Begin anew: what was asked for since the last time is kept, the rest is not."""
        self._last, self._now = self._now, {}


class FileCache(Memory):
    """Keeps values in a file; used as a context, it writes what is left to write at the end.

    What is new is written now and then, so that a long journal need not lie in memory twice.
    """

    def __init__(self, root: Path, folder: Path | None = None) -> None:
        self._new: dict[str, bytes] = {}
        self._weight = 0
        self._asked: set[str] = set()
        self._ahead: WorkerPool[bytes] | None = None
        self._coming: dict[str, None] = {}
        self._program = program_digest()
        self._file: Path | None = None
        self._owner = os.getpid()
        self._database: sqlite3.Connection | None = None
        self._damaged = False
        try:
            folder = folder or cache_folder()
            folder.mkdir(parents=True, exist_ok=True)
            self._file = folder / f"{digest_of(str(root.resolve()))[:32]}.db"
            self._database = self._opened()
        except (OSError, RuntimeError):
            pass  # done without
        self._round = self._next_round()
        if self._damaged:
            self._replace()

    def _opened(self) -> sqlite3.Connection | None:
        try:
            return sqlite3.connect(self._file, timeout=0.2, isolation_level=None) if self._file else None
        except sqlite3.Error:
            return None

    def _next_round(self) -> int:
        if self._database is None:
            return 0
        try:
            self._database.execute("create table if not exists kept (key text primary key, value blob, round integer)")
            # what a power cut damages is made anew
            self._database.execute("pragma synchronous = off")
            found = self._database.execute("select coalesce(max(round), 0) + 1 from kept").fetchone()
            return int(found[0])
        except sqlite3.Error as error:
            self._damaged = _is_damaged(error)
            self._let_go()
            return 0

    def _let_go(self) -> None:
        if self._database is not None:
            with suppress(sqlite3.Error):
                self._database.close()
            self._database = None

    def _replace(self) -> None:
        """Take a damaged file away and begin another: else every build would be a cold one."""
        self._let_go()
        try:
            if self._file:
                self._file.unlink()
            self._database = self._opened()
        except OSError:
            return
        self._damaged = False
        self._round = self._next_round()

    def recall(self, key: str, make: Callable[[], T]) -> T:
        """The value of a key, from the file where it is there and can be read."""
        key = digest_of(self._program, key)
        if key in self._coming:
            self._wait_for(key)
        found = self._value(key)
        if found is not None:
            return found  # type: ignore[no-any-return]
        made = make()
        if self._database is not None:
            self._remember(key, _sealed(made))
        return made

    def keep(self, key: str) -> None:
        """Let a value stay in the file, if it is there."""
        self._asked.add(digest_of(self._program, key))

    def make_ahead(self, values: Iterable[tuple[str, Callable[[], object]]]) -> None:
        """Begin to make what is not in the file, where that is worth the while."""
        self._wait_for(None)
        keyed = ((digest_of(self._program, key), make) for key, make in values)
        wanting = {key: make for key, make in keyed if not self._knows(key)}
        if self._database is not None and worth_sharing(len(wanting)):
            self._coming = dict.fromkeys(wanting)
            self._ahead = WorkerPool([partial(_pickled, make) for make in wanting.values()])

    def _wait_for(self, wanted: str | None) -> None:
        """Take what others have made up to a key; all of it if none is named."""
        if self._ahead is None:
            return
        for lot in self._ahead.done(wait=True):
            for key, content in zip(list(islice(self._coming, len(lot))), lot, strict=True):
                del self._coming[key]
                self._remember(key, content)
            if wanted is not None and wanted not in self._coming:
                break
        if not self._coming:
            self._ahead.end()
            self._ahead = None

    def _remember(self, key: str, content: bytes) -> None:
        self._new[key] = content
        self._weight += len(content)
        if self._weight > _MOST_UNWRITTEN and os.getpid() == self._owner:
            self._write()

    def _knows(self, key: str) -> bool:
        return key in self._new or bool(self._found("select 1 from kept where key = ?", key))

    def _value(self, key: str) -> Any:
        """The value that is kept; None where there is none, or a damaged one."""
        content = self._new.get(key)
        if content is None:
            row = self._found("select value from kept where key = ?", key)
            content = row[0] if row else None
            self._asked.add(key)
        return None if content is None else _unsealed(content)

    def _found(self, question: str, key: str) -> Any:
        if self._database is None:
            return None
        if os.getpid() != self._owner:
            # a connection may not be used on both sides of a fork; the old one is left as it is, for it is not ours to close
            _LEFT.append(self._database)
            self._owner, self._database = os.getpid(), self._opened()
        try:
            return self._database.execute(question, (key,)).fetchone() if self._database else None
        except sqlite3.Error as error:
            self._damaged = self._damaged or _is_damaged(error)
            return None

    def _write(self) -> None:
        """Write what is new; what can't be written now stays for the next time."""
        if self._database is None:
            return
        try:
            self._database.execute("begin immediate")
            rows = ((key, value, self._round) for key, value in self._new.items())
            self._database.executemany("insert or replace into kept values (?, ?, ?)", rows)
            self._database.execute("commit")
            self._new.clear()
        except sqlite3.Error as error:
            self._damaged = self._damaged or _is_damaged(error)
            self._undo()
        self._weight = 0

    def _undo(self) -> None:
        """Another build is at it, or the disk is full: what could not be written is made anew one day."""
        with suppress(sqlite3.Error):
            if self._database and self._database.in_transaction:
                self._database.execute("rollback")

    def close(self) -> None:
        """Write what is new, forget what nobody asks for any more."""
        if self._ahead:
            self._ahead.end()
        if self._database is None:
            return
        self._write()
        self._forget()
        if self._damaged:
            self._replace()
            self._write()
        self._let_go()

    def _forget(self) -> None:
        if self._database is None:
            return
        try:
            self._database.execute("begin immediate")
            rows = ((self._round, key) for key in self._asked)
            self._database.executemany("update kept set round = ? where key = ?", rows)
            self._database.execute("delete from kept where round <= ?", (self._round - _LEAST_RECENT,))
            self._database.execute("commit")
        except sqlite3.Error as error:
            self._damaged = self._damaged or _is_damaged(error)
            self._undo()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

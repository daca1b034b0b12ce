"""What earlier builds worked out, kept from one run to the next in the user's own cache folder.

Values are pickled, so the file must be the user's own: it lies outside the journal, where no clone can bring one along. It
may be deleted at any time; a file that can't be read or written is as good as none.
"""

from __future__ import annotations

import os
import pickle
import sqlite3
import sys
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any, TypeVar

import journal
from journal.memory import Memory, digest_of

T = TypeVar("T")

#: Builds that a value may go unasked for before it is forgotten: switching between two branches finds both.
_LEAST_RECENT = 8


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


class InMind(Memory):
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


class Kept(Memory):
    """Keeps values in a file; used as a context, it writes what is new at the end."""

    def __init__(self, root: Path, folder: Path | None = None) -> None:
        self._new: dict[str, bytes] = {}
        self._asked: set[str] = set()
        self._database: sqlite3.Connection | None = None
        self._program = program_digest()
        try:
            folder = folder or cache_folder()
            folder.mkdir(parents=True, exist_ok=True)
            name = f"{digest_of(str(root.resolve()))[:32]}.db"
            self._database = sqlite3.connect(folder / name, timeout=0.2, isolation_level=None)
            self._database.execute("create table if not exists kept (key text primary key, value blob, round integer)")
            self._round = self._database.execute("select coalesce(max(round), 0) + 1 from kept").fetchone()[0]
        except (OSError, RuntimeError, sqlite3.Error):
            self._database = None

    def recall(self, key: str, make: Callable[[], T]) -> T:
        """The value of a key, from the file where it is there and can be read."""
        key = digest_of(self._program, key)
        found = self._value(key)
        if found is not None:
            self._asked.add(key)
            return found  # type: ignore[no-any-return]
        made = make()
        if self._database is not None:
            self._new[key] = pickle.dumps(made, pickle.HIGHEST_PROTOCOL)
        return made

    def keep(self, key: str) -> None:
        """Let a value stay in the file, if it is there."""
        self._asked.add(digest_of(self._program, key))

    def _value(self, key: str) -> Any:
        """The value that is kept; None where there is none, or a damaged one."""
        if self._database is None:
            return None
        try:
            row = self._database.execute("select value from kept where key = ?", (key,)).fetchone()
            return pickle.loads(row[0]) if row else None  # noqa: S301  # the user's own file, see above
        except Exception:  # noqa: BLE001  # a damaged pickle raises whatever it likes
            return None

    def close(self) -> None:
        """Write what is new, forget what nobody asks for any more."""
        if self._database is None:
            return
        try:
            self._database.execute("begin immediate")
            self._database.executemany(
                "insert or replace into kept values (?, ?, ?)",
                ((key, value, self._round) for key, value in self._new.items()),
            )
            self._database.executemany(
                "update kept set round = ? where key = ?", ((self._round, k) for k in self._asked)
            )
            self._database.execute("delete from kept where round <= ?", (self._round - _LEAST_RECENT,))
            self._database.execute("commit")
        except sqlite3.Error:
            pass  # another build is at it, or the disk is full: the next one makes the values anew
        finally:
            self._database.close()
            self._database = None

    def __enter__(self) -> Kept:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

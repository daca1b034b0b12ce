"""The output folder: ours or refused, one build at a time, and never more deleted than a build wrote.

A build puts every new file into a folder of its own inside the output folder first; only when all are there do they take their places,
all at once as a reader sees it (`stand_in.py`). So a build that fails or is ended leaves the old site, or the new one.
"""

from __future__ import annotations

import os
import shutil
from contextlib import suppress
from pathlib import Path
from types import TracebackType
from typing import Self

from journal.frozen import dataclass
from journal.pages.own_theme import THEMES
from journal.problems import Problem
from journal.publishing.lock import BusyError, Lock, wait_for
from journal.publishing.manifest import HIDDEN, LOCK, MANIFEST, STAGING, Manifest, digest, read_manifest
from journal.publishing.moving import SiteChange, clear_staging, finish, obstacle, settle_unseen
from journal.publishing.stand_in import StandIn
from journal.reading.files import ENTRIES

#: The code of the problem that another build writes there.
BUSY = "output-busy"
#: What may lie in an empty output folder without making it somebody else's: what version control and web hosts put
#: there.
_HARMLESS = HIDDEN | {".gitignore", ".gitkeep", ".nojekyll", "CNAME"}


@dataclass(frozen=True)
class Written:
    """What was committed: how many files the site has, and which of them are new or differ."""

    files: int
    changed: frozenset[str]


class Output:
    """One output folder during one build: a context, at whose end nothing is left of what was not committed.

    More than one site may be committed one after the other.
    """

    def __init__(self, folder: Path, root: Path | None = None, *, durable: bool = False) -> None:
        """`root` is the journal's, whose own folders are no place for a site, nor within one; `durable` is for what must survive a power
        cut.
        """
        self._durable = durable
        self.folder = folder
        self._root = root
        self.now: dict[str, str] = {}
        self._changed: set[str] = set()
        self._place = Path(os.path.realpath(folder))
        self._last = Manifest()
        self._sizes: dict[str, int] = {}
        self._keys: dict[str, str] = {}
        self._made: list[Path] = []
        self._lock: Lock | None = None

    @property
    def before(self) -> dict[str, str]:
        """The files of the last build, by name, with the digest of each."""
        return self._last.files

    def refusal(self) -> Problem | None:
        """Why nothing may be written here; None if it may, and then no other build may until the end of the context."""
        try:
            return self._refusal()
        except BusyError as error:
            message = f"{self.folder} is being written by {error}"
            hint = "Wait until it is done, or end it; then build again."
            return Problem(BUSY, message, hint, file=str(self.folder))
        except OSError as error:
            return self.unwritable(error)

    def _refusal(self) -> Problem | None:
        if self._place.exists() and not self._place.is_dir():
            return self._not_ours("is a file", "Name a folder with --out.")
        own = self._own_folder()
        if own:
            return self._not_ours(
                f"is not apart from {own}/, which is only read", "Name a folder beside it with --out."
            )
        if not self._place.exists():
            StandIn(self._place).bring_home()
        if self._place.is_dir():
            held = {path.name for path in self._place.iterdir()}
            if not (self._place / MANIFEST).is_file() and held - _HARMLESS:
                hint = "Name an empty folder with --out, or empty this one yourself if nothing in it is needed."
                return self._not_ours("holds files that no build of a journal wrote", hint)
        self._make_folder()
        self._lock = Lock(self._place / LOCK)
        finish(self._place)
        manifest = read_manifest(self._place)
        if manifest is None and {path.name for path in self._place.iterdir()} - _HARMLESS:
            hint = "Delete what builds wrote there yourself, or name an empty folder with --out."
            return self._not_ours(
                f"holds files, and its {MANIFEST} that lists those of the last build can't be read", hint
            )
        self._last = manifest or Manifest()
        clear_staging(self._place)
        return None

    def _own_folder(self) -> str | None:
        """The folder of the journal that the output folder lies in, or that lies in it."""
        for name in (ENTRIES, THEMES) if self._root else ():
            place = Path(os.path.realpath(Path(self._root or "") / name))
            if self._place.is_relative_to(place) or (place.is_dir() and place.is_relative_to(self._place)):
                return name
        return None

    def _not_ours(self, what: str, hint: str) -> Problem:
        return Problem("output-not-ours", f"{self.folder} {what}", hint, file=str(self.folder))

    def _make_folder(self) -> None:
        missing = [folder for folder in (self._place, *self._place.parents) if not os.path.lexists(folder)]
        for folder in reversed(missing):
            folder.mkdir()
            self._made.append(folder)

    def unwritable(self, error: OSError) -> Problem:
        """The problem behind a failure of the machine."""
        shown = str(self.folder)
        reason = error.strerror or str(error)
        hint = "Check the folder's permissions and the space left, or name another folder with --out."
        return Problem("output-unwritable", f"{shown} can't be written: {reason}", hint, file=shown)

    def is_made_for(self, whole: str) -> bool:
        """Whether the last build made all of its site for this key, and every file of it is there."""
        return self._last.whole == whole and all(self._last.has(self._place, name) for name in self.before)

    def keep(self, name: str, key: str) -> bool:
        """Leave a file of the last build in the new site as it is, if it was made for the same key; says whether it was."""
        if self._last.keys.get(name) != key or not self._last.has(self._place, name):
            return False
        self._note(name, self.before[name], self._last.sizes[name], key)
        return True

    def keep_all(self, key: str) -> bool:
        """Leave every file that the last build made for a key in the new site; says whether there were some and all are there."""
        names = [name for name, made_for in self._last.keys.items() if made_for == key]
        return bool(names) and all(self.keep(name, key) for name in names)

    def forget_key(self, key: str) -> None:
        """Let the next build make anew what was made for a key."""
        self._keys = {name: made_for for name, made_for in self._keys.items() if made_for != key}

    def hold(self, name: str) -> bool:
        """Leave a file of the last build in the new site as it is, whatever it was made for; says whether there is one."""
        if not self._last.has(self._place, name):
            return False
        self._note(name, self.before[name], self._last.sizes[name], self._last.keys.get(name, ""))
        return True

    def hold_rest(self) -> None:
        """Leave every file of the last build that has not been spoken of as it is."""
        for name in set(self.before) - set(self.now):
            self.hold(name)

    def put(self, name: str, content: bytes, key: str = "") -> None:
        """Add a file to the new site; unchanged files keep their place and their date.

        `key` is a digest of all that the file hangs on, by which the next build may `keep` it.
        """
        self._note(name, digest(content), len(content), key)
        if self.before.get(name) == self.now[name] and self._last.has(self._place, name):
            return
        self._changed.add(name)
        staged = self._place / STAGING / name
        staged.parent.mkdir(parents=True, exist_ok=True)
        staged.write_bytes(content)

    def _note(self, name: str, written: str, size: int, key: str) -> None:
        self.now[name], self._sizes[name] = written, size
        if key:
            self._keys[name] = key

    def discard(self) -> None:
        """Begin anew with what lies in the folder; what was put since and not committed is gone."""
        self.now, self._sizes, self._keys, self._changed = {}, {}, {}, set()
        with suppress(OSError):
            clear_staging(self._place)

    def commit(self, whole: str = "") -> Written:
        """Let the new files take their places, take away those that only the last build wrote, and note what is there.

        `whole` is the key of all that the site was made from, where nothing of it should be made again for the same one.
        Raises OSError where the machine fails, or where something lies in the way that no build wrote.
        """
        change = SiteChange(self._last, Manifest(self.now, self._sizes, self._keys, whole), frozenset(self._changed))
        words = obstacle(self._place, change)
        if words:
            raise OSError(None, words)
        settle_unseen(self._place, change, durable=self._durable)
        self._made.clear()
        self._last = change.after
        self.discard()
        return Written(len(change.after.files), change.coming)

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, _kind: type[BaseException] | None, _error: BaseException | None, _at: TracebackType | None
    ) -> None:
        if self._lock is not None:
            try:
                with suppress(OSError):
                    finish(self._place)
                shutil.rmtree(self._place / STAGING, ignore_errors=True)
            finally:
                self._lock.release()
        for folder in reversed(self._made):
            with suppress(OSError):
                folder.rmdir()


def wait_until_free(folder: Path) -> None:
    """Wait until no build writes to an output folder."""
    wait_for(Path(os.path.realpath(folder)) / LOCK)

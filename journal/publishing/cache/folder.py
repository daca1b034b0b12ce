"""Where the cache lies, and whether it is to be trusted: what is kept there is unpickled, so nobody else may have written it.

The folder is the user's and closed to all others, the file is the user's and no link, and neither lies in the journal, where a clone
could have brought it along. Otherwise nothing is read and nothing written.
"""

from __future__ import annotations

import os
import stat
import sys
from pathlib import Path

from journal.memory import digest_of

_OWN_ONLY, _OTHERS_WRITE = 0o700, 0o022


def cache_folder() -> Path:
    """Where this user's programs keep what they can do without: the system's own convention."""
    home = Path.home()
    if sys.platform == "win32":
        return Path(os.environ.get("LOCALAPPDATA") or home / "AppData" / "Local") / "wortbook"
    if sys.platform == "darwin":
        return home / "Library" / "Caches" / "wortbook"
    # the XDG Base Directory Specification 0.8: “If an implementation encounters a relative path … it should … ignore it.”
    named = Path(os.environ.get("XDG_CACHE_HOME") or "")
    return (named if named.is_absolute() else home / ".cache") / "wortbook"


def cache_file(root: Path, folder: Path) -> Path | None:
    """The file for the journal at `root` in a folder, which is made; None where either can't be trusted. Raises OSError."""
    root = root.resolve()
    folder.mkdir(mode=_OWN_ONLY, parents=True, exist_ok=True)
    folder = folder.resolve()
    if folder.is_relative_to(root) or not _is_closed(folder):
        return None
    file = folder / f"{digest_of(str(root))[:32]}.db"
    return file if not os.path.lexists(file) or _is_own(file) else None


def _is_closed(folder: Path) -> bool:
    """Whether a folder is ours alone; one of ours that was open is closed, and emptied of ours if others could have written there."""
    if sys.platform == "win32":
        return True  # what is in a user's profile is that user's
    found = folder.stat()
    if found.st_uid != os.geteuid():
        return False
    if stat.S_IMODE(found.st_mode) & ~_OWN_ONLY:
        folder.chmod(_OWN_ONLY)
        if found.st_mode & _OTHERS_WRITE:
            for file in folder.glob("*.db"):
                file.unlink()
    return True


def _is_own(file: Path) -> bool:
    """Whether a file is ours, no link of either kind, and not for others to write."""
    found = file.lstat()
    if not stat.S_ISREG(found.st_mode):
        return False
    return sys.platform == "win32" or (
        found.st_uid == os.geteuid() and found.st_nlink == 1 and not found.st_mode & _OTHERS_WRITE
    )

"""All that a journal hangs on, as one digest: its files, looked at without understanding any of them.

Where it is the same as it was, so is all that follows from the journal.
"""

from __future__ import annotations

import os
import stat
from collections.abc import Iterator
from functools import cache
from hashlib import sha256
from pathlib import Path

from journal.memory import digest_of
from journal.pages.own_theme import THEMES
from journal.pages.themes_folder import themes_folder
from journal.publishing.cache.program import program_digest
from journal.reading.files import ENTRIES

#: A file larger than this, bytes, is told from another state of it by its size and date; no entry is.
_READ_UP_TO = 1024 * 1024


def journal_state(root: Path) -> str:
    """A digest of every file of a journal's own: under entries/, and of its themes."""
    own_themes = root / THEMES
    # a theme may be a folder somewhere else
    looks = sorted(own_themes.iterdir()) if own_themes.is_dir() else []
    return digest_of(*(state for folder in (root / ENTRIES, own_themes, *looks) for state in _states(folder)))


@cache
def program_state() -> str:
    """A digest of the program with the looks that it brings."""
    return digest_of(program_digest(), *_states(themes_folder()))


def _states(folder: Path) -> Iterator[str]:
    unlisted: list[str] = []
    for place, folders, names in os.walk(folder, onerror=lambda error: unlisted.append(str(error))):
        folders.sort()
        yield place
        for name in sorted([*folders, *names]):
            yield name
            yield _state(Path(place, name))
    yield from unlisted


def _state(path: Path) -> str:
    """What tells the state of one file from any other of it; of a link where it leads to, for a file within is looked at itself."""
    try:
        found = path.lstat()
        if stat.S_ISLNK(found.st_mode):
            return f"link {path.readlink()} {path.exists()} {path.is_file()}"
        if not stat.S_ISREG(found.st_mode):
            return f"{stat.S_IFMT(found.st_mode)}"
        if found.st_size > _READ_UP_TO:
            return f"{found.st_size} {found.st_mtime_ns}"
        return sha256(path.read_bytes()).hexdigest()
    except OSError as error:
        return f"{error}"

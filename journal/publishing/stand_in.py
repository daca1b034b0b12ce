"""A whole copy of the new site that stands in for the output folder while files are moved in it.

Many files can't change places in one step, two folders can (Linux, `renameat2` with RENAME_EXCHANGE). So the new site is put together
next door, of hard links and for next to nothing; it changes places with the output folder, the files are moved there unseen, and the
folder comes back. A reader finds the old site or the new one, whenever the build is ended, and the folder stays the one it was: for
a shell that stands in it, a container that was given it, and whatever lies in it besides the site.

Where folders can't change places nothing stands in, and readers see the files move.
"""

from __future__ import annotations

import ctypes
import errno
import os
import shutil
import stat
import sys
from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path

from journal.publishing.manifest import HIDDEN, MANIFEST, MARK, Manifest, folders_of, is_led_elsewhere, read_manifest

_AT_FDCWD, _RENAME_EXCHANGE = -100, 2
#: With these the machine fails, and would fail as well without a stand-in.
_FAILURES = frozenset({errno.ENOSPC, errno.EDQUOT, errno.EIO, errno.EFBIG, errno.ENOMEM, errno.EMFILE, errno.ENFILE})
_WORDS = """\
# While a build moves files, your output folder lies here and a copy of the site in its place. If the build was ended
# just then, the next one puts it back: leave it here.
*
"""


def _exchange(one: Path, other: Path) -> None:
    """Let two folders change places in one step. Raises OSError where that can't be done."""
    rename = getattr(ctypes.CDLL(None, use_errno=True), "renameat2", None) if sys.platform == "linux" else None
    if rename is None:
        raise OSError(errno.ENOSYS, os.strerror(errno.ENOSYS))
    if rename(_AT_FDCWD, os.fsencode(one), _AT_FDCWD, os.fsencode(other), _RENAME_EXCHANGE):
        code = ctypes.get_errno()
        raise OSError(code, os.strerror(code), str(one))


def is_folder(path: Path) -> bool:
    """Whether a folder lies at a path, and no link to one."""
    try:
        return stat.S_ISDIR(path.lstat().st_mode)
    except OSError:
        return False


class StandIn:
    """The place next to an output folder where its stand-in is made, and where the folder lies while that is shown."""

    def __init__(self, folder: Path) -> None:
        """`folder` is free of links."""
        self.folder = folder
        self._yard = folder.parent / f".{folder.name}.wortbook"
        self.aside = self._yard / "site"

    def is_shown(self) -> bool:
        """Whether a stand-in is in the folder's place, and the folder lies aside to be put back."""
        return is_folder(self._yard) and is_folder(self.aside) and (self.folder / MARK).is_file()

    def show(self, files: dict[str, Path], gone: Iterable[str]) -> bool:
        """Put one together of these files, each at its name, and let it take the folder's place; says whether it could.

        What no build wrote is reached by links. Raises OSError where the machine fails.
        """
        try:
            self._yard.mkdir()
        except OSError as error:
            return _did_not(error)
        try:
            (self._yard / ".gitignore").write_text(_WORDS, "utf-8")
            self.aside.mkdir()
            (self.aside / MARK).touch()
            folders = folders_of({*files, *gone}) - set(files)
            self._fill(files, folders)
            self._link_the_rest("", {*files, *gone, *HIDDEN}, folders)
            _like(self.folder, self.aside)
            _exchange(self.folder, self.aside)
        except OSError as error:
            self.clear()
            return _did_not(error)
        return True

    def _fill(self, files: dict[str, Path], folders: set[str]) -> None:
        for name in sorted(folders):
            (self.aside / name).mkdir()
            if is_folder(self.folder / name):
                _like(self.folder / name, self.aside / name)
        for name, file in files.items():
            os.link(file, self.aside / name, follow_symlinks=False)

    def _link_the_rest(self, inside: str, known: set[str], folders: set[str]) -> None:
        """Links to where it will lie once the folder is aside."""
        for found in os.scandir(self.folder / inside):
            name = f"{inside}/{found.name}" if inside else found.name
            if name in folders and found.is_dir(follow_symlinks=False):
                self._link_the_rest(name, known, folders)
            elif name not in known and name not in folders:
                (self.aside / name).symlink_to(self.aside / name)

    def put_back(self) -> None:
        """Let the folder take its place again, and take the stand-in away."""
        _exchange(self.folder, self.aside)
        self.clear()

    def clear(self) -> None:
        """Take away what is left of a stand-in; what somebody put into it while it was shown comes into the folder."""
        if not is_folder(self._yard):
            return
        words = self._yard / ".gitignore"
        with suppress(OSError):
            if is_folder(self.aside) and (self.aside / MARK).is_file():
                self._rescue()
                self._take_away()
            elif is_folder(self.aside):
                self.aside.rmdir()
            # a build ended while it wrote them leaves their beginning
            if words.is_file() and _WORDS.startswith(words.read_text("utf-8", "replace")):
                words.unlink()
            self._yard.rmdir()

    def _take_away(self) -> None:
        """Remove what is aside. What says that it is a stand-in and what a build wrote of it goes last: half of one is known then too."""
        for found in list(self.aside.iterdir()):
            if is_folder(found):
                shutil.rmtree(found)
            elif found.name not in {MANIFEST, MARK}:
                found.unlink()
        (self.aside / MANIFEST).unlink(missing_ok=True)
        (self.aside / MARK).unlink()
        self.aside.rmdir()

    def bring_home(self) -> None:
        """Put the folder back where somebody took away the stand-in that was shown. Raises OSError."""
        if is_folder(self._yard) and is_folder(self.aside) and not os.path.lexists(self.aside / MARK):
            self.aside.rename(self.folder)
            self.clear()

    def _rescue(self) -> None:
        """Move what neither a build wrote nor is a link of ours, so that it is only here, to where it belongs."""
        written = read_manifest(self.aside) or Manifest()
        for top, _, names in os.walk(self.aside):
            for path in (Path(top) / name for name in names):
                name = path.relative_to(self.aside).as_posix()
                if name not in written.files and name not in HIDDEN and not _leads_to(path, path):
                    self._take_home(path, name)

    def _take_home(self, path: Path, name: str) -> None:
        place = self.folder / name
        later = os.path.lexists(place) and place.lstat().st_mtime_ns >= path.lstat().st_mtime_ns
        if not later and not is_folder(place) and not is_led_elsewhere(self.folder, name):
            place.parent.mkdir(parents=True, exist_ok=True)
            path.replace(place)


def _did_not(error: OSError) -> bool:
    """Not shown, for a reason that lies with the folder; any other is raised."""
    if error.errno in _FAILURES:
        raise error
    return False


def _leads_to(path: Path, place: Path) -> bool:
    return path.is_symlink() and path.readlink() == place


def _like(model: Path, folder: Path) -> None:
    """Give a folder the mode and, where that is allowed, the owner of another: a web server may read it, too."""
    found = model.stat()
    folder.chmod(stat.S_IMODE(found.st_mode))
    with suppress(OSError):
        os.chown(folder, found.st_uid, found.st_gid)

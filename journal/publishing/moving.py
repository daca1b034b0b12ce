"""From the site that lies in a folder to the new one that lies staged in it."""

from __future__ import annotations

import os
import shutil
from collections.abc import Collection
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from functools import partial
from pathlib import Path

from journal.frozen import dataclass
from journal.publishing.manifest import (
    LOCK,
    MANIFEST,
    MARK,
    STAGING,
    Manifest,
    folders_of,
    is_as_written,
    is_led_elsewhere,
    read_manifest,
)
from journal.publishing.stand_in import StandIn, is_folder

#: More files than this are written to the disk together with all else that waits for it, in less time than one by one.
_MANY = 64
#: Files that the disk is asked to write at once.
_AT_ONCE = 16


@dataclass(frozen=True)
class SiteChange:
    """What was there, what will be, and the names of the files that come; what goes is the difference."""

    before: Manifest
    after: Manifest
    coming: frozenset[str]

    @property
    def going(self) -> list[str]:
        """Files of the last site that the new one hasn't."""
        return sorted(set(self.before.files) - set(self.after.files))

    @property
    def in_the_way(self) -> list[str]:
        """Those of them that lie where a folder of the new site is to be, or in a folder where a file is."""
        folders = folders_of(self.after.files)
        return [name for name in self.going if name in folders or folders_of([name]) & set(self.after.files)]

    @property
    def in_order(self) -> list[str]:
        """What comes, so that no page leads to a missing file: new files first, pages after what they show, the front page last."""

        def turn(name: str) -> tuple[bool, bool, bool, str]:
            return name in self.before.files, name.endswith(".html"), name == "index.html", name

        return sorted(self.coming, key=turn)


def obstacle(folder: Path, change: SiteChange) -> str | None:
    """What lies where a file is to come and is no build's, in words; None if nothing does."""
    leaving = {name for name in change.in_the_way if is_as_written(folder, name, change.before.files[name])}
    for name in change.in_order:
        if leaving & folders_of([name]):
            continue
        place = folder / name
        if is_led_elsewhere(folder, name):
            return f"{name} would be written through a link, or through something that is no folder"
        if is_folder(place):
            below = {path.relative_to(folder).as_posix() for path in place.rglob("*") if not is_folder(path)}
            if not below <= leaving:
                return f"{name} is a folder there"
        elif os.path.lexists(place) and name not in change.before.files:
            return f"{name} is there and no build wrote it"
    return None


def settle(folder: Path, change: SiteChange) -> None:
    """Let the staged files take their places, take away those that go, and note what is there. Raises OSError.

    Until all is done the manifest knows of both the old files and the new.
    """
    staging = folder / STAGING
    union = Manifest(change.before.files, change.before.sizes, {})
    moving = {name: change.after.files[name] for name in change.coming}
    if change.coming or change.going:
        _write_manifest(folder, union.as_bytes(moving))
    for name in change.in_the_way:
        _remove(folder, name, change.before.files[name])
    for name in change.in_order:
        place = folder / name
        place.parent.mkdir(parents=True, exist_ok=True)
        (staging / name).replace(place)
    for name in change.going:
        _remove(folder, name, change.before.files[name])
    _write_manifest(folder, change.after.as_bytes())
    shutil.rmtree(staging, ignore_errors=True)


def _write_manifest(folder: Path, content: bytes) -> None:
    # a file of its own: what is staged may be linked to a stand-in
    staged = folder / STAGING / f"{MANIFEST}.next"
    staged.write_bytes(content)
    staged.replace(folder / MANIFEST)


def _remove(folder: Path, name: str, written: str) -> None:
    """Take away a file that is as a build left it, and the folders that are empty then."""
    if not is_as_written(folder, name, written):
        return
    place = folder / name
    place.unlink()
    for parent in place.parents:
        if parent == folder or any(parent.iterdir()):
            break
        parent.rmdir()


def sync(folder: Path, names: Collection[str]) -> None:
    """Have files of a folder, and the folders on the way to them, written to the disk, so that a power cut leaves no empty ones.

    A system that can't be asked that of single files or folders does it in its own time.
    """
    if len(names) > _MANY and hasattr(os, "sync"):
        os.sync()
        return
    # asked for at once, the disk brings them together: thirty one after the other take as long as three hundred
    with ThreadPoolExecutor(_AT_ONCE) as threads:
        threads.map(partial(_sync_one, folder), (*names, *folders_of(names), "."))


def _sync_one(folder: Path, name: str) -> None:
    with suppress(OSError):
        file = os.open(folder / name, os.O_RDONLY)
        try:
            os.fsync(file)
        finally:
            os.close(file)


def settle_unseen(folder: Path, change: SiteChange, *, durable: bool = False) -> None:
    """Do the same behind a stand-in, where one can be shown and more than one file changes. Raises OSError.

    If `durable`, what is new is on the disk before it takes a place, and its place before this ends.
    """
    if durable and change.coming:
        sync(folder / STAGING, change.coming)
    _settle_unseen(folder, change)
    if durable and (change.coming or change.going):
        sync(folder, [MANIFEST, *folders_of(change.coming)])


def _settle_unseen(folder: Path, change: SiteChange) -> None:
    stand_in = StandIn(folder)
    if len(change.coming) + len(change.going) < 2:
        settle(folder, change)
        return
    staging = folder / STAGING
    manifest = staging / MANIFEST
    manifest.write_bytes(change.after.as_bytes())
    files = {MANIFEST: manifest, LOCK: folder / LOCK}
    files |= {name: (staging if name in change.coming else folder) / name for name in change.after.files}
    if stand_in.show(files, change.going):
        settle(stand_in.aside, change)
        stand_in.put_back()
    else:
        settle(folder, change)


def finish(folder: Path) -> None:
    """Finish what an ended build left: put the folder back, with the new site that its stand-in shows. Raises OSError."""
    stand_in = StandIn(folder)
    if not stand_in.is_shown():
        (folder / MARK).unlink(missing_ok=True)
        stand_in.clear()
        return
    home = stand_in.aside
    after = read_manifest(folder)
    if after is None:
        raise OSError(None, f"what the last build left in {home.parent} can't be put back")
    coming = frozenset(name for name in after.files if not _is_same(folder / name, home / name))
    clear_staging(home)
    for name in coming:
        (home / STAGING / name).parent.mkdir(parents=True, exist_ok=True)
        os.link(folder / name, home / STAGING / name, follow_symlinks=False)
    change = SiteChange(read_manifest(home) or Manifest(), after, coming)
    words = obstacle(home, change)
    if words:
        raise OSError(None, words)
    settle(home, change)
    (home / LOCK).unlink(missing_ok=True)
    os.link(folder / LOCK, home / LOCK, follow_symlinks=False)
    stand_in.put_back()


def clear_staging(folder: Path) -> None:
    """An empty folder for the new files. Raises OSError."""
    shutil.rmtree(folder / STAGING, ignore_errors=True)
    (folder / STAGING).mkdir()


def _is_same(one: Path, other: Path) -> bool:
    try:
        return os.path.samestat(one.lstat(), other.lstat())
    except OSError:
        return False

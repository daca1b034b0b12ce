"""What is kept from one run to the next is unpickled, so only what nobody else can have written is read."""

from __future__ import annotations

import os
import pickle
import sqlite3
import stat
import sys
import zlib
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest

from journal.publishing.cache import FileCache
from journal.publishing.cache.folder import cache_folder

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="owners and permissions as POSIX has them")


def ask(root: Path, cache: Path, value: str) -> str:
    with FileCache(root, cache) as memory:
        return memory.recall("a", lambda: value)


def kept(cache: Path) -> Path:
    (file,) = cache.glob("*.db")
    return file


def test_the_folder_is_closed_to_others(tmp_path: Path) -> None:
    assert ask(tmp_path / "journal", tmp_path / "cache", "one") == "one"
    assert stat.S_IMODE((tmp_path / "cache").stat().st_mode) == 0o700
    assert ask(tmp_path / "journal", tmp_path / "cache", "two") == "one"


def _foreign(cache: Path) -> None:
    os.chown(kept(cache), 65534, 65534)


def _foreign_folder(cache: Path) -> None:
    os.chown(cache, 65534, 65534)


def _linked(cache: Path) -> None:
    file = kept(cache)
    file.rename(cache.parent / "elsewhere")
    file.symlink_to(cache.parent / "elsewhere")


def _hard_linked(cache: Path) -> None:
    os.link(kept(cache), cache.parent / "elsewhere")


@pytest.mark.parametrize(
    "change",
    [
        lambda cache: kept(cache).chmod(0o666),
        lambda cache: cache.chmod(0o777),
        _linked,
        _hard_linked,
        pytest.param(_foreign, marks=pytest.mark.skipif(os.geteuid() != 0, reason="only root may give a file away")),
        pytest.param(
            _foreign_folder, marks=pytest.mark.skipif(os.geteuid() != 0, reason="only root may give a folder away")
        ),
    ],
    ids=["others write the file", "others write the folder", "link", "hard link", "their file", "their folder"],
)
def test_what_others_may_have_written_is_not_read(change: Callable[[Path], None], tmp_path: Path) -> None:
    root, cache = tmp_path / "journal", tmp_path / "cache"
    assert [ask(root, cache, "one"), ask(root, cache, "none")] == ["one", "one"]
    change(cache)
    assert ask(root, cache, "made anew") == "made anew"


class _Trap:
    """What an attacker would have unpickled."""

    def __reduce__(self) -> tuple[Callable[..., object], tuple[str, int]]:
        return os.mkdir, (os.environ["WORTBOOK_TRAP"], 0o700)


def test_a_planted_value_is_not_run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("WORTBOOK_TRAP", str(tmp_path / "sprung"))
    root, cache = tmp_path / "journal", tmp_path / "cache"
    ask(root, cache, "one")
    cache.chmod(0o777)
    content = pickle.dumps(_Trap())
    with closing(sqlite3.connect(kept(cache))) as database, database:
        database.execute("update kept set value = ?", (zlib.crc32(content).to_bytes(4, "big") + content,))
    assert ask(root, cache, "made anew") == "made anew"
    assert not (tmp_path / "sprung").exists()


@pytest.mark.parametrize("place", [".", "cache", "entries/cache"])
def test_nothing_is_kept_in_the_journal(place: str, tmp_path: Path) -> None:
    """A clone brings along what lies there."""
    assert [ask(tmp_path, tmp_path / place, value) for value in ("one", "two")] == ["one", "two"]
    assert list(tmp_path.rglob("*.db")) == []


def test_a_relative_cache_home_is_ignored(monkeypatch: pytest.MonkeyPatch) -> None:
    """XDG Base Directory Specification 0.8, section “Basics”: all paths must be absolute, a relative one is to be ignored."""
    monkeypatch.setattr(sys, "platform", "linux")
    monkeypatch.setenv("XDG_CACHE_HOME", "cache")
    assert cache_folder() == Path.home() / ".cache" / "wortbook"
    monkeypatch.setenv("XDG_CACHE_HOME", "/var/tmp/caches")
    assert cache_folder() == Path("/var/tmp/caches/wortbook")

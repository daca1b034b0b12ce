"""The output folder: old or new as a whole, one build at a time, and nothing lost that a build did not write."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from journal.publishing import stand_in
from journal.publishing.lock import BusyError, Lock
from journal.publishing.manifest import LOCK, MANIFEST, digest
from journal.publishing.output import Output

#: The things done to files before a build is killed; it does some seventy.
MOMENTS = [
    0,
    3,
    6,
    9,
    12,
    15,
    18,
    19,
    20,
    21,
    22,
    23,
    24,
    25,
    27,
    29,
    31,
    34,
    37,
    40,
    44,
    46,
    48,
    50,
    52,
    55,
    58,
    61,
    70,
]
#: Of folders each named for its moment: a process each, which writes the site `new` there and ends itself by SIGKILL at that moment
#: of its commit. What becomes of them is printed.
KILLED = """
import os, signal, sys
from pathlib import Path
from journal.publishing.output import Output
sys.path.insert(0, sys.argv[2])
import publishing.test_output as test
class ByName:
    # folders are read in any order; in this one our own marks come first
    def __init__(self, *place):
        with scandir(*place) as found:
            self.found = iter(sorted(found, key=lambda entry: entry.name))
    __enter__ = __iter__ = lambda self: self
    __next__ = lambda self: next(self.found)
    __exit__ = lambda self, *_: None
scandir, os.scandir = os.scandir, ByName
def write_and_die(site, left):
    armed = False
    def count(event, _):
        nonlocal left
        if armed and event in {"os.rename", "os.link", "os.symlink", "os.remove", "os.mkdir", "os.rmdir", "ctypes.dlsym", "open"}:
            left -= 1
            if left < 0:
                os.kill(os.getpid(), signal.SIGKILL)
    sys.addaudithook(count)
    with Output(site) as output:
        assert output.refusal() is None
        for name, content in test.NEW.items():
            output.put(name, content)
        armed = True
        output.commit()
for moment in test.MOMENTS:
    child = os.fork()
    if not child:
        write_and_die(Path(sys.argv[1], str(moment), "site"), moment)
        os._exit(0)
    print(os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]))
"""
OLD = {"index.html": b"old", "a/1.html": b"old 1", "a/2.html": b"old 2", "gone/3.html": b"old 3", "same.css": b"same"}
MINE = {"mine.txt": b"mine", "photos/own.jpg": b"own"}
NEW = {"index.html": b"new", "a/1.html": b"new 1", "b/4.html": b"new 4", "same.css": b"same", "a/5.html": b"new 5"}


def write(folder: Path, site: dict[str, bytes]) -> None:
    with Output(folder) as output:
        assert output.refusal() is None
        for name, content in site.items():
            output.put(name, content)
        output.commit()


def seen(folder: Path) -> dict[str, bytes]:
    """What a reader finds."""
    files = {path.relative_to(folder).as_posix(): path for path in folder.rglob("*") if path.is_file()}
    return {name: path.read_bytes() for name, path in files.items() if not name.startswith(".")}


@pytest.fixture(scope="module")
def killed(tmp_path_factory: pytest.TempPathFactory) -> dict[int, tuple[Path, int]]:
    """By moment, the site at which a build was killed then, and how that ended."""
    root = tmp_path_factory.mktemp("killed")
    sites = {moment: root / str(moment) / "site" for moment in MOMENTS}
    for site in sites.values():
        write(site, OLD)
        for name, content in MINE.items():
            (site / name).parent.mkdir(exist_ok=True)
            (site / name).write_bytes(content)
    tests = str(Path(__file__).parents[1])
    ran = subprocess.run([sys.executable, "-c", KILLED, root, tests], check=True, capture_output=True, text=True)
    return {moment: (sites[moment], int(code)) for moment, code in zip(MOMENTS, ran.stdout.split(), strict=True)}


@pytest.mark.skipif(sys.platform != "linux", reason="only Linux lets two folders change places")
@pytest.mark.parametrize("moment", MOMENTS)
def test_a_build_killed_at_any_moment_leaves_the_old_site_or_the_new(
    moment: int, killed: dict[int, tuple[Path, int]]
) -> None:
    site, ended = killed[moment]
    assert ended in {0, -9}
    found = {name: content for name, content in seen(site).items() if name not in MINE}
    assert {name: (site / name).read_bytes() for name in MINE} == MINE
    assert {name: c for name, c in found.items() if not name.startswith("photos/")} in (OLD, NEW)
    write(site, NEW)
    assert seen(site) == NEW | MINE
    assert sorted(path.name for path in site.parent.iterdir()) == ["site"]
    assert {path.name for path in site.iterdir() if path.name.startswith(".")} == {MANIFEST}


@pytest.mark.parametrize("share", [0, 1, 60])
def test_a_stand_in_hardly_begun_is_cleared_away(share: int, tmp_path: Path) -> None:
    """Ended between opening its first file and writing it, or with half of it written."""
    site, beside = tmp_path / "site", tmp_path / ".site.wortbook"
    write(site, OLD)
    beside.mkdir()
    (beside / ".gitignore").write_text(stand_in._WORDS[:share], "utf-8")
    write(site, NEW)
    assert not beside.exists()


def test_the_folder_stays_the_one_it_was(tmp_path: Path) -> None:
    write(tmp_path / "site", OLD)
    before = (tmp_path / "site").stat().st_ino
    write(tmp_path / "site", NEW)
    assert (tmp_path / "site").stat().st_ino == before


def test_where_nothing_can_stand_in_the_files_are_moved(tmp_path: Path) -> None:
    write(tmp_path / "site", OLD)
    (tmp_path / ".site.wortbook").write_text("somebody's file")
    write(tmp_path / "site", NEW)
    assert seen(tmp_path / "site") == NEW
    assert (tmp_path / ".site.wortbook").read_text() == "somebody's file"


def test_of_two_builds_at_once_one_is_refused_by_name(tmp_path: Path) -> None:
    with Output(tmp_path / "site") as first, Output(tmp_path / "site") as second:
        assert first.refusal() is None
        refusal = second.refusal()
        assert refusal is not None
        assert (refusal.code, f"process {os.getpid()} since" in refusal.message) == ("output-busy", True)
    write(tmp_path / "site", NEW)
    assert seen(tmp_path / "site") == NEW


def test_a_stale_lock_locks_nobody_out(tmp_path: Path) -> None:
    (tmp_path / LOCK).write_text("process 1 since 00:00:00")
    lock = Lock(tmp_path / LOCK)
    with pytest.raises(BusyError):
        Lock(tmp_path / LOCK)
    lock.release()
    assert not (tmp_path / LOCK).exists()


@pytest.mark.parametrize("name", ["../thesis.txt", "{outside}", "a/../../thesis.txt", ".git/config", "link/thesis.txt"])
def test_a_hostile_manifest_takes_nothing_away(name: str, tmp_path: Path) -> None:
    site, thesis = tmp_path / "site", tmp_path / "thesis.txt"
    write(site, OLD)
    thesis.write_bytes(b"years")
    (site / ".git").mkdir()
    (site / ".git" / "config").write_bytes(b"years")
    (site / "link").symlink_to(tmp_path)
    manifest = json.loads((site / MANIFEST).read_text())
    name = name.replace("{outside}", str(thesis))
    manifest["files"][name], manifest["sizes"][name] = digest(b"years"), 5
    (site / MANIFEST).write_text(json.dumps(manifest))
    write(site, NEW)
    assert thesis.read_bytes() == (site / ".git" / "config").read_bytes() == b"years"


def test_a_file_that_no_build_wrote_is_not_written_over(tmp_path: Path) -> None:
    write(tmp_path / "site", OLD)
    (tmp_path / "site" / "b").mkdir()
    (tmp_path / "site" / "b" / "4.html").write_bytes(b"mine")
    with pytest.raises(OSError, match="no build wrote it"):
        write(tmp_path / "site", NEW)
    assert seen(tmp_path / "site") == OLD | {"b/4.html": b"mine"}


def test_a_page_changed_by_hand_is_not_taken_away(tmp_path: Path) -> None:
    write(tmp_path / "site", OLD)
    (tmp_path / "site" / "gone" / "3.html").write_bytes(b"my own words")
    write(tmp_path / "site", NEW)
    assert (tmp_path / "site" / "gone" / "3.html").read_bytes() == b"my own words"


def test_a_file_cut_short_is_written_anew(tmp_path: Path) -> None:
    write(tmp_path / "site", OLD)
    (tmp_path / "site" / "same.css").write_bytes(b"")
    write(tmp_path / "site", OLD)
    assert seen(tmp_path / "site") == OLD


@pytest.mark.parametrize(
    ("old", "new"), [({"a": b"1"}, {"a/b": b"2", "c": b"3"}), ({"a/b": b"2"}, {"a": b"1", "c": b"3"})]
)
def test_a_file_becomes_a_folder_and_back(old: dict[str, bytes], new: dict[str, bytes], tmp_path: Path) -> None:
    write(tmp_path / "site", old)
    write(tmp_path / "site", new)
    assert seen(tmp_path / "site") == new

"""What the machine does to a build, with real files and real processes: one clear message and an exit code, never a traceback.

Root may write everywhere, so as root the processes give up the two capabilities that let it (`setpriv`).
"""

from __future__ import annotations

import os
import resource
import shutil
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from publishing.test_build import ENTRY, files
from publishing.test_incremental import PICTURE
from publishing.test_watch import built

from journal.publishing import Broken, build
from journal.publishing.cache import FileCache
from journal.publishing.lock import Lock
from journal.publishing.manifest import LOCK
from journal.publishing.watch import Live

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="permissions and limits as POSIX has them")

WORTBOOK = str(Path(sys.executable).with_name("wortbook"))
#: As whoever may not write where permissions forbid it.
PLAIN = ["setpriv", "--bounding-set=-dac_override,-dac_read_search", "--inh-caps=-all"] if os.geteuid() == 0 else []


@pytest.fixture(scope="module")
def place(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Where each test has its journal, anew, beside the cache of all of them: a build recalls its templates."""
    return tmp_path_factory.mktemp("place")


@pytest.fixture
def journal(place: Path) -> Path:
    root = place / "journal"
    for path in place.iterdir():
        if path.name != "cache":
            shutil.rmtree(path)
    (root / "entries").mkdir(parents=True)
    (root / "entries" / "01.md").write_text(ENTRY.format(number=1), "utf-8")
    return root


@pytest.fixture
def closed() -> Iterator[Callable[[Path], None]]:
    """Takes away the right to write in folders, and gives it back."""
    taken: list[Path] = []

    def close(folder: Path) -> None:
        folder.chmod(0o555)
        taken.append(folder)
        refused = subprocess.run([*PLAIN, "touch", folder / "try"], capture_output=True, check=False)
        assert refused.returncode, "nothing is tested where the folder can be written"

    yield close
    for folder in taken:
        folder.chmod(0o755)


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A disk of its own, of 1 MiB."""
    place = tmp_path / "disk"
    place.mkdir()
    if subprocess.run(
        ["mount", "-t", "tmpfs", "-o", "size=1m", "none", place], capture_output=True, check=False
    ).returncode:
        pytest.skip(
            "may not mount a disk; test_a_file_too_large_for_the_machine tries the same with a limit of the process"
        )
    yield place
    subprocess.run(["umount", place], check=True)


def change(root: Path) -> None:
    with (root / "entries" / "01.md").open("a", encoding="utf-8") as entry:
        entry.write("\nMore of it.\n")


def run(root: Path, *options: str, largest: int = 0, cache: Path | None = None) -> tuple[int, str]:
    """Exit code and words of a build; `largest` is the most bytes that a file of it may have, 0 for any."""

    def limit() -> None:
        if largest:
            resource.setrlimit(resource.RLIMIT_FSIZE, (largest, largest))

    environment = {**os.environ, "XDG_CACHE_HOME": str(cache or root.parent / "cache")}
    ended = subprocess.run(
        [*PLAIN, WORTBOOK, "build", *options],
        cwd=root,
        env=environment,
        preexec_fn=limit,
        capture_output=True,
        text=True,
        check=False,
    )
    assert "Traceback" not in ended.stderr, ended.stderr
    return ended.returncode, ended.stderr + ended.stdout


def left(folder: Path) -> set[str]:
    """What lies hidden in a folder."""
    return {path.name for path in folder.glob(".*")}


def test_a_folder_that_may_not_be_written(journal: Path, closed: Callable[[Path], None]) -> None:
    build(journal, journal / "site")
    before = files(journal / "site")
    change(journal)
    closed(journal / "site")
    code, words = run(journal)
    assert (code, "site can't be written: Permission denied" in words) == (1, True), words
    assert files(journal / "site") == before
    assert left(journal) == set()


@pytest.mark.long
def test_a_folder_whose_parent_may_not_be_written_is_written_all_the_same(
    journal: Path, closed: Callable[[Path], None]
) -> None:
    build(journal, journal / "site")
    change(journal)
    closed(journal)
    code, words = run(journal)
    assert code == 0, words
    assert "More of it." in (journal / "site" / "batches" / "1.html").read_text("utf-8")
    code, words = run(journal, "--out", "other")
    assert (code, "other can't be written: Permission denied" in words) == (1, True), words


@pytest.mark.long
def test_a_file_too_large_for_the_machine(journal: Path) -> None:
    build(journal, journal / "site")
    before = files(journal / "site")
    change(journal)
    code, words = run(journal, largest=8192)
    assert (code, "site can't be written: File too large" in words) == (1, True), words
    assert files(journal / "site") == before
    assert build(journal, journal / "site").published
    build(journal, journal / "clean")
    assert files(journal / "site") == files(journal / "clean")


@pytest.mark.long
def test_a_full_disk_ends_a_build_and_no_watch(journal: Path, small_disk: Path) -> None:
    site = small_disk / "site"
    build(journal, site)
    before = files(site)
    fill = small_disk / "fill"
    with fill.open("wb") as file:
        space = os.statvfs(small_disk)
        file.write(bytes(space.f_bavail * space.f_frsize))
    change(journal)
    code, words = run(journal, "--out", str(site), cache=small_disk / "cache")
    assert (code, "site can't be written: No space left on device" in words) == (1, True), words
    assert files(site) == before
    live = Live(journal, site)
    for _ in range(2):
        assert {problem.code for state in built(live) for problem in state.errors} == {"output-unwritable"}
    fill.unlink()
    assert [state.errors for state in built(live)] == [(), ()]
    assert "More of it." in (site / "batches" / "1.html").read_text("utf-8")
    assert left(small_disk) == set()


def test_a_watch_outlives_a_folder_that_cant_be_written(journal: Path) -> None:
    live = Live(journal, journal / "site")
    (journal / "site").write_text("a file", "utf-8")
    assert [state.errors[0].code for state in built(live)] == ["output-not-ours"]
    (journal / "site").unlink()
    assert [state.errors for state in built(live)] == [()]


@pytest.mark.parametrize("out", ["entries/site", "..", "into/site", "themes/own"])
def test_the_journals_own_folders_are_no_place_for_a_site(out: str, journal: Path) -> None:
    (journal / "into").symlink_to("entries")
    (journal / "themes").mkdir()
    outcome = build(journal, journal / out)
    assert [problem.code for problem in outcome.problems] == ["output-not-ours"]
    assert [path.name for path in (journal / "entries").iterdir()] == ["01.md"]


def test_the_output_folder_may_be_a_link(journal: Path, tmp_path: Path) -> None:
    (tmp_path / "web").mkdir()
    (journal / "site").symlink_to(tmp_path / "web")
    assert build(journal, journal / "site").published
    change(journal)
    assert build(journal, journal / "site").published
    assert (journal / "site").is_symlink()
    assert "More of it." in (tmp_path / "web" / "batches" / "1.html").read_text("utf-8")


@pytest.mark.long
def test_links_that_go_in_circles_are_not_followed(journal: Path) -> None:
    entries = journal / "entries"
    (entries / "round").symlink_to(entries)
    (entries / "02.md").symlink_to("03.md")
    (entries / "03.md").symlink_to("02.md")
    (entries / "round.png").symlink_to("round.png")
    with (entries / "01.md").open("a", encoding="utf-8") as entry:
        entry.write("![round](round.png)\n")
    code, words = run(journal)
    assert code == 1
    assert [name in words for name in ("entries/01.md", "entries/02.md", "entries/03.md")] == [True] * 3, words


@pytest.mark.long
@pytest.mark.parametrize("broken", [Broken.REFUSED, Broken.SHOWN])
def test_a_picture_that_goes_while_the_site_is_made(
    broken: Broken, journal: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (journal / "entries" / "lost.png").write_bytes(PICTURE)
    with (journal / "entries" / "01.md").open("a", encoding="utf-8") as entry:
        entry.write("![The mash](lost.png)\n")
    assert build(journal, journal / "site").published
    before = files(journal / "site")
    with (journal / "entries" / "01.md").open("a", encoding="utf-8") as entry:
        entry.write("A word more, or there is nothing to make.\n")
    read, looked = Path.read_bytes, [0]

    def going(path: Path) -> bytes:
        # first it is asked whether anything has changed; it goes before it is published
        if path.name == "lost.png":
            looked[0] += 1
            if looked[0] == 2:
                path.unlink()
        return read(path)

    monkeypatch.setattr(Path, "read_bytes", going)
    outcome = build(journal, journal / "site", broken=broken)
    monkeypatch.undo()
    (problem,) = outcome.problems
    assert (problem.code, problem.file_name) == ("file-unreadable", "entries/lost.png")
    assert files(journal / "site") == before


@pytest.mark.long
def test_of_two_builds_at_once_one_is_refused_and_the_site_is_whole(journal: Path) -> None:
    # held until both have tried, so that neither is done before the other has begun
    (journal / "site").mkdir()
    lock = Lock(journal / "site" / LOCK)
    code, words = run(journal)
    assert (code, f"site is being written by process {os.getpid()} since" in words) == (1, True), words
    lock.release()
    environment = {**os.environ, "XDG_CACHE_HOME": str(journal.parent / "cache")}
    both = [
        subprocess.Popen([WORTBOOK, "build"], cwd=journal, env=environment, stderr=subprocess.PIPE, text=True)
        for _ in range(2)
    ]
    said = [(process.communicate()[1], process.returncode) for process in both]
    assert min(code for _, code in said) == 0, said
    # a lock is held a moment before its file says by whom: then it is “another process”
    assert all(code == 0 or "is being written by" in words for words, code in said), said
    build(journal, journal / "clean")
    assert files(journal / "site") == files(journal / "clean")


@pytest.mark.long
def test_a_cache_folder_that_may_not_be_written_is_done_without(journal: Path, closed: Callable[[Path], None]) -> None:
    cache = journal.parent / "another"
    cache.mkdir()
    closed(cache)
    code, words = run(journal, cache=cache)
    assert (code, "cache" in words) == (0, False), words
    assert list(cache.iterdir()) == []


@pytest.mark.long
def test_a_harmed_cache_file_is_not_spoken_of(journal: Path) -> None:
    cache = journal.parent / "another"
    with FileCache(journal, cache / "wortbook") as memory:
        memory.recall("a", lambda: 1)
    (database,) = cache.rglob("*.db")
    database.write_bytes(b"no database at all, but a text of some length")
    code, words = run(journal, cache=cache)
    assert (code, "cache" in words) == (0, False), words
    assert database.read_bytes().startswith(b"SQLite format 3")

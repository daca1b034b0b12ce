"""entries/ as it stood at a revision in version control: read as it is kept, and nothing of the repository is run.

A folder may come with settings of its own for git, and with attributes of its files: filters, hooks and encodings there would be a
stranger's commands. Only what names and hands out objects is asked, and that without them.
"""

from __future__ import annotations

import os
import posixpath
import subprocess
from collections.abc import Iterable, Iterator
from contextlib import suppress
from pathlib import Path

from journal.frozen import dataclass
from journal.publishing.refused import Refused
from journal.reading.files import ENTRIES

#: Larger files are no part of what a journal reads, logs included.
_LARGEST = 50 * 1000 * 1000
_LINK, _FILES = "120000", frozenset({"100644", "100755"})
#: A link that leads to a link, and so on: so far it is followed.
_LINKS = 8
#: Nothing is fetched, asked for, run or written to.
_QUIETLY = {
    "GIT_ATTR_NOSYSTEM": "1",
    "GIT_LITERAL_PATHSPECS": "1",
    "GIT_NO_LAZY_FETCH": "1",
    "GIT_NO_REPLACE_OBJECTS": "1",
    "GIT_OPTIONAL_LOCKS": "0",
    "GIT_TERMINAL_PROMPT": "0",
    "LC_ALL": "C",
}
_WITHOUT = (
    "core.fsmonitor=false",
    f"core.hooksPath={os.devnull}",
    f"core.attributesFile={os.devnull}",
    "protocol.allow=never",
)


@dataclass(frozen=True)
class Snapshot:
    """Every file of entries/ at a revision, by its name from the journal's root."""

    files: dict[str, bytes]

    def put_into(self, folder: Path) -> None:
        """Write it into a folder of ours. Raises OSError."""
        (folder / ENTRIES).mkdir(parents=True, exist_ok=True)
        for name, content in self.files.items():
            place = folder / name
            # a tree made by hand may hold a name both as a file and as a folder
            with suppress(FileExistsError, NotADirectoryError, IsADirectoryError):
                place.parent.mkdir(parents=True, exist_ok=True)
                place.write_bytes(content)


@dataclass(frozen=True)
class _Kept:
    """One file of a revision: whether it is a link, and the object that holds its content."""

    link: bool
    object: str


def entries_at(root: Path, revision: str) -> Snapshot | Refused:
    """entries/ as it stood at a revision, or why it can't be had."""
    try:
        where = _git(root, "rev-parse", "--show-prefix")
        if where.returncode:
            return _without_git(root, where.stderr)
        tree = _tree_of(root, revision)
        if tree is None:
            return Refused(
                f"git knows no revision “{revision}” here. "
                "Write HEAD for the last commit, HEAD~1 for the one before, or a commit, tag or branch that `git log` shows."
            )
        prefix = os.fsdecode(where.stdout.removesuffix(b"\n"))
        kept = _listed(root, tree, prefix)
        if not kept:
            return Refused(
                f"git has no {ENTRIES}/ at “{revision}”. Name a revision since the first commit of {ENTRIES}/."
            )
        return _read(root, kept)
    except OSError as error:
        return Refused(f"git can't be run: {error.strerror}.", misused=False)


def _without_git(root: Path, said: bytes) -> Refused:
    """Why git answers nothing here: in its own words, but for the plainest case."""
    words = said.decode("utf-8", "replace").strip()
    if "not a git repository" in words:
        return Refused(f"{root} is not under git, so it has no revisions; `git init` begins that.", misused=False)
    return Refused(f"git says: {words or 'nothing'}", misused=False)


def _tree_of(root: Path, revision: str) -> str | None:
    if revision.startswith("-") or "\0" in revision:
        return None
    found = _git(root, "rev-parse", "--verify", "--quiet", "--end-of-options", f"{revision}^{{tree}}")
    lines = found.stdout.decode("ascii", "replace").split()
    # git repeats the option itself where it is older
    return lines[-1] if not found.returncode and lines else None


def _listed(root: Path, tree: str, prefix: str) -> dict[str, _Kept]:
    """What a tree holds under entries/, by its name from the journal's root."""
    found = _git(root, "ls-tree", "-r", "-z", "-l", "--full-tree", tree, "--", f"{prefix}{ENTRIES}")
    kept = {}
    for line in found.stdout.split(b"\0"):
        about, _, path = line.partition(b"\t")
        name = os.fsdecode(path)
        if len(fields := about.decode("ascii", "replace").split()) == 4 and name.startswith(f"{prefix}{ENTRIES}/"):
            mode, _, held, size = fields
            plain = all(part not in {"", ".", ".."} for part in name.split("/"))
            if plain and mode in {_LINK, *_FILES} and size.isdigit() and int(size) <= _LARGEST:
                kept[name.removeprefix(prefix)] = _Kept(mode == _LINK, held)
    return kept


def _read(root: Path, kept: dict[str, _Kept]) -> Snapshot:
    contents = dict(_contents(root, dict.fromkeys(each.object for each in kept.values())))
    links = {
        name: posixpath.normpath(posixpath.join(posixpath.dirname(name), os.fsdecode(contents.get(each.object, b""))))
        for name, each in kept.items()
        if each.link
    }
    files = {}
    for name in kept:
        at = name
        for _ in range(_LINKS):
            at = links.get(at, at)
        # a link out of entries/, to a folder or to nothing is none that a journal reads
        if at in kept and at not in links and kept[at].object in contents:
            files[name] = contents[kept[at].object]
    return Snapshot(files)


def _contents(root: Path, objects: Iterable[str]) -> Iterator[tuple[str, bytes]]:
    """The bytes of objects as they are kept."""
    asked = list(objects)
    answer = memoryview(_git(root, "cat-file", "--batch", given="".join(f"{each}\n" for each in asked).encode()).stdout)
    at = 0
    for each in asked:
        head, _, _ = bytes(answer[at : at + 200]).partition(b"\n")
        at += len(head) + 1
        fields = head.split()
        if len(fields) == 3 and fields[2].isdigit():
            size = int(fields[2])
            yield each, bytes(answer[at : at + size])
            at += size + 1


def _git(root: Path, *arguments: str, given: bytes | None = None) -> subprocess.CompletedProcess[bytes]:
    """The brewer's own git, in the journal's folder."""
    settings = [part for setting in _WITHOUT for part in ("-c", setting)]
    return subprocess.run(  # noqa: S603
        ["git", "--no-pager", *settings, "-C", str(root), *arguments],  # noqa: S607
        input=given,
        stdin=None if given is not None else subprocess.DEVNULL,
        capture_output=True,
        check=False,
        env={**os.environ, **_QUIETLY},
    )

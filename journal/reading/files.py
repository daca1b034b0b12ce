"""From the file system to sources: which files are entries, and what keeps one from being read."""

from __future__ import annotations

import codecs
import os
import stat
from collections.abc import Iterator
from pathlib import Path

from journal.problems import Place, Problem, Source, Span

#: An entry larger than this is refused by name, unread.
LARGEST = 1024 * 1024
ENTRIES = "entries"


def entry_files(root: Path) -> Iterator[Path]:
    """Every `*.md` under entries/ in order of name.

    Hidden names and names with `_` first are passed over, links to folders too. A folder that can't be listed comes last,
    so that its entries are not lost in silence.
    """
    unlisted: list[Path] = []
    for folder, folders, files in os.walk(root / ENTRIES, onerror=lambda error: unlisted.append(Path(error.filename))):
        folders.sort()
        named_like_entries = [name for name in folders if name.endswith(".md") and name[0] not in "._"]
        folders[:] = [name for name in folders if name[0] not in "._" and not name.endswith(".md")]
        for name in sorted(files + named_like_entries):
            if name.endswith(".md") and name[0] not in "._":
                yield Path(folder) / name
    yield from unlisted


def name_of_file(root: Path, path: Path) -> str:
    """A path as the journal names it: from its root, with forward slashes."""
    try:
        return path.relative_to(root).as_posix()
    except ValueError:
        return path.as_posix()


def is_file(path: Path) -> bool:
    """Whether a file lies at a path; none does where no file can be called so."""
    try:
        return path.is_file()
    except (OSError, ValueError):
        return False


def _is_plainly_inside(root: Path, path: Path) -> bool:
    """Whether something lies at a path under entries/ and there is no link on the way from there.

    Every reference of a thousand entries is looked at with each save: as texts, for paths take several times as long.
    """
    place, home = os.fspath(path), os.path.join(root, ENTRIES)  # noqa: PTH118
    parts = place[len(home) :].split(os.sep)  # noqa: PTH206
    if not place.startswith(home) or parts[0] or os.pardir in parts:
        return False
    try:
        for part in parts[1:]:
            home = f"{home}{os.sep}{part}"
            if stat.S_ISLNK(os.lstat(home).st_mode):
                return False
    except (OSError, ValueError):
        return False
    return True


def leads_outside(root: Path, path: Path) -> bool:
    """Whether a path under entries/ is, through links, somewhere else or nowhere."""
    if _is_plainly_inside(root, path):
        return False
    try:
        home, place = os.path.realpath(root / ENTRIES, strict=True), os.path.realpath(path, strict=True)
    except (OSError, ValueError):
        return True
    return not f"{place}{os.sep}".startswith(f"{home}{os.sep}")


def _stat(path: Path) -> os.stat_result | None:
    try:
        return os.stat(path)  # noqa: PTH116
    except (OSError, ValueError):
        return None


def read_source(root: Path, path: Path) -> tuple[Source | None, list[Problem]]:
    """A file's text with its name; None and the reason where it can't be read as text.

    A byte order mark is dropped and CRLF becomes LF, so that places count what an editor shows.
    """
    name = name_of_file(root, path)

    def refuse(code: str, message: str, hint: str) -> tuple[None, list[Problem]]:
        return None, [Problem(code, message, hint, file=name)]

    # with every save all entries are looked at: once, and as texts
    found = _stat(path)
    if os.path.islink(path) and leads_outside(root, path):  # noqa: PTH114
        return refuse(
            "file-outside",
            f"{name} is a link that leads out of entries/ or to nothing",
            "Copy the file into entries/ instead.",
        )
    if found is not None and stat.S_ISDIR(found.st_mode) and path.suffix != ".md":
        return refuse("file-unreadable", f"the folder {name} can't be listed", "Check the folder's permissions.")
    if found is None or not stat.S_ISREG(found.st_mode):
        hint = "Rename it so that it does not end in .md, or move it away." if path.suffix == ".md" else "Move it away."
        return refuse("file-not-a-file", f"{name} is not a file", hint)
    try:
        if found.st_size > LARGEST:
            size = found.st_size / LARGEST
            return refuse(
                "file-too-large",
                f"{name} is {size:.1f} MiB; an entry has 1 MiB at most",
                "Move logs and pictures beside the entry.",
            )
        raw = path.read_bytes()
    except OSError as error:
        return refuse("file-unreadable", f"{name} can't be read: {error.strerror}", "Check the file's permissions.")
    return _text_of_entry(name, raw)


def _text_of_entry(name: str, raw: bytes) -> tuple[Source | None, list[Problem]]:
    source, problems = decode(name, raw)
    if source is not None and not source.text.strip():
        return None, [Problem("file-empty", f"{name} is empty", "Write the entry, or delete the file.", file=name)]
    return source, problems


def decode(name: str, raw: bytes) -> tuple[Source | None, list[Problem]]:
    """A file's bytes as text, as `read_source` has it; None and the reason where they are none."""
    if b"\0" in raw:
        hint = (
            "Save it as plain text, UTF-8." if raw[:2] in {b"\xff\xfe", b"\xfe\xff"} else "Only text files belong here."
        )
        return None, [Problem("file-not-text", f"{name} is not a text file", hint, file=name)]
    raw = raw.removeprefix(codecs.BOM_UTF8)
    try:
        text = raw.decode("utf-8")
    except UnicodeDecodeError as error:
        before = raw[: error.start].decode("utf-8").replace("\r\n", "\n")
        source = Source(name, before + raw[error.start :].decode("utf-8", errors="replace").replace("\r\n", "\n"))
        place = Place(source, Span(len(before), len(before) + 1))
        message = f"the byte {raw[error.start]:#04x} is no UTF-8 text"
        return None, [Problem("file-not-text", message, "Save the file with the encoding UTF-8.", place)]
    return Source(name, text.replace("\r\n", "\n")), []

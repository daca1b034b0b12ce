"""What the builds wrote into an output folder: the only names that they take for their own.

The manifest lies in the folder itself, so whoever hands on a journal may have written it. A name in it that leads elsewhere is no name,
and a file that is not as a build left it is not taken away.
"""

from __future__ import annotations

import hashlib
import json
import os
import stat
from collections.abc import Container, Iterable
from dataclasses import field
from pathlib import Path
from typing import Any

from journal.frozen import dataclass

MANIFEST = ".wortbook.json"
#: New files, until they come into their places.
STAGING = ".wortbook-new"
LOCK = ".wortbook.lock"
#: In a stand-in for the folder, and nowhere else.
MARK = ".wortbook-stand-in"
#: What builds may have left at the top of the folder besides the site.
HIDDEN = frozenset({MANIFEST, STAGING, LOCK, MARK})


def digest(content: bytes) -> str:
    """What tells a file's content from any other."""
    return hashlib.sha256(content).hexdigest()


def is_plain(name: str) -> bool:
    """Whether a build may have given this name: below the folder, and at its top not hidden."""
    parts = name.split("/")
    return not name.startswith(".") and "\0" not in name and not any(part in {"", ".", ".."} for part in parts)


def folders_of(names: Iterable[str]) -> set[str]:
    """Every folder on the way to a name."""
    return {"/".join(parts[:depth]) for parts in (name.split("/") for name in names) for depth in range(1, len(parts))}


def is_led_elsewhere(folder: Path, name: str) -> bool:
    """Whether the way from the folder to a name goes through a link, or through something that is no folder."""
    # looked at for every page at every save: as texts, for paths take several times as long
    place = os.fspath(folder)
    for part in name.split("/")[:-1]:
        place = f"{place}/{part}"
        try:
            if not stat.S_ISDIR(os.lstat(place).st_mode):
                return True
        except FileNotFoundError:
            return False
    return False


@dataclass(frozen=True)
class Manifest:
    """The files of a site by name: the digest of each, its bytes, and for some the key of what it was made from.

    `whole` is the key of all that the site was made from, empty where something of it should be made again.
    """

    files: dict[str, str] = field(default_factory=dict)
    sizes: dict[str, int] = field(default_factory=dict)
    keys: dict[str, str] = field(default_factory=dict)
    whole: str = ""

    def has(self, folder: Path, name: str) -> bool:
        """Whether a file lies in the folder as it was written, as far as a look at its size tells."""
        if name not in self.files or is_led_elsewhere(folder, name):
            return False
        try:
            found = os.lstat(f"{folder}/{name}")
        except OSError:
            return False
        return stat.S_ISREG(found.st_mode) and found.st_size == self.sizes[name]

    def as_bytes(self, moving: dict[str, str] | None = None) -> bytes:
        """As it is kept; `moving` are the digests of files that are about to come into their places."""
        parts: dict[str, dict[str, Any]] = {"files": self.files, "sizes": self.sizes, "keys": self.keys}
        if moving:
            parts["moving"] = moving
        ordered = {part: dict(sorted(values.items())) for part, values in parts.items()}
        # a line each; with `indent` the library would go through all of it in Python
        return json.dumps({"format": 1, "whole": self.whole, **ordered}, separators=(",\n", ": ")).encode()


def read_manifest(folder: Path) -> Manifest | None:
    """The manifest of a folder; None where there is none or it can't be read. Raises nothing.

    Of files that a build was moving when it was ended, it holds those that are one thing or the other, as they are now.
    """
    try:
        kept = json.loads((folder / MANIFEST).read_text("utf-8"))
        files = _texts(kept.get("files", {}))
        sizes, keys = (_texts(kept.get(part, {}), files) for part in ("sizes", "keys"))
        moving = _texts(kept.get("moving", {}))
        whole = "" if moving else str(kept.get("whole", ""))
        held = {name: int(size) for name, size in sizes.items()}
    except (OSError, ValueError, AttributeError, RecursionError):
        return None
    found = {name: held_digest for name, held_digest in files.items() if name in held and name not in moving}
    for name, new in moving.items():
        content = None if is_led_elsewhere(folder, name) else _content(folder / name)
        if content is not None and digest(content) in {new, files.get(name)}:
            found[name], held[name] = digest(content), len(content)
    keys = {name: key for name, key in keys.items() if name in found and name not in moving}
    return Manifest(found, {name: held[name] for name in found}, keys, whole)


def _texts(values: Any, known: Container[str] = ()) -> dict[str, str]:
    """Texts by name: names that are `known` to be plain, or are that."""
    return {str(name): str(value) for name, value in values.items() if name in known or is_plain(str(name))}


def _content(path: Path) -> bytes | None:
    """The content of a regular file, None of anything else."""
    try:
        return path.read_bytes() if stat.S_ISREG(path.lstat().st_mode) else None
    except OSError:
        return None


def is_as_written(folder: Path, name: str, written: str) -> bool:
    """Whether a file is still byte for byte what a build wrote."""
    content = None if is_led_elsewhere(folder, name) else _content(folder / name)
    return content is not None and digest(content) == written

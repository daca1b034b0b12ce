"""The output folder: ours or refused, written file by file, and never more deleted than a build wrote.

A build puts every new file into a folder of its own inside the output folder first; only when all are there does each
take its place, the manifest last. So a build that fails leaves the old site as it was.
"""

from __future__ import annotations

import hashlib
import json
import shutil
from pathlib import Path

from journal.problems import Problem

MANIFEST = ".wortbook.json"
STAGING = ".wortbook-new"
#: What may lie in an empty output folder without making it somebody else's: what version control and web hosts put
#: there.
_HARMLESS = frozenset({".gitignore", ".gitkeep", ".nojekyll", "CNAME", MANIFEST, STAGING})


class Output:
    """One output folder during one build."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.before: dict[str, str] = {}
        self.now: dict[str, str] = {}
        self.changed_files: list[str] = []
        self._keys_before: dict[str, str] = {}
        self._keys: dict[str, str] = {}

    def refusal(self) -> Problem | None:
        """Why nothing may be written here, None if it may."""
        shown = str(self.folder)
        if self.folder.exists() and not self.folder.is_dir():
            return Problem("output-not-ours", f"{shown} is a file", "Name a folder with --out.", file=shown)
        try:
            held = {path.name for path in self.folder.iterdir()} if self.folder.is_dir() else set()
            if not (self.folder / MANIFEST).is_file() and held - _HARMLESS:
                message = f"{shown} holds files that no build of a journal wrote"
                hint = "Name an empty folder with --out, or empty this one yourself if nothing in it is wanted."
                return Problem("output-not-ours", message, hint, file=shown)
            self._read_manifest()
            self.folder.mkdir(parents=True, exist_ok=True)
            shutil.rmtree(self.folder / STAGING, ignore_errors=True)
            (self.folder / STAGING).mkdir()
        except OSError as error:
            return self.unwritable(error)
        return None

    def unwritable(self, error: OSError) -> Problem:
        """The problem behind a failure of the machine."""
        shown = str(self.folder)
        reason = error.strerror or str(error)
        hint = "Check the folder's permissions and the space left, or name another folder with --out."
        return Problem("output-unwritable", f"{shown} can't be written: {reason}", hint, file=shown)

    def _read_manifest(self) -> None:
        try:
            manifest = json.loads((self.folder / MANIFEST).read_text("utf-8"))
            self.before = {str(name): str(digest) for name, digest in manifest["files"].items()}
            self._keys_before = {str(name): str(key) for name, key in manifest.get("keys", {}).items()}
        except (OSError, ValueError, KeyError, AttributeError, TypeError):
            self.before, self._keys_before = {}, {}

    def keep(self, name: str, key: str) -> bool:
        """Leave a file of the last build in the new site as it is, if it was made for the same key; says whether it was."""
        if self._keys_before.get(name) != key or name not in self.before or not (self.folder / name).is_file():
            return False
        self.now[name], self._keys[name] = self.before[name], key
        return True

    def keep_all(self, key: str) -> bool:
        """Leave every file that the last build made for a key in the new site; says whether there were some and all are there."""
        names = [name for name, made_for in self._keys_before.items() if made_for == key]
        return bool(names) and all((self.folder / name).is_file() and self.keep(name, key) for name in names)

    def hold(self, name: str) -> bool:
        """Leave a file of the last build in the new site as it is, whatever it was made for; says whether there is one."""
        if name not in self.before or not (self.folder / name).is_file():
            return False
        self.now[name] = self.before[name]
        if name in self._keys_before:
            self._keys[name] = self._keys_before[name]
        return True

    def hold_rest(self) -> None:
        """Leave every file of the last build that has not been spoken of as it is."""
        for name in set(self.before) - set(self.now):
            self.hold(name)

    def put(self, name: str, content: bytes, key: str = "") -> None:
        """Add a file to the new site; unchanged files keep their place and their date.

        `key` is a digest of all that the file hangs on, by which the next build may `keep` it.
        """
        if key:
            self._keys[name] = key
        digest = hashlib.sha256(content).hexdigest()
        self.now[name] = digest
        if self.before.get(name) == digest and (self.folder / name).is_file():
            return
        self.changed_files.append(name)
        staged = self.folder / STAGING / name
        staged.parent.mkdir(parents=True, exist_ok=True)
        staged.write_bytes(content)

    def commit(self) -> None:
        """Let the new files take their places, take away those that only the last build wrote, and note what is there."""
        staging = self.folder / STAGING
        for name in sorted(self.now):
            if (staging / name).is_file():
                place = self._inside(name)
                place.parent.mkdir(parents=True, exist_ok=True)
                (staging / name).replace(place)
        for name in sorted(set(self.before) - set(self.now)):
            self._remove(name)
        manifest = {"format": 1, "files": dict(sorted(self.now.items())), "keys": dict(sorted(self._keys.items()))}
        (staging / MANIFEST).write_text(json.dumps(manifest, indent=0), "utf-8")
        (staging / MANIFEST).replace(self.folder / MANIFEST)
        shutil.rmtree(staging, ignore_errors=True)

    def abandon(self) -> None:
        """Leave the old site as it is."""
        shutil.rmtree(self.folder / STAGING, ignore_errors=True)

    def _inside(self, name: str) -> Path:
        place = self.folder / name
        if not place.parent.resolve().is_relative_to(self.folder.resolve()):
            raise OSError(None, f"{name} would be written outside the folder, through a link")
        return place

    def _remove(self, name: str) -> None:
        place = self.folder / name
        if not place.parent.resolve().is_relative_to(self.folder.resolve()):
            return
        place.unlink(missing_ok=True)
        for parent in place.parents:
            if parent == self.folder or any(parent.iterdir()):
                break
            parent.rmdir()

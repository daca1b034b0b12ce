"""A brewer's own theme, the folder themes/NAME/ beside entries/: read whole, so that one build sees one state of it."""

from __future__ import annotations

import os
import posixpath
import re
from collections.abc import Iterator
from functools import cached_property
from pathlib import Path

from journal.frozen import dataclass
from journal.problems import Problem, Source
from journal.reading.files import decode

#: What a template may be called: its name becomes part of compiled code, and a name was a way out of a sandbox once.
_PLAIN_NAME = re.compile(r"[A-Za-z0-9_-][A-Za-z0-9_.-]*(/[A-Za-z0-9_-][A-Za-z0-9_.-]*)*", re.ASCII)
#: Beside entries/.
THEMES = "themes"
SETTINGS = "theme.yaml"
TEMPLATE = ".j2"
#: A file larger than this is no part of a look; it is refused unread.
LARGEST = 8 * 1024 * 1024


@dataclass(frozen=True)
class OwnStyle:
    """A style sheet of a brewer's: its path from the site's root, and the medium it is for."""

    path: str
    medium: str


@dataclass(frozen=True)
class OwnTheme:
    """Every file of a brewer's theme: `templates` by name, the `files` that go to the site by their path in the folder."""

    name: str
    templates: dict[str, Source]
    files: dict[str, bytes]

    @cached_property
    def contents(self) -> list[tuple[str, bytes]]:
        """Every file with its name, in order."""
        texts = {name: source.text.encode("utf-8", "surrogatepass") for name, source in self.templates.items()}
        return sorted({**texts, **self.files}.items())

    @property
    def assets(self) -> dict[str, bytes]:
        """The files that go to the site, by their path there."""
        return {_path_of(name): content for name, content in self.files.items()}

    @property
    def styles(self) -> tuple[OwnStyle, ...]:
        """Style sheets in order of name: print.css is for paper, every other for the screen, as in the built-in themes."""
        sheets = [name for name in sorted(self.files) if name.endswith(".css")]
        return tuple(
            OwnStyle(_path_of(name), "print" if posixpath.basename(name) == "print.css" else "screen")
            for name in sheets
        )

    def source_at(self, filename: str) -> Source | None:
        """The template of a file's name from the journal's root."""
        return next((source for source in self.templates.values() if source.name == filename), None)


def _path_of(name: str) -> str:
    """Where a file stands in the site: in the same folder for all, so that a style sheet finds its fonts; a style sheet under
    another name, because it is added to the built-in ones and replaces none."""
    folder, base = posixpath.split(name)
    return posixpath.join("assets", folder, f"own-{base}" if base.endswith(".css") else base)


def own_themes(root: Path) -> list[str]:
    """The names of a brewer's themes: folders in themes/ that hold a theme.yaml."""
    try:
        return sorted(folder.name for folder in (root / THEMES).iterdir() if (folder / SETTINGS).is_file())
    except OSError:
        return []


def read_own(root: Path, name: str) -> tuple[OwnTheme, Source | None, list[Problem]]:
    """A brewer's theme, its theme.yaml, and what of it can't be read."""
    folder = root / THEMES / name
    templates: dict[str, Source] = {}
    files: dict[str, bytes] = {}
    settings: Source | None = None
    problems: list[Problem] = []
    for path in _walk(folder, problems, f"{THEMES}/{name}"):
        inside = path.relative_to(folder).as_posix()
        shown = f"{THEMES}/{name}/{inside}"
        content = _read(folder, path, shown, problems)
        if content is None:
            continue
        if path.suffix != TEMPLATE and inside != SETTINGS:
            files[inside] = content
            continue
        if not _PLAIN_NAME.fullmatch(inside):
            hint = "Name it with letters, digits, hyphens, underscores and dots."
            problems.append(_unreadable(shown, "its name has other signs than plain ones", hint))
            continue
        source, refusals = decode(shown, content)
        if source is None:
            problems += [_unreadable(shown, problem.message, problem.hint) for problem in refusals]
        elif inside == SETTINGS:
            settings = source
        else:
            templates[inside] = source
    return OwnTheme(name, templates, files), settings, problems


def _walk(folder: Path, problems: list[Problem], shown: str) -> Iterator[Path]:
    """Every file of a folder in order of name; hidden ones are passed over, links to folders too."""

    def unlisted(error: OSError) -> None:
        where = posixpath.join(shown, Path(error.filename).relative_to(folder).as_posix())
        problems.append(_unreadable(where, f"it can't be listed: {error.strerror}", "Check the folder's permissions."))

    for at, folders, names in os.walk(folder, onerror=unlisted):
        folders[:] = sorted(name for name in folders if not name.startswith("."))
        yield from (Path(at) / name for name in sorted(names) if not name.startswith("."))


def _read(folder: Path, path: Path, shown: str, problems: list[Problem]) -> bytes | None:
    def refuse(why: str, hint: str) -> None:
        problems.append(_unreadable(shown, why, hint))

    try:
        if not path.resolve(strict=True).is_relative_to(folder.resolve()):
            refuse("it is a link that leads out of the theme's folder", "Copy the file into the folder instead.")
        elif not path.is_file():
            refuse("it is not a file", "Move it away.")
        elif path.stat().st_size > LARGEST:
            refuse("it is larger than 8 MiB", "Move it away; pictures of a batch stand beside its entry.")
        else:
            return path.read_bytes()
    except (OSError, RuntimeError) as error:
        refuse(getattr(error, "strerror", None) or str(error), "Check the file's permissions.")
    return None


def _unreadable(shown: str, why: str, hint: str) -> Problem:
    return Problem("template-unreadable", f"{shown} can't be read: {why}", hint, file=shown)

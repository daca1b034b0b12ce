"""Where the themes lie, and the files they bring to the site."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from pathlib import Path

#: What every theme shares: the structure of the pages.
BONES = "bones"
TEMPLATE = ".j2"


def themes_folder() -> Path:
    """The folder of themes: in the installed package, or beside it in a checkout."""
    package = Path(__file__).resolve().parent.parent
    inside = package / "themes"
    return inside if inside.is_dir() else package.parent / "themes"


def template_folders(theme: str) -> list[Path]:
    """Where templates are looked for, the theme's own first; raises ValueError for a theme that is not there."""
    folders = {folder.name: folder for folder in themes_folder().iterdir() if folder.is_dir()}
    bones = folders.pop(BONES)
    if theme not in folders:
        raise ValueError(f"there is no theme {theme!r}")
    return [folders[theme], bones]


def _files(folder: Path) -> Iterator[Path]:
    return (path for path in sorted(folder.rglob("*")) if path.is_file() and not path.name.startswith("."))


def assets(theme: str) -> dict[str, bytes]:
    """Style sheets and scripts by path in the site; a theme's own file stands in for the bones' of the same name."""
    found = {
        f"assets/{path.relative_to(folder).as_posix()}": path.read_bytes()
        for folder in reversed(template_folders(theme))
        for path in _files(folder)
        if path.suffix != TEMPLATE
    }
    return dict(sorted(found.items()))


def theme_digest(theme: str) -> str:
    """A digest of all that decides how a model is rendered: every file of the theme and of the bones."""
    digest = hashlib.sha256()
    for folder in template_folders(theme):
        for path in _files(folder):
            for part in (path.relative_to(folder).as_posix().encode(), path.read_bytes()):
                digest.update(len(part).to_bytes(8, "big"))
                digest.update(part)
    return digest.hexdigest()
